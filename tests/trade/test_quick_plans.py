"""Money by a quick plan: the plan's own cents reach the answer, and where none can be had it says why."""

from __future__ import annotations

from pathlib import Path

import pytest

from waney.figures.scenarios import Scenarios
from waney.sawing.bench import Bench
from waney.sawing.search import plan_through
from waney.sawing.sheets.from_sheets import ready
from waney.trade.crosscut import compared
from waney.trade.fetch import Costs, Reply, worth_fetching
from waney.trade.reading import Reading, sheet_of

N = Scenarios(seed=5, n=16)
MILL = (Path(__file__).parents[2] / "docs" / "examples" / "mill-woodshed.toml").read_text(encoding="utf-8")
WANTS = """format = "waney-wants/1"
units = "in"
currency = "USD"
least_width = 4
[first]
name = "live-edge board"
thickness = "8/4"
edges = "live"
least_length = "3 ft"
price = 11.00
per = "board foot"
[rest]
thickness = "4/4"
edges = "edged"
least_length = "3 ft"
price = 6.00
per = "board foot"
[search]
patterns = ["through"]
rolls_every = 180
"""
SHEETS = {"mill": MILL, "wants": WANTS}
WALNUT = Reading("", "black walnut", girth_m=1.6, small_end_m=0.42, length_m=3.0)


@pytest.fixture(scope="module")
def bench() -> Bench:
    return ready({**SHEETS, "log": sheet_of(WALNUT, WALNUT.length.likely)}).bench


def test_the_likely_worth_is_the_plans_own_cents(bench: Bench) -> None:
    offer = worth_fetching(WALNUT, Costs("USD", loading_cents=5000), 20_000, N, SHEETS)
    cents = plan_through(bench).cents
    assert offer.worth_cents is not None and offer.worth_cents.likely == cents
    assert offer.money_cents is not None and offer.money_cents.likely == cents - 5000 - 20_000
    assert offer.reply is Reply.FETCH and "what a board foot earns" not in offer.missing
    assert offer.usable_m3 is not None and 0.0 < offer.usable_m3.likely < offer.wood_m3.likely


def test_without_prices_in_the_wants_there_is_wood_and_no_money() -> None:
    free = "\n".join(line for line in WANTS.splitlines() if not line.startswith(("price", "per", "currency")))
    offer = worth_fetching(WALNUT, Costs(), None, N, {**SHEETS, "wants": free})
    assert offer.reply is None and offer.usable_m3 is not None and "what a board foot earns" in offer.missing


def test_a_wood_that_nobody_named_has_no_plan_and_says_so() -> None:
    offer = worth_fetching(Reading(girth_m=1.6, length_m=3.0), Costs(), None, N, SHEETS)
    assert offer.usable_m3 is None and any(line.startswith("No quick plan") for line in offer.remarks)


def test_a_stick_that_gives_nothing_wanted_is_worth_nothing() -> None:
    offer = worth_fetching(
        Reading("", "black walnut", small_end_m=0.05, length_m=3.0), Costs("USD", loading_cents=5000), 100, N, SHEETS
    )
    assert offer.worth_cents is not None and offer.worth_cents.likely == 0.0 and offer.reply is Reply.LEAVE


def test_ways_are_compared_in_the_money_of_their_plans() -> None:
    found = compared(sheet_of(WALNUT, 3.0), ((2.9,), (1.4, 1.4)), N, SHEETS)
    assert found.in_money and "$" in found.answer
    for way in found.ways:
        each = [log.cents.likely for log in way.logs if log.cents is not None]
        assert way.cents is not None and len(each) == len(way.logs) and way.cents.likely == sum(each)
