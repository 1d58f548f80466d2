"""Price measures by hand, and rounding to whole cents."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.pieces.measures import board_feet
from waney.prices.measure import measure, price_cents, whole_cents, wide_factor
from waney.prices.product import Edges, Per, PriceRule, Product

IN, FT = 0.0254, 0.3048


def product(price: PriceRule, thickness_m: float = 0.022, quarters: int | None = 4) -> Product:
    return Product("board", thickness_m, price, Edges.EDGED, (2.4,), 0.1, nominal_quarters=quarters)


@pytest.mark.parametrize(
    ("rule", "thickness_m", "quarters", "expected"),
    [
        (PriceRule(Per.BOARD_FOOT, 1), 0.022, 4, 8.0),  # 12 in x 8 ft, nominal 1 in
        (PriceRule(Per.BOARD_FOOT, 1, by_nominal=False), 1.75 * IN, 8, 14.0),
        (PriceRule(Per.BOARD_FOOT, 1, by_nominal=False), 0.5 * IN, None, 8.0),
        (PriceRule(Per.BOARD_FOOT, 1, thin_counts_as_inch=False), 0.5 * IN, None, 4.0),
        (PriceRule(Per.SQUARE_FOOT, 1), 0.022, 4, 8.0),
        (PriceRule(Per.SQUARE_METRE, 1), 0.022, 4, 0.3048 * 2.4384),
        (PriceRule(Per.CUBIC_METRE, 1), 0.022, None, 0.3048 * 2.4384 * 0.022),
        (PriceRule(Per.CUBIC_METRE, 1), 0.022, 4, 0.3048 * 2.4384 * 0.0254),
        (PriceRule(Per.FOOT, 1), 0.022, 4, 8.0),
        (PriceRule(Per.METRE, 1), 0.022, 4, 2.4384),
        (PriceRule(Per.PIECE, 1), 0.022, 4, 1.0),
    ],
)
def test_a_board_twelve_inches_wide_and_eight_feet_long(
    rule: PriceRule, thickness_m: float, quarters: int | None, expected: float
) -> None:
    assert measure(product(rule, thickness_m, quarters), 12 * IN, 8 * FT) == pytest.approx(expected)


@given(st.floats(0.01, 1.0), st.floats(0.1, 6.0), st.floats(0.01, 0.1))
def test_board_feet_of_a_price_are_board_feet_of_the_piece(width: float, length: float, thickness: float) -> None:
    wanted = product(PriceRule(Per.BOARD_FOOT, 1), thickness, None)
    assert measure(wanted, width, length) == pytest.approx(board_feet(width, length, thickness, thin_counts_as_inch=True))


def test_the_last_wide_factor_reached_applies() -> None:
    rule = PriceRule(Per.SQUARE_METRE, 100, wide_factors=((0.3, 1.2), (0.4, 1.5)))
    assert [wide_factor(rule, w) for w in (0.29, 0.3, 0.39, 0.4, 0.9)] == [1.0, 1.2, 1.2, 1.5, 1.5]
    assert price_cents(product(rule), 0.5, 2.0, pith=False) == pytest.approx(150)


@given(st.integers(-(10**9), 10**9))
def test_halves_round_away_from_zero(cents: int) -> None:
    assert whole_cents(cents + (0.5 if cents >= 0 else -0.5)) == cents + (1 if cents >= 0 else -1)
    assert whole_cents(float(cents)) == cents
