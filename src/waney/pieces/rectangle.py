"""The largest rectangle, at any angle, that a live-edge piece gives on both faces: what a table or a shelf can use of it.

At one angle the region is cut into strips; inside a strip its edges are straight, so what is free over its whole width is
known exactly, and a rectangle over neighbouring strips has what is free in all of them. The best angles are then refined.
The answer always lies inside; it is the largest to some 0.01 % (docs/methods/pieces.md), without proof for odd outlines.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from math import cos, pi, radians, sin, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from waney.figures.compiled import COMPILED, compiled
from waney.figures.problem import Problem
from waney.logs.measured import Hidden
from waney.logs.rings import UNDEFINED_WITHIN_M
from waney.pieces.piece import FACE_A, FACE_B, Piece, PieceZone

Array = NDArray[np.float64]

COARSE_STEP_RAD = radians(1.5 if COMPILED else 6.0)
"""Angles of the first look; coarser where the arithmetic is not compiled (docs/methods/pieces.md)."""
STRIPS = 48
"""Strips besides those at every corner of the outline, in the first look."""
STARTS = 5 if COMPILED else 2
"""Angles that are refined."""
ROUNDS = 40
ENOUGH = 1e-5
"""Refinement ends when angle [rad] and ends [share of the length] are looked for this closely."""


class NoRectangle(Problem):
    """The piece has no place that is free on both faces."""


@dataclass(frozen=True)
class Rectangle:
    """A rectangle in the plane of a piece's faces: centre x, y [m], angle of its length against x [rad], length >= width [m]."""

    x_m: float
    y_m: float
    angle_rad: float
    length_m: float
    width_m: float

    @property
    def area_m2(self) -> float:
        """Length times width."""
        return self.length_m * self.width_m

    @property
    def corners(self) -> Array:
        """Its four corners in turn, shape (4, 2) [m]."""
        along, across = _axes(self.angle_rad)
        half = 0.5 * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * [self.length_m, self.width_m]
        corners: Array = half[:, :1] * along + half[:, 1:] * across + [self.x_m, self.y_m]
        return corners


def usable_rectangle(piece: Piece, may_hold: Collection[Hidden] = frozenset(Hidden), *, pith_kept: bool = True) -> Rectangle:
    """The largest rectangle of a green piece that is wood on both faces and free of what it must not hold.

    Raises NoRectangle when there is none.
    """
    region = usable_region(piece, may_hold, pith_kept=pith_kept)
    found = largest_rectangle(region)
    if found is None:
        raise NoRectangle(f"{piece.name}: no part of it is wood on both faces and free of what the product must not hold.")
    return found


def usable_region(piece: Piece, may_hold: Collection[Hidden], *, pith_kept: bool) -> BaseGeometry:
    """Where the piece is wood on both faces, less its zones and pith, seen from above: x, y of the piece frame [m]."""
    taken: list[BaseGeometry] = [_footprint(piece, zone) for zone in piece.zones if zone.kind not in may_hold]
    if not pith_kept:
        taken += _pith_footprints(piece)
    return shapely.difference(_outline(piece), shapely.union_all(taken))


def _outline(piece: Piece) -> BaseGeometry:
    low = np.max(piece.low_y_m[[FACE_B, FACE_A]], axis=0)
    high = np.min(piece.high_y_m[[FACE_B, FACE_A]], axis=0)
    there = high > low
    runs = np.split(np.arange(len(there)), np.flatnonzero(np.diff(there)) + 1)
    return shapely.union_all(
        [_between(piece.along_m[run], low[run], high[run]) for run in runs if there[run[0]] and len(run) > 1]
    )


def _between(x: Array, low: Array, high: Array) -> Polygon:
    return Polygon(np.vstack([np.column_stack([x, low]), np.column_stack([x, high])[::-1]]))


def _footprint(piece: Piece, zone: PieceZone) -> BaseGeometry:
    """All that a rod takes from the slice, its ends drawn out by its radius; empty when it stays outside."""
    axis = np.linspace(zone.start_m, zone.end_m, 9)
    gap = float(np.min(np.maximum(np.abs(axis[:, 2]) - piece.thickness_m / 2.0, 0.0)))
    if gap >= zone.radius_m:
        return Polygon()
    half = sqrt(zone.radius_m**2 - gap**2)
    if np.allclose(axis[0, :2], axis[-1, :2]):
        return shapely.box(axis[0, 0] - half, axis[0, 1] - half, axis[0, 0] + half, axis[0, 1] + half)
    return LineString(axis[:, :2]).buffer(half, cap_style="square")


def _pith_footprints(piece: Piece) -> Iterable[BaseGeometry]:
    for line in piece.pith_m:
        near = np.abs(line[:, 1]) < piece.thickness_m / 2.0 + UNDEFINED_WITHIN_M
        if np.count_nonzero(near) > 1:
            path = np.column_stack([piece.along_m, line[:, 0]])[near]
            yield LineString(path).buffer(UNDEFINED_WITHIN_M, cap_style="square")


def largest_rectangle(region: BaseGeometry) -> Rectangle | None:
    """The largest rectangle at any angle inside a region (polygon or several, holes allowed) [m]; None when it has no area."""
    parts = [part for part in shapely.get_parts(region) if part.area > 0.0]
    found = [_largest_in(part) for part in parts]
    return max(found, key=lambda rectangle: rectangle.area_m2, default=None)


def _largest_in(part: Polygon) -> Rectangle:
    edges = _edges(part)
    evenly = np.arange(-pi / 4, pi / 4, COARSE_STEP_RAD)
    along = np.diff(edges, axis=1)[:, 0]
    coarse = np.unique(np.concatenate([evenly, (np.arctan2(along[:, 1], along[:, 0]) + pi / 4) % (pi / 2) - pi / 4]))
    first = [_at_angle(edges, float(angle), ()) for angle in coarse]
    best = sorted(first, key=lambda candidate: -candidate.area)[:STARTS]
    return max((_refined(edges, start) for start in best), key=lambda candidate: candidate.area).rectangle()


@dataclass(frozen=True)
class _Candidate:
    """A rectangle in the axes of its own angle: from x0, y0 to x1, y1."""

    angle: float
    x0: float
    x1: float
    y0: float
    y1: float

    @property
    def area(self) -> float:
        return (self.x1 - self.x0) * (self.y1 - self.y0)

    def rectangle(self) -> Rectangle:
        along, across = _axes(self.angle)
        centre = (self.x0 + self.x1) / 2.0 * along + (self.y0 + self.y1) / 2.0 * across
        a, b = self.x1 - self.x0, self.y1 - self.y0
        angle = self.angle if a >= b else self.angle + (pi / 2 if self.angle < 0 else -pi / 2)
        return Rectangle(float(centre[0]), float(centre[1]), float(angle), float(max(a, b)), float(min(a, b)))


def _axes(angle: float) -> tuple[Array, Array]:
    return np.array([cos(angle), sin(angle)]), np.array([-sin(angle), cos(angle)])


def _edges(part: Polygon) -> Array:
    """All edges of a polygon and its holes, shape (e, 2, 2)."""
    rings = [np.asarray(ring.coords) for ring in (part.exterior, *part.interiors)]
    return np.vstack([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])


def _refined(edges: Array, start: _Candidate) -> _Candidate:
    """Close in on angle and ends: five angles and eleven more cuts about each end, nearer whenever nothing better is found."""
    best, turn, step = start, COARSE_STEP_RAD, (start.x1 - start.x0) / STRIPS
    for _ in range(ROUNDS):
        near = step * np.arange(-5, 6) / 2.0
        cuts = tuple(np.concatenate([best.x0 + near, best.x1 + near]))
        tried = [_at_angle(edges, best.angle + turn * k / 2.0, cuts) for k in range(-2, 3)]
        better = max([best, *tried], key=lambda candidate: candidate.area)
        turn = turn if better.angle != best.angle else turn / 3.0
        step = step if abs(better.x0 - best.x0) + abs(better.x1 - best.x1) > step else step / 3.0
        best = better
        if turn < ENOUGH and step < ENOUGH * (best.x1 - best.x0):
            break
    return best


def _at_angle(edges: Array, angle: float, cuts: tuple[float, ...]) -> _Candidate:
    """The largest rectangle with its sides along one angle, its ends at corners of the region or at the cuts."""
    turned = edges @ np.array(_axes(angle)).T
    x = turned[:, :, 0]
    evenly = np.linspace(x.min(), x.max(), STRIPS + 1) if not cuts else np.array(cuts)
    at = np.unique(np.concatenate([x[:, 0], evenly[(evenly > x.min()) & (evenly < x.max())]]))
    gaps = _free_in_strips(turned, at)
    x0, x1, y0, y1 = _best_span(at, gaps)
    return _Candidate(angle, x0, x1, y0, y1)


@compiled
def _free_in_strips(turned: Array, at: Array) -> Array:
    """What is free over the whole of every strip at[k]..at[k + 1]: spans of y, shape (strips, most, 2), inf to -inf where none.

    turned: edges (e, 2, 2) with all their ends among `at`, so that an edge passes a strip from side to side or not at all.
    """
    strips, most = len(at) - 1, 1
    free = np.empty((strips, len(turned) // 2 + 1, 2))
    free[:, :, 0], free[:, :, 1] = np.inf, -np.inf
    left, right = np.empty(len(turned)), np.empty(len(turned))
    for k in range(strips):
        count = 0
        for e in range(len(turned)):
            start, end = (0, 1) if turned[e, 0, 0] < turned[e, 1, 0] else (1, 0)
            run = turned[e, end, 0] - turned[e, start, 0]
            if run > 0.0 and turned[e, start, 0] <= at[k] and turned[e, end, 0] >= at[k + 1]:
                slope = (turned[e, end, 1] - turned[e, start, 1]) / run
                y0 = turned[e, start, 1] + slope * (at[k] - turned[e, start, 0])
                y1 = turned[e, start, 1] + slope * (at[k + 1] - turned[e, start, 0])
                i = count
                while i > 0 and left[i - 1] + right[i - 1] > y0 + y1:
                    left[i], right[i] = left[i - 1], right[i - 1]
                    i -= 1
                left[i], right[i] = y0, y1
                count += 1
        for g in range(count // 2):
            free[k, g, 0] = max(left[2 * g], right[2 * g])
            free[k, g, 1] = min(left[2 * g + 1], right[2 * g + 1])
        most = max(most, count // 2)
    return free[:, :most].copy()


@compiled
def _best_span(at: Array, free: Array) -> tuple[float, float, float, float]:
    """The largest (x1 - x0)·(y1 - y0) over runs of strips: what is free in all strips of the run is kept as spans of y."""
    strips, most = free.shape[0], free.shape[1]
    best, answer = 0.0, (at[0], at[0], 0.0, 0.0)
    low, high = np.empty(strips * most + 1), np.empty(strips * most + 1)
    new_low, new_high = np.empty(strips * most + 1), np.empty(strips * most + 1)
    for i in range(strips):
        low[0], high[0], count = -np.inf, np.inf, 1
        for j in range(i, strips):
            kept, tallest = 0, 0.0
            for a in range(count):
                for b in range(most):
                    bottom, top = max(low[a], free[j, b, 0]), min(high[a], free[j, b, 1])
                    if top > bottom:
                        new_low[kept], new_high[kept] = bottom, top
                        kept += 1
                        if top - bottom > tallest:
                            tallest = top - bottom
                            if tallest * (at[j + 1] - at[i]) > best:
                                best = tallest * (at[j + 1] - at[i])
                                answer = (at[i], at[j + 1], bottom, top)
            low, new_low, high, new_high, count = new_low, low, new_high, high, kept
            if tallest * (at[strips] - at[i]) <= best:
                break
    return answer
