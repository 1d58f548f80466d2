"""Tax lines rounded by a stated rule; questions in place of verdicts; what a log earned."""

from __future__ import annotations

from fractions import Fraction
from functools import partial

import pytest

from waney.figures.sources import source
from waney.figures.tables import table
from waney.trade.earned import Beside, Earned, by_species, shed_m2_years, summed
from waney.trade.local_rules import NOT_KNOWN, Topic, Use, at_a_sale, known_of, questions, state_of, when_a_log_comes
from waney.trade.tax import BadTax, On, Rounding, Tax, tax_lines


@pytest.mark.parametrize(
    ("rounding", "on", "cents"),
    [  # 1.10 and 1.10 at 7.5 %: 8.25 each, 16.5 on the sum
        (Rounding.HALF_UP, On.SUM, 17),
        (Rounding.HALF_EVEN, On.SUM, 16),
        (Rounding.DOWN, On.SUM, 16),
        (Rounding.UP, On.SUM, 17),
        (Rounding.HALF_UP, On.LINE, 16),
        (Rounding.UP, On.LINE, 18),
    ],
)
def test_a_broken_cent_goes_by_the_stated_rule(rounding: Rounding, on: On, cents: int) -> None:
    [line] = tax_lines([110, 110], [Tax("sales tax", Fraction("0.075"), on, rounding)])
    assert (line.on_cents, line.cents) == (220, cents)
    assert line.words == f"sales tax 7.5 %, on {on}, rounded {rounding}"
    [back] = tax_lines([-110, -110], [line.tax])
    assert back.cents == -cents


def test_a_rate_that_is_a_slip_is_refused() -> None:
    with pytest.raises(BadTax, match="write for instance"):
        Tax("sales tax", Fraction(6))


def test_rules_are_questions_and_other_places_are_not_known() -> None:
    everywhere = questions(Topic.TAX, "FR-75")
    assert everywhere and all(one.says == NOT_KNOWN and one.question.endswith("?") for one in everywhere)
    here = questions(Topic.TAX, "US-CA")
    assert here[0].source == "ca-435-0650" and here[1:] == everywhere
    assert questions(Topic.QUARANTINE, "US-OH")[0].dated == "2021-01-14"


def test_wood_bark_and_use_leave_out_only_what_cannot_concern_them() -> None:
    every = at_a_sale("US-OH", "", bark=None)
    ash = "Is ash under a quarantine here?"
    assert ash in [one.question for one in every], "a wood that is not known may be ash"
    assert at_a_sale("US-OH", "Fraxinus", bark=None) == every
    oak = at_a_sale("US-OH", "Quercus", bark=None)
    assert {one.question for one in every} - {one.question for one in oak} == {ash}
    bare = at_a_sale("US-OH", "Quercus", bark=False)
    assert [one.question[:19] for one in oak if one not in bare] == ["May wood with bark "]
    here = at_a_sale("US-OH", "Quercus", bark=False, uses=(Use.SALE,))
    assert {one.topic for one in here} == {Topic.TAX} and here[0].says == NOT_KNOWN
    assert not [one for one in every if "somebody else's logs" in one.question], "sawing for others is no sale of a piece"


def test_what_leaves_is_asked_of_both_ends_of_its_way_and_a_building_where_it_stands() -> None:
    walnut = partial(at_a_sale, "US-NC", "Juglans", bark=None)
    stays, to_wisconsin, abroad = walnut(), walnut(goes_to="US-WI"), walnut(goes_to="")
    sources = {one.source for one in to_wisconsin} - {one.source for one in stays}
    assert sources and {one.topic for one in to_wisconsin if one.source in sources} == {Topic.QUARANTINE, Topic.STRUCTURE}
    assert any("Haywood" in one.says for one in abroad), "what leaves here is asked here wherever it goes to"
    assert any("Haywood" in one.says for one in at_a_sale("US-WI", "Juglans", bark=None, goes_to="US-NC"))
    assert [one.says for one in at_a_sale("US-WI", "Juglans", bark=None, goes_to="") if one.topic is Topic.STRUCTURE] == [
        NOT_KNOWN
    ]
    federal = [one.question for one in at_a_sale("", "Fraxinus", bark=None, goes_to="US-OH")]
    assert "Is ash under a quarantine here?" in federal, "the country of where it goes to"


def test_a_place_is_a_state_only_where_it_is_one() -> None:
    written = ("Raleigh, NC", "wi", "Guelph ON", "Bern CH", "Canada", "Alder Hollow")
    assert list(map(state_of, written)) == ["US-NC", "US-WI", "", "", "", ""]
    assert known_of("US-NC") and not known_of("US-OH") and not known_of("")


def test_a_log_that_comes_in_asks_of_its_way_and_of_sawing_when_it_is_somebody_elses() -> None:
    own = when_a_log_comes("US-VA", "Quercus", bark=True, theirs=False)
    assert own and {one.topic for one in own} == {Topic.QUARANTINE} and all(one.says == NOT_KNOWN for one in own)
    theirs = when_a_log_comes("US-VA", "Quercus", bark=True, theirs=True)
    assert set(own) < set(theirs) and any("ruling 91-99" in one.says and one.dated == "1991-06-04" for one in theirs)
    bare = when_a_log_comes("US-VA", "Quercus", bark=False, theirs=False)
    assert len(bare) == len(own) - 1  # nothing of its bark
    walnut = when_a_log_comes("US-NC", "Juglans", bark=None, theirs=False)
    assert any("Haywood County" in one.says for one in walnut)
    assert not any("Haywood" in one.says for one in when_a_log_comes("US-NC", "Quercus", bark=None, theirs=False))


def test_whatever_a_rule_states_has_a_source() -> None:
    for row in table("local_rules"):
        assert row["question"].endswith("?") and row["ask"]
        assert bool(row["says"]) == bool(row["source"]) == bool(row["dated"])
        if row["source"]:
            assert source(row["source"]).title


def test_a_log_stands_beside_its_plan() -> None:
    plan = (100_00, 300_00, 500_00)
    log = Earned("A", "ash", 200_00, 350_00, 250_00, plan, hours=6.0, shed_m2_years=1.5, pieces_sold=2, pieces_left=1)
    assert (log.net_cents, log.with_standing_cents, log.beside) == (150_00, 400_00, Beside.WITHIN)
    assert (log.hourly_cents, log.shed_cents) == (25_00, 100_00)
    poor = Earned("B", "ash", 200_00, 100_00, 0, plan, pieces_sold=1)
    assert (poor.beside, poor.hourly_cents, poor.shed_cents) == (Beside.BELOW, None, None)
    assert Earned("C", "elm", 0, 501_00, planned_cents=plan, pieces_sold=1).beside is Beside.ABOVE
    assert Earned("D", "elm", 0, 900_00, 0, plan, pieces_sold=1, pieces_left=2, without_price=1).beside is Beside.OPEN
    assert Earned("E", "elm", 0, 0, 0, plan).beside is Beside.OPEN
    both = summed("all", [log, poor])
    assert (both.net_cents, both.planned_cents, both.species) == (50_00, (200_00, 600_00, 1000_00), "ash")
    assert summed("all", [log, Earned("C", "elm", 0, 0)]).beside is Beside.NO_PLAN
    assert [row.name for row in by_species([poor, Earned("C", "elm", 0, 501_00), log])] == ["elm", "ash"]


def test_shed_is_floor_over_layers_and_time() -> None:
    assert shed_m2_years(2.4, 12, 365.25) == pytest.approx(0.2)
