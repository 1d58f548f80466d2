"""Spread of thickness between boards set alike."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.sawing.sheets.spread import NoSpread, default_spread, spread_of

EIGHT_MM = (27.9, 28.4, 28.1, 27.6, 28.3, 28.0, 27.8, 28.2)


def test_worked_by_hand() -> None:
    # mean 28.0375 mm; squares of the deviations sum to 0.49875 mm2; 0.49875 / 7 = 0.07125 mm2; its root is 0.266927 mm
    assert spread_of(tuple(x / 1000 for x in EIGHT_MM)).likely == pytest.approx(0.266927e-3, rel=2e-6)


# Percentage points of chi-square, as every printed table has them to 0.001 (here from memory of such a table).
CHI_SQUARE = {5: (1.145, 11.070), 7: (2.167, 14.067), 9: (3.325, 16.919), 19: (10.117, 30.144)}


@pytest.mark.parametrize("freedom", CHI_SQUARE)
def test_range_follows_the_chi_square_table(freedom: int) -> None:
    low_point, high_point = CHI_SQUARE[freedom]
    spread = spread_of(tuple(0.028 + 0.0001 * i for i in range(freedom + 1)))
    # the table prints three decimals: half a unit in 1.145 is 4e-4 of it, 2e-4 of its root
    assert spread.low == pytest.approx(spread.likely * (freedom / high_point) ** 0.5, rel=3e-4)
    assert spread.high == pytest.approx(spread.likely * (freedom / low_point) ** 0.5, rel=3e-4)


def test_ninety_of_a_hundred_ranges_hold_the_true_spread() -> None:
    draws = np.random.default_rng(7).normal(0.028, 0.0008, (4000, 6))
    held = sum(spread.low <= 0.0008 <= spread.high for spread in map(spread_of, map(tuple, draws.tolist())))
    # 4000 trials at 0.9: standard deviation of the share 0.0047; three of them
    assert held / 4000 == pytest.approx(0.9, abs=0.0145)


@given(st.lists(st.floats(0.01, 0.1), min_size=6, max_size=12), st.floats(0.0, 0.05))
def test_a_shift_of_all_boards_changes_nothing(thicknesses: list[float], shift: float) -> None:
    try:
        spread = spread_of(tuple(thicknesses))
    except NoSpread:
        return
    assert spread_of(tuple(t + shift for t in thicknesses)).likely == pytest.approx(spread.likely, rel=1e-5, abs=1e-9)


def test_too_few_boards_and_boards_that_read_alike_say_nothing() -> None:
    with pytest.raises(NoSpread, match="5 boards say too little"):
        spread_of((0.028, 0.029, 0.028, 0.029, 0.028))
    with pytest.raises(NoSpread, match="read alike"):
        spread_of((0.028,) * 8)


def test_default_is_a_thirty_second_of_an_inch_without_a_source() -> None:
    assert default_spread().likely == pytest.approx(0.00079375)
    assert str(default_spread().basis) == "common practice, no source"
