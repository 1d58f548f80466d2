"""Flattening: known surfaces come back, no other planes leave more, and the planes run through wood everywhere."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import minimize

from waney.pieces.flattening import BadHeights, Flattened, Heights, NothingLeft, best_halves, flattened, warped

Array = NDArray[np.float64]


def heights(middle: Array, thick: float | Array = 0.05, long: float = 2.0, wide: float = 0.5) -> Heights:
    n, k = middle.shape
    return Heights(
        np.linspace(0, long, n), np.linspace(0, wide, k), middle - np.asarray(thick) / 2, middle + np.asarray(thick) / 2
    )


def grid(n: int = 9, k: int = 5) -> tuple[Array, Array]:
    """u, v from -1/2 to 1/2 along and across."""
    u, v = np.meshgrid(np.linspace(-0.5, 0.5, n), np.linspace(-0.5, 0.5, k), indexing="ij")
    return u, v


def holds(given: Heights, found: Flattened) -> bool:
    """The checker: both planes within the wood at every point, worked out anew from the plane alone."""
    for i, x in enumerate(given.x_m):
        for j, y in enumerate(given.y_m):
            low = found.at_m + found.slope_x * x + found.slope_y * y
            if np.isfinite(given.under_m[i, j]) and not (
                given.under_m[i, j] - 1e-9 <= low and low + found.thickness_m <= given.upper_m[i, j] + 1e-9
            ):
                return False
    return True


def most_by_hill(given: Heights) -> float:
    """Thickness left, by climbing over both slopes: planes of given slopes touch the lowest upper and the highest under point."""
    x, y = np.meshgrid(given.x_m, given.y_m, indexing="ij")

    def less(slopes: Array) -> float:
        tilt = slopes[0] * x + slopes[1] * y
        return float(np.nanmax(given.under_m - tilt) - np.nanmin(given.upper_m - tilt))

    starts = [np.array([a, b]) for a in (-0.02, 0.02) for b in (-0.05, 0.05)]
    options = {"xatol": 1e-10, "fatol": 1e-12, "maxiter": 4000, "maxfev": 4000}
    return max(-minimize(less, start, method="Nelder-Mead", options=options).fun for start in starts)


def test_a_flat_board_that_lies_askew_loses_nothing() -> None:
    u, v = grid()
    found = flattened(heights(0.3 * u - 0.1 * v))
    assert found.thickness_m == pytest.approx(0.05) and found.off_m == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("bow", "cup", "wind"), [(0.01, 0.0, 0.0), (0.0, 0.006, 0.0), (0.0, 0.0, 0.008), (-0.004, 0.003, 0.005)])
def test_wind_cup_and_bow_are_read_as_they_were_made(bow: float, cup: float, wind: float) -> None:
    u, v = grid()
    found = warped(heights(0.7 + 0.02 * u + 4 * bow * u**2 + 4 * cup * v**2 + wind * u * v))
    assert (found.bow_m, found.cup_m, found.wind_m) == pytest.approx((bow, cup, wind), abs=1e-9)
    assert found.rough_m == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("of_bow", "of_cup", "of_wind"), [(1, 0, 0), (0, 1, 0), (0, 0, 1)])
def test_one_warp_costs_its_own_height(of_bow: int, of_cup: int, of_wind: int) -> None:
    """A parabola of sagitta s between parallel planes costs s; wind w (corner over the plane of three) costs w/2: corners stand
    w/4 over and under the plane between them."""
    u, v = grid()
    size = 0.008
    surface = 4 * size * (of_bow * u**2 + of_cup * v**2) + of_wind * size * u * v
    cost = size * (of_bow + of_cup) + size / 2 * of_wind
    assert flattened(heights(surface)).thickness_m == pytest.approx(0.05 - cost, abs=1e-9)


def test_a_bowed_piece_cut_across_the_middle_keeps_three_quarters_of_what_the_bow_costs() -> None:
    """The sagitta of half a parabola is a quarter of the whole; cutting along does nothing for a bow."""
    u, _ = grid()
    given = heights(4 * 0.012 * u**2)
    across, along = best_halves(given, across=True), best_halves(given, across=False)
    assert across is not None and along is not None
    assert across.at_m == pytest.approx(1.0) and across.thickness_m == pytest.approx(0.05 - 0.003)
    assert along.thickness_m == pytest.approx(0.05 - 0.012)


def test_a_cupped_piece_is_cut_along() -> None:
    _, v = grid()
    along = best_halves(heights(4 * 0.012 * v**2), across=False)
    assert along is not None and along.at_m == pytest.approx(0.25) and along.thickness_m == pytest.approx(0.05 - 0.003)


@settings(max_examples=8)
@given(st.integers(0, 10_000), st.booleans())
def test_no_other_planes_leave_more_and_these_run_through_wood(seed: int, missing: bool) -> None:
    rng = np.random.default_rng(seed)
    under = rng.normal(0, 0.002, (6, 4)) + 0.01 * grid(6, 4)[0]
    upper = under + 0.05 + rng.normal(0, 0.002, (6, 4))
    if missing:
        under[0, 0] = upper[0, 0] = under[5, 3] = upper[5, 3] = np.nan
    given = Heights(np.linspace(0, 1.8, 6), np.linspace(0, 0.6, 4), under, upper)
    found, equal = flattened(given), flattened(given, equally=True)
    assert holds(given, found) and holds(given, equal)
    assert found.thickness_m == pytest.approx(most_by_hill(given), abs=2e-6)
    assert equal.thickness_m <= found.thickness_m + 1e-9
    assert equal.off_under_m == pytest.approx(equal.off_upper_m, abs=1e-8)


def test_what_comes_off_and_what_stays_is_all_there_was() -> None:
    u, v = grid()
    given = heights(0.01 * u**2 + 0.004 * v, 0.05 + 0.003 * u)
    found = flattened(given)
    assert found.off_m + found.thickness_m == pytest.approx(float(np.mean(given.upper_m - given.under_m)))


def test_heights_that_cannot_be_are_refused() -> None:
    u, _ = grid()
    with pytest.raises(NothingLeft):
        flattened(heights(0.4 * u**2, 0.02))
    with pytest.raises(BadHeights):
        heights(u, -0.01)
    with pytest.raises(BadHeights):
        warped(heights(u[:, :2]))
