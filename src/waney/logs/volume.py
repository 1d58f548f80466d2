"""A log's volume and balance point: exact on its shape, and by the three formulas of the trade.

Between two stations of a shape every outline point runs along a straight line, so the section area is a quadratic in z and the
moments are cubics: the prismoidal rule (ends and four times the middle) integrates them without error.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.logs.shape import LogShape

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Sections:
    """Areas (n,) [m2] and first moments of area about the y and x axes, (n, 2) [m3]: centroid = moment / area."""

    area_m2: Array
    moment_m3: Array


def sections(outlines_m: Array) -> Sections:
    """Area and moments of polygons, outlines of shape (n, m, 2) running from x towards y [m]."""
    here, there = outlines_m, _next(outlines_m)
    cross = here[..., 0] * there[..., 1] - there[..., 0] * here[..., 1]
    return Sections(cross.sum(axis=1) / 2.0, ((here + there) * cross[..., None]).sum(axis=1) / 6.0)


def areas(outlines_m: Array) -> Array:
    """Area of the same polygons alone, shape (n,) [m2]."""
    x, y = np.ascontiguousarray(outlines_m[..., 0]), np.ascontiguousarray(outlines_m[..., 1])
    area: Array = 0.5 * (np.einsum("nm,nm->n", x, _next(y)) - np.einsum("nm,nm->n", y, _next(x)))
    return area


def _next(points: Array) -> Array:
    """Every point's follower round the outline (`np.roll` by one, without its detours)."""
    return np.concatenate((points[:, 1:], points[:, :1]), axis=1)


def centroids(outlines_m: Array) -> Array:
    """Area centroid of each polygon, shape (n, 2) [m]; outlines as in `sections`."""
    found = sections(outlines_m)
    middle: Array = found.moment_m3 / found.area_m2[:, None]
    return middle


def section_area(shape: LogShape, at_m: float, *, bark: bool) -> float:
    """Area of the section so far from the butt [m2]; between stations the outline points run straight."""
    surface = shape.surface(bark=bark)[..., :2]
    i = int(np.clip(np.searchsorted(shape.z_m, at_m) - 1, 0, len(shape.z_m) - 2))
    t = (at_m - shape.z_m[i]) / (shape.z_m[i + 1] - shape.z_m[i])
    return float(areas(((1.0 - t) * surface[i] + t * surface[i + 1])[None])[0])


def volume_of(shape: LogShape, *, bark: bool) -> float:
    """Volume of the shape inside bark, or with it [m3]; exact for the straight lines between stations."""
    outlines = shape.surface(bark=bark)[..., :2]
    return _prismoidal(np.diff(shape.z_m), areas(outlines), areas((outlines[:-1] + outlines[1:]) / 2.0))


def balance(shape: LogShape, *, bark: bool) -> tuple[float, float, float]:
    """Volume centroid (x, y, z) in the log frame [m]: where the log balances when wood and bark weigh alike."""
    return balance_of(shape.surface(bark=bark)[..., :2], shape.z_m)


def balance_of(outlines_m: Array, z_m: Array) -> tuple[float, float, float]:
    """The same for outlines (n, m, 2) at z (n,)."""
    at, between = sections(outlines_m), sections((outlines_m[:-1] + outlines_m[1:]) / 2.0)
    span = np.diff(z_m)
    volume = _prismoidal(span, at.area_m2, between.area_m2)
    x, y = (_prismoidal(span, at.moment_m3[:, k], between.moment_m3[:, k]) for k in (0, 1))
    z = _prismoidal(span, at.area_m2 * z_m, between.area_m2 * (z_m[:-1] + z_m[1:]) / 2.0)
    return x / volume, y / volume, z / volume


def _prismoidal(span: Array, at: Array, between: Array) -> float:
    return float(np.sum(span * (at[:-1] + 4.0 * between + at[1:])) / 6.0)


def circle_area(diameter_m: float) -> float:
    """Area of a round section [m2]."""
    return float(np.pi) * diameter_m * diameter_m / 4.0


def smalian(butt_m2: float, top_m2: float, length_m: float) -> float:
    """Mean of the two end areas times the length [m3]; too much for a butt log with flare.

    Source: usfs-log-scaling (0.002727 in inches and feet).
    """
    return (butt_m2 + top_m2) / 2.0 * length_m


def huber(mid_m2: float, length_m: float) -> float:
    """Area half way along times the length [m3]. Source: textbook formula (coefficient 0.005454 from memory)."""
    return mid_m2 * length_m


def newton(butt_m2: float, mid_m2: float, top_m2: float, length_m: float) -> float:
    """Ends and four times the middle, over six, times the length [m3]: right for cylinder, cone, paraboloid and neiloid.

    Source: textbook formula (from memory), the prismoidal rule.
    """
    return (butt_m2 + 4.0 * mid_m2 + top_m2) / 6.0 * length_m
