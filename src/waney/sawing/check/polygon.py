"""Polygons of a cross-section, as arrays (m, 2) of corners in order round: area, cutting off, and where they lie at a height."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Run = tuple[float, float]


def area(corners: Array) -> float:
    """Area, corner by corner (shoelace), whichever way round [m2]."""
    if len(corners) < 3:
        return 0.0
    x, y = corners[:, 0], corners[:, 1]
    return 0.5 * abs(float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))))


def cut_off(corners: Array, along: tuple[float, float], limit: float) -> Array:
    """What is left of a polygon where along·corner <= limit, corner by corner; (0, 2) when nothing is."""
    beyond = corners @ np.array(along) - limit
    kept: list[Array] = []
    for i in range(len(corners)):
        a, b = corners[i - 1], corners[i]
        if (beyond[i - 1] > 0) != (beyond[i] > 0):
            kept.append(a + (b - a) * beyond[i - 1] / (beyond[i - 1] - beyond[i]))
        if beyond[i] <= 0:
            kept.append(b)
    return np.array(kept).reshape(-1, 2)


def runs_at(corners: Array, height: float) -> tuple[Run, ...]:
    """The intervals of the first coordinate in which the polygon lies at this second coordinate, from low up.

    A corner exactly at the height belongs to the side below, so that every crossing is counted once.
    """
    u, v = corners[:, 0], corners[:, 1]
    below = v <= height
    crossing = np.flatnonzero(below != np.concatenate([below[1:], below[:1]]))
    after = (crossing + 1) % len(corners)
    share = (height - v[crossing]) / (v[after] - v[crossing])
    places = np.sort(u[crossing] + share * (u[after] - u[crossing]))
    return tuple((float(low), float(high)) for low, high in zip(places[::2], places[1::2], strict=True))


def longest(runs: tuple[Run, ...]) -> Run | None:
    """The longest of some intervals, the first on ties; None of none."""
    return max(runs, key=lambda run: run[1] - run[0], default=None)
