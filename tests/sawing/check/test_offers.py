"""Measures, width rules, factors and rounding, each against what the unit itself means."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from waney.prices.product import Per, PriceRule, WidthRule
from waney.sawing.check.cents import may_be, whole
from waney.sawing.check.offers import counted_width, measured, wide_factor

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize(
    ("per", "expected"),
    [
        (Per.BOARD_FOOT, 8.0),  # 1 in x 12 in x 8 ft: one board foot a foot
        (Per.CUBIC_METRE, 8 * FOOT**2 * INCH),
        (Per.SQUARE_FOOT, 8.0),
        (Per.SQUARE_METRE, 8 * FOOT**2),
        (Per.FOOT, 8.0),
        (Per.METRE, 8 * FOOT),
        (Per.PIECE, 1.0),
    ],
)
def test_measure_of_an_inch_board_a_foot_wide_and_eight_feet_long(make, per, expected) -> None:
    product = make.board(price=PriceRule(per, 1.0), nominal_quarters=4)
    assert measured(product, 8 * FOOT, FOOT) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("by_nominal", "thin_as_inch", "quarters", "inches"),
    [(True, True, 8, 2.0), (False, True, 8, 1.75), (True, True, 3, 1.0), (True, False, 3, 0.75), (True, True, None, 1.75)],
)
def test_board_feet_by_nominal_or_finished_thickness_and_thin_ones_as_an_inch(
    make, by_nominal, thin_as_inch, quarters, inches
) -> None:
    rule = PriceRule(Per.BOARD_FOOT, 1.0, by_nominal=by_nominal, thin_counts_as_inch=thin_as_inch)
    product = make.board(thickness=1.75 * INCH, price=rule, nominal_quarters=quarters)
    assert measured(product, 8 * FOOT, FOOT) == pytest.approx(8 * inches)


@pytest.mark.parametrize(
    ("rule", "width"),
    [
        (WidthRule.NARROW_FACE, 0.25),  # straight taper 0.30 to 0.20: area over length is the mean
        (WidthRule.MEAN_OF_FACES, 0.30),
        (WidthRule.MID_LENGTH, 0.30),
        (WidthRule.WIDEST, 0.40),
    ],
)
def test_width_of_a_tapering_live_edge_slab_by_each_rule(rule, width) -> None:
    assert counted_width(rule, np.linspace(0.3, 0.2, 8), np.linspace(0.4, 0.3, 8)) == pytest.approx(width)


def test_the_last_factor_that_is_reached_applies() -> None:
    rule = PriceRule(Per.FOOT, 1.0, wide_factors=((0.3, 1.2), (0.4, 1.5)))
    assert [wide_factor(rule, w) for w in (0.29, 0.3, 0.39, 0.41)] == [1.0, 1.2, 1.2, 1.5]


def test_half_cents_round_away_from_zero() -> None:
    assert [whole(c) for c in (0.5, 1.5, -0.5, -1.5, 2.4999, -2.4999)] == [1, 2, -1, -2, 2, -2]
    assert whole(0.5 - 1e-9) == 1


def test_a_sum_of_rounded_cents_leaves_a_choice_at_halves_only() -> None:
    assert may_be(3, (1.2, 2.3))
    assert not may_be(4, (1.2, 2.3))
    assert may_be(3, (1.5, 1.2))
    assert may_be(2, (1.5, 1.2))


def test_more_pay_never_lowers_what_a_slice_earns(make) -> None:
    """Checked on a real slice: every term but the price stays, the price grows."""
    saw = make.builder(make.cylinder(0.2, 3.0), make.mill, make.wants(make.live_slab()), {"slab": 36}).roll_on(0.0, "as it lies")
    judge = saw.saw(190, 154).judged["P1"].judge
    offers = [judge.best((replace(make.live_slab(), price=PriceRule(Per.FOOT, cents)),), 1e-9) for cents in (100.0, 200.0)]
    assert offers[1].cents - offers[0].cents == pytest.approx(100 * 2.4 / FOOT * 0.92, abs=1.0)
