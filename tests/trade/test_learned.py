"""What is learned lies between what was typed and the shop's own cases, and moves to these as they grow."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.sources import source
from waney.trade.fetch import METAL, Costs
from waney.trade.learned import ALONE_FROM, HALF_AT, SOURCE, BadRecord, learned
from waney.trade.record import Record
from waney.trade.terms import OVER_SCALE, Terms

TYPED = Basis(Ground.READING, "what the shop typed")
PACE = Estimate(200.0, 150.0, 250.0, TYPED, 1.0)
cases = st.lists(st.floats(20.0, 900.0), max_size=60)


def test_with_nothing_of_its_own_what_was_typed_counts_untouched() -> None:
    found = learned("sawing", "board feet an hour", PACE, ())
    assert (found.now, found.own, found.count, found.weight) == (PACE, None, 0, 0.0)


def test_by_hand() -> None:
    """Five cases of 160, 170, 180, 190, 200: mean 180, weight 5 / 10; their deviation is the root of 250, 15.81."""
    found = learned("sawing", "", PACE, (160, 170, 180, 190, 200))
    assert found.now is not None and (found.own, found.weight, found.now.likely) == (180.0, 0.5, 190.0)
    half = (0.5 * 50.0**2 + 0.5 * (1.645 * 250**0.5) ** 2) ** 0.5
    assert (found.now.low, found.now.high) == (pytest.approx(190 - half), pytest.approx(190 + half))
    assert str(found.now.basis).startswith("own record: 5 of this shop's own")


@given(cases)
def test_the_likely_figure_lies_between_and_the_order_of_cases_does_not_matter(seen: list[float]) -> None:
    found = learned("sawing", "", PACE, seen)
    assert found.now is not None
    if seen:
        own = sum(sorted(seen)) / len(seen)
        assert min(own, 200.0) - 1e-9 <= found.now.likely <= max(own, 200.0) + 1e-9
        assert found.weight == len(seen) / (len(seen) + HALF_AT)
    mixed = list(seen)
    random.Random(1).shuffle(mixed)
    assert learned("sawing", "", PACE, mixed) == found


@given(st.floats(20.0, 900.0), st.integers(1, 80))
def test_more_of_the_same_moves_it_nearer_to_it(own: float, count: int) -> None:
    fewer, more = (learned("sawing", "", PACE, [own] * n).now for n in (count, count + 1))
    assert fewer is not None and more is not None
    assert abs(more.likely - own) <= abs(fewer.likely - own) + 1e-9
    if count >= 2:
        assert more.width <= fewer.width + 1e-9  # cases that agree narrow the range


def test_where_nothing_is_typed_the_record_stands_alone_from_three_on() -> None:
    assert ALONE_FROM == 3 and learned("sawing", "", None, (160, 170)).now is None
    alone = learned("sawing", "", None, (160, 170, 180)).now
    assert alone is not None and alone.likely == 170.0 and alone.basis.ground is Ground.HISTORY


def test_hard_limits_hold_and_what_is_no_number_is_refused() -> None:
    tight = Estimate(0.10, 0.05, 0.15, TYPED, 0.0, 1.0)
    found = learned("loss", "", tight, (0.0, 0.0, 0.0, 0.0)).now
    assert found is not None and found.low >= 0.0 and found.likely < 0.06
    with pytest.raises(BadRecord):
        learned("loss", "", tight, (float("nan"),))


def test_a_record_goes_into_quotes_and_into_what_a_tree_is_worth() -> None:
    record = Record((150.0,) * 5, (1.3,) * 5, (0.2,) * 5, {"walnut_black": (900.0,) * 5})
    terms = record.for_quote(Terms(pace=PACE))
    assert terms.pace is not None and terms.pace.likely == 175.0
    assert terms.over_scale.likely == pytest.approx((1.3 + OVER_SCALE.likely) / 2)
    costs = Costs(
        "USD", per_board_foot_cents=Estimate(500.0, 400.0, 600.0, TYPED), loss=Estimate(0.1, 0.05, 0.15, TYPED, 0.0, 1.0)
    )
    walnut, other = record.for_fetching(costs, "walnut_black"), record.for_fetching(costs, "cherry_black")
    assert walnut.per_board_foot_cents is not None and walnut.per_board_foot_cents.likely == 700.0
    assert walnut.loss is not None and walnut.loss.likely == pytest.approx(0.15)
    assert other.per_board_foot_cents == costs.per_board_foot_cents


def test_metal_learns_as_the_rest_does_and_hours_until_the_mill_speaks_are_told_beside_what_is_typed() -> None:
    record = Record(metal={True: (1.0, 1.0, 1.0, 0.0, 1.0), False: (0.0,)}, until_the_mill=(1.5, 1.5, 1.5))
    costs = record.for_fetching(Costs("USD"), "", yard_tree=True)
    assert costs.metal is not None and costs.metal.likely == pytest.approx((0.8 + METAL[True]) / 2)
    assert record.met_metal(False).now is not None and record.met_metal(None).count == 0
    untold = record.for_fetching(Costs("USD"), "").metal
    assert untold is not None and untold.likely == METAL[None], "what yard trees held says nothing of the others"
    assert record.until_mill().own == 1.5 and record.until_mill().start is None
    assert record.for_quote(Terms(set_up_hours=0.5)).set_up_hours == 0.5, "what is typed counts clearing away too"


def test_the_estimator_has_its_source() -> None:
    assert source(SOURCE).year == "1967"
