"""Estimates: three points in order, hard limits, and the value at a draw as design section 3 fixes it."""

from __future__ import annotations

from math import inf, nan
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.estimate import Z_95, BadEstimate, Basis, Estimate, Ground
from waney.figures.problem import OutOfRange, Problem

DEFAULT = Basis(Ground.DEFAULT, "")
SIZES = st.floats(-1e6, 1e6)
ORDERED = st.lists(SIZES, min_size=3, max_size=3).map(sorted)


@pytest.mark.parametrize(
    ("low", "likely", "high", "hard_min", "hard_max"),
    [
        (2, 1, 3, -inf, inf),
        (1, 3, 2, -inf, inf),
        (1, 2, 3, 1.5, inf),
        (1, 2, 3, -inf, 2.5),
        (-inf, 0, 1, -inf, inf),
        (0, nan, 1, -inf, inf),
    ],
)
def test_points_out_of_order_are_refused(low: float, likely: float, high: float, hard_min: float, hard_max: float) -> None:
    with pytest.raises(BadEstimate, match="must rise in that order"):
        Estimate(likely, low, high, DEFAULT, hard_min, hard_max)


@given(ORDERED)
def test_the_five_fifty_and_ninety_five_per_cent_points_are_met(points: list[float]) -> None:
    low, likely, high = points
    estimate = Estimate(likely, low, high, DEFAULT)
    assert [estimate.at(z) for z in (-Z_95, 0.0, Z_95)] == pytest.approx(points, abs=1e-9)


def test_the_points_are_the_normal_ones() -> None:
    # 1.645 is the rounded 95 % point of the normal distribution
    assert NormalDist().inv_cdf(0.95) == pytest.approx(Z_95, abs=0.0005)


@given(ORDERED, st.floats(-5, 5), st.floats(-5, 5))
def test_a_larger_draw_never_gives_a_smaller_value(points: list[float], a: float, b: float) -> None:
    estimate = Estimate(points[1], points[0], points[2], DEFAULT)
    assert estimate.at(min(a, b)) <= estimate.at(max(a, b)) + 1e-9


@given(ORDERED, st.floats(-9, 9))
def test_hard_limits_hold_for_every_draw(points: list[float], z: float) -> None:
    low, likely, high = points
    estimate = Estimate(likely, low, high, DEFAULT, hard_min=low, hard_max=high)
    assert low <= estimate.at(z) <= high


@given(SIZES, st.floats(-9, 9))
def test_a_known_figure_has_no_width_and_one_value(value: float, z: float) -> None:
    estimate = Estimate.known(value, DEFAULT)
    assert estimate.width == 0
    assert estimate.at(z) == value


def test_a_second_reading_narrows_and_keeps_the_limits() -> None:
    wide = Estimate(0.01, 0.0, 0.05, DEFAULT, hard_min=0.0)
    read = wide.narrowed(0.02, Basis(Ground.READING, "tape"))
    assert (read.low, read.likely, read.high) == (0.0, 0.01, 0.03)
    assert read.width < wide.width


@pytest.mark.parametrize(
    ("basis", "printed"),
    [
        (Basis(Ground.SOURCE, "fpl-gtr-282", "Table 5-3b"), "fpl-gtr-282 (Table 5-3b)"),
        (Basis(Ground.READING, "tape"), "read with tape"),
        (Basis(Ground.HISTORY, "12 oak logs"), "own record: 12 oak logs"),
        (Basis(Ground.DEFAULT, ""), "common practice, no source"),
    ],
)
def test_a_basis_says_where_a_figure_comes_from(basis: Basis, printed: str) -> None:
    assert str(basis) == printed


def test_out_of_range_names_the_figure_and_the_range_of_its_source() -> None:
    problem = OutOfRange("air temperature", 120, -1, 99, "°C", "FPL-RN-0268")
    assert isinstance(problem, Problem)
    assert str(problem) == "air temperature is 120 °C; FPL-RN-0268 covers -1 to 99 °C."
