"""The summary: sums that add up, what is not known said to be, sizes rounded the way a shop needs them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from waney.figures.estimate import Basis, Estimate, Ground
from waney.papers.cautions import cautions
from waney.papers.columns import WIDE, aligned, paragraph
from waney.papers.outcome_words import outcome_words, surer_words
from waney.papers.summary import MEANS, Offer, compared, summary
from waney.papers.words import INCHES, METRIC
from waney.pieces.ring_samples import Shares
from waney.prices.product import Edges, Per, PriceRule, Product, WidthRule
from waney.prices.rules import PriceRules, Ranking
from waney.sawing.facts.piece_facts import PieceFacts
from waney.sawing.facts.plan_facts import PlanFacts
from waney.sawing.outcome.plan_outcome import Outcome, PlanOutcome, Stays
from waney.sawing.wants import Wants

from .conftest import INCH, Case

GUESS = Basis(Ground.DEFAULT, "")
PRICE = PriceRule(Per.BOARD_FOOT, 450.0)


def wants(ranking: Ranking = Ranking.MONEY) -> Wants:
    slab = Product("slab", 0.0445, PRICE, Edges.LIVE, (3.0,), 0.3)
    board = Product("4/4 board", 0.0206, PRICE, Edges.EDGED, (3.0,), 0.1)
    return Wants((slab, board), PriceRules(ranking, "USD"), {}, 0.08, 0.1)


@pytest.fixture
def text(through: Case, half_turn: Case) -> str:
    outcome = PlanOutcome(
        Outcome(42000, 60100, 70000), Outcome(0.4, 0.45, 0.52), Outcome(170.2, 190.0, 215.0), (Stays("W12-3", 0.55),), 0.12, 256
    )
    facts = PlanFacts(112, 212.4, 0.5, warnings=("Metal is suspected.",))
    piece = PieceFacts(
        widths_m={WidthRule.NARROW_FACE: 17.99 * INCH, WidthRule.WIDEST: 19.5 * INCH},
        green_weight=Estimate(80, 70, 90, GUESS),
        rings_a=Shares(0.62, 0.2, 0.18),
        cup_m=1.01 * INCH / 16,
        holds=("pith",),
    )
    return summary(
        [Offer("plan A", replace(through.plan, outcome=outcome), facts, {"W12-3": piece}), Offer("plan B", half_turn.plan)],
        wants(),
        INCHES,
    )


def money(line: str) -> int:
    sign, amount = re.findall(r"(-?)\$([\d.]+)", line)[-1]
    return round(float(amount) * 100) * (-1 if sign else 1)


def test_the_terms_add_up_to_the_cent(text: str, through: Case) -> None:
    block = text.split("what the worth is made of")[1].split("Searched")[0]
    amounts = [money(line) for line in block.splitlines() if "$" in line]
    assert sum(amounts[:-1]) == amounts[-1] == through.plan.cents


def test_each_piece_s_terms_add_up_to_its_worth(text: str) -> None:
    lines = re.sub(r"\n\s+(?=\S)", " ", text.split("pieces in the order")[1])
    worths = re.findall(r"worth (-?\$[\d.]+): (.*?); counted", lines)
    assert len(worths) == 9
    for whole, terms in worths:
        assert sum(money(term) for term in terms.split(", ")) == money(whole)


def test_plans_stand_side_by_side_and_unknowns_are_said(text: str) -> None:
    rows = {line[:36].strip(): line[36:].split("  ") for line in text.splitlines()[3:26]}
    cells = {what: [cell.strip() for cell in row if cell.strip()] for what, row in rows.items()}
    assert cells["worth as planned"] == ["$657.00", "$503.00"]
    assert cells["worth, bad (1 log in 20 gives less)"] == ["$420.00", "not known"]
    assert cells["worth, likely (half give less)"] == ["$601.00", "not known"]
    assert cells["board feet, bad / likely / good"] == ["170 / 190 / 215", "not known"]
    assert cells["litres of dry wood"] == ["400 / 450 / 520", "not known"]
    assert cells["time at the mill"] == ["1 h 52 min", "not known"]
    assert cells["passes / turns / edgings"] == ["10 / 0 / 0", "8 / 1 / 0"]
    assert cells["4/4 board"] == ["2", "0"]


def test_side_by_side_without_worth_every_row_but_those_of_money_stands(through: Case, half_turn: Case) -> None:
    outcome = PlanOutcome(Outcome(1, 2, 3), Outcome(0, 0, 0), Outcome(0, 0, 0), (), 0.0, 256)
    offers = [Offer("plan A", replace(through.plan, outcome=outcome)), Offer("plan B", half_turn.plan)]
    rows = compared(offers, wants(), INCHES)
    assert compared(offers, wants(), INCHES, worth=False) == [row for row in rows if not any("$" in cell for cell in row)]
    assert sum(any("$" in cell for cell in row) for row in rows) == 5


def test_the_outcome_is_explained_and_what_is_unsure_is_told(text: str, through: Case, half_turn: Case) -> None:
    flowing = " ".join(text.split())
    assert "on 256 logs that could hide behind these readings" in flowing
    assert "count on the likely line" in flowing
    assert "still this product on 55 % of the logs" in flowing
    assert "On 12 % of the logs that could hide behind these readings a cut is wider than the mill takes." in flowing
    told = outcome_words(PlanOutcome(Outcome(1, 9, 12), Outcome(0, 0, 0), Outcome(0, 0, 0), (), 0.0, 256), 9)
    assert told and "count on" not in told


def test_a_plan_that_stands_its_ground_better_is_named() -> None:
    def given(likely: int) -> PlanOutcome:
        return PlanOutcome(Outcome(1, likely, 90000), Outcome(0, 0, 0), Outcome(0, 0, 0), (), 0.0, 256)

    rules = PriceRules(Ranking.MONEY, "USD")
    said = surer_words([("A", given(5000)), ("B", None), ("C", given(5250))], rules)
    assert said == "On the likely line C gives $2.50 more than A."
    assert (
        surer_words([("A", given(5000)), ("B", given(5000))], rules) == surer_words([("A", None), ("B", given(1))], rules) == ""
    )


def test_settings_are_given_term_by_term_and_sum(text: str) -> None:
    block = text.split(": settings")[1].split("pieces in the order")[0]
    terms = [float(line.split()[-2]) for line in block.splitlines() if line.endswith(" in")]
    # eight figures printed to a thousandth of an inch
    assert sum(terms[:-1]) == pytest.approx(terms[-1], abs=0.004)


def test_sizes_that_are_there_round_down_and_needs_round_up(text: str) -> None:
    assert "narrow face 17 15/16 in" in text  # 17.99 in
    assert "cup to be planed off: 1/8 in" in text  # a little over 1/16 in
    assert "up to 199 lb green" in text  # 90 kg = 198.4 lb


def test_every_piece_is_there_in_the_order_it_comes_off(text: str, through: Case) -> None:
    found = re.findall(r"^(W12-\d+)  ", text, re.MULTILINE)
    assert found == [planned.piece.name for planned in through.plan.pieces]


def test_warnings_and_cautions_close_it(text: str) -> None:
    assert "- Metal is suspected." in text
    assert text.rstrip().endswith(cautions("hand over")[-1].sentence)


def test_lines_are_short_enough_for_a_page(text: str) -> None:
    assert max(len(line) for line in text.splitlines()) <= WIDE


@pytest.mark.parametrize("ranking", list(Ranking))
def test_what_worth_means_is_said_first(ranking: Ranking, half_turn: Case) -> None:
    lines = summary([Offer("plan A", half_turn.plan)], wants(ranking), METRIC).splitlines()
    assert lines[1] == MEANS[ranking]
    assert ("$" in "".join(lines)) == (ranking is Ranking.MONEY)


def test_columns_line_up() -> None:
    assert aligned([["a", "1"], ["bbb", "22"]]) == ["a      1", "bbb   22"]
    assert aligned([]) == []
    assert paragraph("one two", "- ") == ["- one two"]
