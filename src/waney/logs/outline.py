"""Outlines: the form of a cross-section apart from its size, as radii in m even directions about its centre.

A form is an array (m,) of radii whose polygon has the area pi, so that size · form / 2 has the area of the circle of diameter
`size`: sizes are diameters of equal area, and a circle read exactly keeps its exact area however few directions there are.
"""

from __future__ import annotations

from functools import cache, lru_cache
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.frames import clock_to_xy
from waney.logs.measured import Point

Array = NDArray[np.float64]

DIRECTIONS = 72
"""m: one radius every 5 degrees"""
RING_WAVES = 6
"""Rings follow the outline up to this many lobes; finer bumps are bark, knots and noise. Common practice, no source."""


class BadOutline(Problem):
    """A traced outline is not one closed line round a middle."""


@cache
def directions() -> Array:
    """Angles [rad] of the m directions, from x towards y; not to be written to."""
    angles: Array = 2.0 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS
    angles.setflags(write=False)
    return angles


def area_of(radii: Array) -> Array:
    """Area of the polygons with these radii [m2], shape (..., m) -> (...)."""
    wedge = 0.5 * np.sin(2.0 * np.pi / radii.shape[-1])
    after = np.concatenate((radii[..., 1:], radii[..., :1]), axis=-1)
    area: Array = wedge * np.sum(radii * after, axis=-1)
    return area


def form_of(radii: Array) -> Array:
    """The radii scaled to the polygon area pi, shape (..., m)."""
    form: Array = radii * np.sqrt(np.pi / area_of(radii))[..., None]
    return form


def size_of(radii: Array) -> float:
    """Diameter of the circle of the same area [m]."""
    return 2.0 * sqrt(float(area_of(radii)) / pi)


@lru_cache(maxsize=4096)
def ellipse(ratio: float, first_clock_h: float) -> Array:
    """The form of an ellipse whose axis across is `ratio` times its axis along the clock position, shape (m,); read only."""
    x, y = clock_to_xy(first_clock_h, 1.0)
    turned = directions() - np.arctan2(y, x)
    form = form_of(1.0 / np.hypot(np.cos(turned), np.sin(turned) / ratio))
    form.setflags(write=False)
    return form


def ellipse_size(girth_m: float, ratio: float) -> float:
    """Equal-area diameter [m] of the ellipse of this girth and ratio of axes; Ramanujan's second approximation of the girth."""
    h = ((1.0 - ratio) / (1.0 + ratio)) ** 2
    unit_girth = pi * (1.0 + ratio) / 2.0 * (1.0 + 3.0 * h / (10.0 + sqrt(4.0 - 3.0 * h)))
    return girth_m / unit_girth * sqrt(ratio)


def traced(points_m: tuple[Point, ...]) -> Array:
    """Radii of a traced outline about its own centroid [m], shape (m,). Raises BadOutline."""
    points = np.array(points_m, dtype=float)
    if len(points) < 8:
        raise BadOutline(f"An outline of {len(points)} points is too coarse; trace at least 8 round the end.")
    centred = points - centroid(points)
    return reach(np.zeros(2), centred)


def centroid(points: Array) -> Array:
    """Area centroid of a polygon, shape (p, 2) -> (2,). Raises BadOutline when it encloses nothing."""
    after = np.roll(points, -1, axis=0)
    cross = points[:, 0] * after[:, 1] - after[:, 0] * points[:, 1]
    if abs(cross.sum()) < 1e-9:
        raise BadOutline("The traced points enclose nothing; give them in order round the end, the first not repeated.")
    middle: Array = ((points + after) * cross[:, None]).sum(axis=0) / (3.0 * cross.sum())
    return middle


def reach(origin: Array, polygon: Array) -> Array:
    """Distance from an inner point to a polygon (p, 2) in each of the m directions [m]; the outermost where it is crossed often.

    Raises BadOutline when the point does not lie inside.
    """
    a = polygon - origin
    edge = np.roll(a, -1, axis=0) - a
    ray = np.stack([np.cos(directions()), np.sin(directions())], axis=1)
    across = ray[:, None, 0] * edge[None, :, 1] - ray[:, None, 1] * edge[None, :, 0]
    safe = np.where(np.abs(across) < 1e-15, np.inf, across)
    distance = (a[:, 0] * edge[:, 1] - a[:, 1] * edge[:, 0])[None, :] / safe
    along = (a[None, :, 0] * ray[:, None, 1] - a[None, :, 1] * ray[:, None, 0]) / safe
    hit = (along >= -1e-9) & (along <= 1.0 + 1e-9) & (distance > 0.0)
    reached: Array = np.where(hit, distance, 0.0).max(axis=1)
    if not bool(np.all(reached > 0.0)):
        raise BadOutline("The outline does not run round its own middle; trace the end once around, without a loop.")
    return reached


def angles_in_order(seen: Array) -> tuple[Array, NDArray[np.bool_]]:
    """Angles [rad] of outlines (n, m, 2) about the origin, each within half a turn of the one before, (n, m); and at which
    stations they only rise and go round once, (n,)."""
    angle = _unrolled(np.arctan2(seen[..., 1], seen[..., 0]))
    return angle, np.all(np.diff(angle, axis=1) > 0.0, axis=1) & (angle[:, -1] - angle[:, 0] < 2.0 * np.pi)


def _unrolled(angle: Array) -> Array:
    step = np.diff(angle, axis=1)
    turns: Array = np.cumsum(np.where(step < -np.pi, 1.0, np.where(step > np.pi, -1.0, 0.0)), axis=1)
    return angle + 2.0 * np.pi * np.pad(turns, ((0, 0), (1, 0)))


def reach_by_angle(seen: Array, angle: Array, wanted: Array) -> Array:
    """How far rays from the origin go to outlines (n, m, 2) seen in order, angle (n, m); wanted (1 or n, q) -> (n, q)."""
    n, m = angle.shape
    wanted = angle[:, :1] + (wanted - angle[:, :1]) % (2.0 * np.pi)
    # one search for all stations: each gets a stretch of the number line of its own
    apart = 100.0 * np.arange(n)[:, None]
    row = np.arange(n)[:, None]
    i = np.searchsorted((angle + apart).ravel(), (wanted + apart).ravel(), side="right").reshape(wanted.shape) - 1 - m * row
    i = np.clip(i, 0, m - 1)
    a, b = seen[row, i], seen[row, (i + 1) % m]
    edge, cos, sin = b - a, np.cos(wanted), np.sin(wanted)
    distance: Array = (a[..., 0] * edge[..., 1] - a[..., 1] * edge[..., 0]) / (cos * edge[..., 1] - sin * edge[..., 0])
    return distance


def smoothed(radii: Array) -> Array:
    """Outlines with no more than RING_WAVES lobes, shape (..., m); never inside out."""
    waves = np.fft.rfft(radii, axis=-1)
    waves[..., RING_WAVES + 1 :] = 0.0
    smooth: Array = np.fft.irfft(waves, n=radii.shape[-1], axis=-1)
    kept: Array = np.maximum(smooth, 0.2 * radii.mean(axis=-1, keepdims=True))
    return kept
