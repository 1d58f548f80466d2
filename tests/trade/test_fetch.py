"""Worth fetching: sums to the cent, weights beside printed ones, and answers that never turn round."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from math import pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.trade.fetch import BadCosts, Costs, Offer, Reply, worth_fetching
from waney.trade.reading import BadReading, How, Reading

N = Scenarios(seed=5, n=32)
WALNUT = Reading("by the school", "black walnut", girth_m=1.6, small_end_m=0.42, length_m=3.0)
SURE = Basis(Ground.READING, "the shop")
COSTS = Costs(
    "USD",
    way_km=60.0,
    km_cents=55.0,
    hours=Estimate.known(3.0, SURE),
    hour_cents=2500.0,
    loading_cents=4000,
    per_board_foot_cents=Estimate.known(300.0, SURE),
    sawing_cents=45.0,
    drying_cents=40.0,
    loss=Estimate.known(0.2, SURE),
    blade_cents=3000.0,
)
HARDEST = {Reply.FETCH: 0, Reply.IF_FREE: 1, Reply.LEAVE: 2}


@cache
def answered(asked: int | None, reading: Reading = WALNUT) -> Offer:
    return worth_fetching(reading, COSTS, asked, N)


def test_the_sum_is_right_to_the_cent() -> None:
    """Way 60 km at 0.55, 3 h at 25.00, loading 40.00, blade 30.00 at 15 in 100.

    A board foot earns 3.00 less a fifth, sawing 0.45, drying 0.40."""
    offer = answered(10_000)
    feet = offer.board_feet.likely
    assert offer.worth_cents is not None and offer.money_cents is not None
    assert round(offer.worth_cents.likely) == round(feet * 240)
    assert round(offer.fetching_cents.likely) == round(3300 + 7500 + 4000 + 450 + feet * 85)
    assert round(offer.money_cents.likely) == round(feet * 155 - 15_250 - 10_000)


@pytest.mark.long
@settings(max_examples=25, deadline=None)
@given(st.integers(-200_000, 200_000), st.integers(0, 100_000))
def test_a_larger_asked_price_never_makes_the_answer_easier(asked: int, more: int) -> None:
    first, second = answered(asked).reply, answered(asked + more).reply
    assert first is not None and second is not None and HARDEST[second] >= HARDEST[first]


def test_the_three_answers_come_one_after_the_other() -> None:
    rich = replace(COSTS, per_board_foot_cents=Estimate.known(900.0, SURE))
    replies = [worth_fetching(WALNUT, rich, asked, N).reply for asked in (0, 5_000_000)]
    assert replies == [Reply.FETCH, Reply.IF_FREE]
    poor = worth_fetching(WALNUT, replace(COSTS, per_board_foot_cents=Estimate.known(10.0, SURE)), 100, N)
    assert poor.reply is Reply.LEAVE and poor.reason.startswith("Fetching decides")


def test_being_paid_for_taking_it_away_can_decide() -> None:
    poor = replace(COSTS, per_board_foot_cents=Estimate.known(10.0, SURE))
    offer = worth_fetching(WALNUT, poor, -100_000, N)
    assert offer.reply is Reply.FETCH and "what they pay" in offer.reason


def test_without_prices_it_says_what_is_missing() -> None:
    found = worth_fetching(Reading(species="white ash", girth_m=1.0, length_m=3.0), Costs(), None, N)
    assert found.reply is None and found.money_cents is None
    assert "what a board foot earns" in found.missing and "what a board foot earns" in found.reason


def test_too_heavy_for_the_trailer_is_left_whatever_it_earns() -> None:
    offer = worth_fetching(WALNUT, replace(COSTS, bears_kg=100.0), -100_000, N)
    assert offer.reply is Reply.LEAVE and "trailer" in offer.reason


def test_white_oak_of_two_feet_weighs_what_tree_workers_are_told() -> None:
    """nps-tree-workers prints 62 lb for a green cubic foot of white oak; 2 ft by 8 ft is 25.1 of them, bark and all."""
    foot = 0.3048
    offer = worth_fetching(
        Reading("", "white oak", girth_m=pi * 2 * foot, girth_at_m=4 * foot, length_m=8 * foot), Costs(), None, N
    )
    printed_kg = 25.13 * 62.0 * 0.45359237
    assert offer.weight_kg is not None and offer.weight_kg.low < printed_kg < offer.weight_kg.high


@pytest.mark.parametrize(
    ("known", "rough"),
    [
        (WALNUT, replace(WALNUT, length_m=None)),
        (WALNUT, replace(WALNUT, girth_m=None, small_end_m=None)),
        (WALNUT, replace(WALNUT, girth_how=How.EYE, small_end_how=How.EYE)),
        (WALNUT, replace(WALNUT, girth_how=How.PHOTO, small_end_how=How.PHOTO, length_how=How.PHOTO)),
    ],
)
def test_less_read_is_a_wider_range_never_an_error(known: Reading, rough: Reading) -> None:
    one, other = answered(0, known), answered(0, rough)
    for sharp, blunt in ((one.wood_m3, other.wood_m3), (one.weight_kg, other.weight_kg), (one.money_cents, other.money_cents)):
        assert sharp is not None and blunt is not None
        assert blunt.width > sharp.width


def test_nothing_read_at_all_is_still_answered() -> None:
    offer = worth_fetching(Reading(), COSTS, None, N)
    assert offer.reply is not None and offer.weight_kg is not None and "any wood" in offer.remarks[0]
    assert "One more measurement" in offer.would_change


def test_a_name_that_two_woods_bear_is_any_wood_and_says_so() -> None:
    offer = answered(0, replace(WALNUT, species="walnut"))
    assert offer.weight_kg is not None and answered(0).weight_kg is not None
    assert any("black walnut" in line for line in offer.remarks)


def test_a_taped_length_helps_most_where_none_was_read() -> None:
    assert "length with a tape" in answered(0, replace(WALNUT, length_m=None)).would_change


def test_a_yard_tree_costs_more_blades_than_a_forest_tree() -> None:
    fetching = [answered(0, replace(WALNUT, yard_tree=yard)).fetching_cents for yard in (True, None, False)]
    likely = [each.likely for each in fetching]
    assert likely == sorted(likely, reverse=True) and len(set(likely)) == 3


def test_costs_below_zero_and_sizes_of_no_tree_are_refused() -> None:
    with pytest.raises(BadCosts, match="below zero"):
        Costs(km_cents=-1.0)
    with pytest.raises(BadReading, match="girth"):
        Reading(girth_m=160.0)
