"""The rough middle of a scanned stem: a circle in every slice, and a smooth line through their centres."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SLICE_M = 0.2
"""Thickness of a slice; a stem leans and tapers little within it."""
FEWEST_IN_SLICE = 12
LEAST_OFF_M = 0.002
"""Distances below this are not told apart."""


def middle_line(points_m: Array, at_m: Array) -> Array:
    """x, y of the stem's rough middle at heights `at_m`, shape (n, 2), from points (N, 3) along z [m]."""
    count = max(4, int(np.ceil((at_m[-1] - at_m[0]) / SLICE_M)))
    edges = np.linspace(at_m[0], at_m[-1], count + 1)
    slices = [points_m[(points_m[:, 2] >= a) & (points_m[:, 2] <= b)] for a, b in pairwise(edges)]
    full = [s for s in slices if len(s) >= FEWEST_IN_SLICE] or [points_m]
    heights = np.array([s[:, 2].mean() for s in full])
    middles = np.stack([circle_centre(s[:, :2]) for s in full])
    return np.stack([_smooth(heights, middles[:, k], at_m) for k in (0, 1)], axis=1)


def circle_centre(points_m: Array) -> Array:
    """Centre (2,) of a circle through most of the points (N, 2): linear least squares, strays losing weight round by round."""
    shift: Array = np.median(points_m, axis=0)
    near = points_m - shift
    rows = np.column_stack([near, np.ones(len(near))])
    square = (near**2).sum(axis=1)
    weight, centre = np.ones(len(near)), np.zeros(2)
    for _ in range(12):
        weighted = rows * weight[:, None]
        a, b, c = np.linalg.lstsq(weighted.T @ rows, weighted.T @ square, rcond=None)[0]
        centre = np.array([a, b]) / 2.0
        radius = np.sqrt(max(c + centre @ centre, 1e-9))
        off = np.abs(np.hypot(near[:, 0] - centre[0], near[:, 1] - centre[1]) - radius)
        scale = max(float(np.median(off)), LEAST_OFF_M)
        weight = 1.0 / (1.0 + (off / (2.0 * scale)) ** 2) ** 2
    return shift + centre


def _smooth(heights: Array, values: Array, at: Array) -> Array:
    """A cubic (less for few slices) through the values by least absolute distance: stems bow, they do not zigzag."""
    degree = min(3, len(heights) - 1)
    half = (at[-1] - at[0]) / 2.0
    rows = np.polynomial.polynomial.polyvander((heights - at.mean()) / half, degree)
    weight = np.ones(len(heights))
    for _ in range(10):
        root = np.sqrt(weight)
        factors = np.linalg.lstsq(rows * root[:, None], values * root, rcond=None)[0]
        weight = 1.0 / np.maximum(np.abs(values - rows @ factors), LEAST_OFF_M)
    line: Array = np.polynomial.polynomial.polyvander((at - at.mean()) / half, degree) @ factors
    return line
