"""Scanned faces: a known surface comes back from its points, stray points are left out, no plane runs through air."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from waney.pieces.flattening import flattened, warped
from waney.pieces.scanned_faces import BadScan, scanned_heights

Array = NDArray[np.float64]


def faces(seed: int, thick: float = 0.05, noise: float = 0.0003) -> tuple[Array, Array]:
    """A cupped, wound live-edge slab 2 m by 0.6 m as 20 000 points of each face."""
    rng = np.random.default_rng(seed)
    clouds = []
    for side in (0.5, -0.5):
        x, y = rng.uniform(0, 2.0, 20_000), rng.uniform(0, 0.6, 20_000)
        z = 0.1 + 0.008 * ((y - 0.3) / 0.3) ** 2 + 0.006 * (x - 1) / 2 * (y - 0.3) / 0.6 + side * thick
        clouds.append(np.column_stack([x, y, z + rng.normal(0, noise, x.size)]))
    return clouds[0], clouds[1]


def test_cup_and_wind_are_read_from_points() -> None:
    found = warped(scanned_heights(*faces(1), 0.05))
    # squares end half a square inside the edges, so that a little of the whole cup and wind is missing
    assert found.cup_m == pytest.approx(0.008 * (0.55 / 0.6) ** 2, abs=0.0006)
    assert found.wind_m == pytest.approx(0.006 * 0.975 * 0.55 / 0.6, abs=0.0006)


def test_what_is_left_lies_in_the_wood_of_nearly_every_point() -> None:
    upper, under = faces(2)
    found = flattened(scanned_heights(upper, under, 0.05))
    low = found.at_m + found.slope_x * (upper[:, 0] - upper[:, 0].min()) + found.slope_y * (upper[:, 1] - upper[:, 1].min())
    assert np.mean(low + found.thickness_m <= upper[:, 2] + 0.001) > 0.97
    assert found.thickness_m == pytest.approx(0.05 - 0.008 - 0.003, abs=0.0015)  # a cup costs itself, a wind half


def test_stray_points_do_not_cost_wood_and_an_even_thickness_does_for_the_under_face() -> None:
    upper, under = faces(3)
    stray = upper[::1000].copy()
    stray[:, 2] -= 0.04
    plain, spoiled = (flattened(scanned_heights(cloud, under, 0.05)).thickness_m for cloud in (upper, np.vstack([upper, stray])))
    assert spoiled == pytest.approx(plain, abs=0.0005)
    # the slope within a square counts on one side only where the under face was not scanned
    assert plain < flattened(scanned_heights(upper, 0.05, 0.05)).thickness_m < plain + 0.003


def test_clouds_that_cannot_be_are_refused() -> None:
    upper, under = faces(4)
    for other, every in ((under + np.array([5.0, 0.0, 0.0]), 0.05), (under, 0.001), (under, 0.5)):
        with pytest.raises(BadScan):
            scanned_heights(upper, other, every)
