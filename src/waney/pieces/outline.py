"""Outline: the edge of a live-edge piece seen from above, with holes, and what is measured on it. Metres.

x runs along the piece from the marked end, y across it. A face that was not looked at is not known: what needs both says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry import Polygon

from waney.figures.problem import Problem
from waney.pieces.piece import FACE_A, FACE_B, Piece
from waney.pieces.rectangle import Rectangle, largest_rectangle
from waney.pieces.windows import Window

Array = NDArray[np.float64]
STATIONS = 65
"""Places along a piece at which its outline is read as two edges."""
FEWEST = 3


class BadEdge(Problem):
    """An outline that encloses nothing, or crosses itself."""


@dataclass(frozen=True, eq=False)
class Outline:
    """edge_m (n, 2), in order round the piece; holes_m: each (k, 2)."""

    edge_m: Array
    holes_m: tuple[Array, ...] = ()

    def __post_init__(self) -> None:
        for ring in (self.edge_m, *self.holes_m):
            if len(ring) < FEWEST:
                raise BadEdge(f"An outline of {len(ring)} points encloses nothing; give three or more, in order round the piece.")
        if not Polygon(self.edge_m).is_valid:
            raise BadEdge("The outline crosses itself; give its points in order round the piece.")

    @property
    def area_m2(self) -> float:
        """Wood seen from above, holes taken off."""
        return ring_area(self.edge_m) - sum(ring_area(hole) for hole in self.holes_m)

    @property
    def length_m(self) -> float:
        """From end to end along x."""
        return float(np.ptp(self.edge_m[:, 0]))

    @property
    def region(self) -> Polygon:
        """The same as a polygon with holes."""
        return Polygon(self.edge_m, self.holes_m)

    def rectangle(self, keep_off: Sequence[Array] = ()) -> Rectangle:
        """The largest rectangle at any angle, free of holes and of further rings (k, 2). Raises BadEdge when there is none."""
        free = self.region
        for ring in keep_off:
            free = shapely.difference(free, Polygon(ring))
        found = largest_rectangle(free)
        if found is None:
            raise BadEdge("No rectangle is free of what was marked.")
        return found

    def overlap(self, other: Outline) -> Outline:
        """What lies inside both, the largest part of it. Raises BadEdge when nothing does."""
        parts = shapely.get_parts(shapely.intersection(self.region, other.region))
        largest = max((part for part in parts if part.geom_type == "Polygon"), key=lambda part: part.area, default=None)
        if largest is None:
            raise BadEdge("The outlines of both faces do not lie over each other; measure both from the same end.")
        rings = [np.asarray(ring.coords)[:-1] for ring in (largest.exterior, *largest.interiors)]
        return Outline(rings[0], tuple(rings[1:]))

    def edges_at(self, along_m: Array) -> tuple[Array, Array]:
        """Lowest and highest y at places along x, nan where there is no wood, each (k,)."""
        start, end = self.edge_m, np.roll(self.edge_m, -1, axis=0)
        low, high = np.full(len(along_m), np.nan), np.full(len(along_m), np.nan)
        for k, x in enumerate(along_m):
            crossed = (np.minimum(start[:, 0], end[:, 0]) <= x) & (np.maximum(start[:, 0], end[:, 0]) >= x)
            if crossed.any():
                y = _crossings(start[crossed], end[crossed], float(x))
                low[k], high[k] = y.min(), y.max()
        return low, high


STEEP = 1.0
"""Change of width over change of place from which a stretch belongs to a slanting end: both sides together 45 degrees. Ours."""


def square_window(piece: Piece) -> Window:
    """The stretch between square cuts that take slanting ends off: there the width changes faster than any live edge flares.

    The whole piece where ends are square already, or nothing else would be left.
    """
    width = (piece.high_y_m - piece.low_y_m)[[FACE_B, FACE_A]].min(axis=0)
    steep = np.abs(np.diff(width)) > STEEP * np.diff(piece.along_m)
    calm = np.flatnonzero(~steep)
    whole = Window(0, len(width) - 1)
    if len(calm) < len(steep) // 2:
        return whole
    return Window(int(calm[0]), int(calm[-1]) + 1)


def _crossings(start: Array, end: Array, x: float) -> Array:
    """y of edges at x; both ends of one that runs straight across."""
    run = end[:, 0] - start[:, 0]
    across = np.abs(run) < 1e-12
    share = np.where(across, 0.0, (x - start[:, 0]) / np.where(across, 1.0, run))
    y: Array = np.concatenate([start[:, 1] + share * (end[:, 1] - start[:, 1]), end[across, 1]])
    return y


def ring_area(ring_m: Array) -> float:
    """Area inside a closed ring of points (n, 2), either way round [m2]."""
    x, y = (ring_m - ring_m[0]).T
    return abs(float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))) / 2.0


def from_offsets(at_m: Sequence[float], left_m: Sequence[float], right_m: Sequence[float]) -> Outline:
    """From distances of both edges to a straight line along the piece, at places along it. Raises BadEdge.

    left_m, right_m: from the line to the edge on either side, at each place; straight between the places.
    """
    if not len(at_m) == len(left_m) == len(right_m) or len(at_m) < 2:
        raise BadEdge("Give the left and the right edge at the same places along the line, two at least.")
    if any(b <= a for a, b in pairwise(at_m)):
        raise BadEdge("Places along the line rise from one end to the other.")
    if any(a + b <= 0.0 for a, b in zip(left_m, right_m, strict=True)):
        raise BadEdge("The right edge lies left of the left one somewhere; give distances from one line to both sides.")
    left, right = np.column_stack([at_m, left_m]), np.column_stack([at_m, np.negative(right_m)])
    return Outline(np.vstack([right, left[::-1]]))


def lying_along(edge_m: Array, towards: Array) -> tuple[Array, Array]:
    """Turn and shift that lay a ring (n, 2) along x from its end at 0, its lowest edge at y = 0: (2, 2), (2,).

    towards (2,): the direction that its x shall rather have than the opposite one.
    """
    hull = np.asarray(shapely.minimum_rotated_rectangle(Polygon(edge_m)).exterior.coords)
    sides = np.diff(hull, axis=0)
    along = sides[int(np.argmax(np.hypot(*sides.T)))]
    along = along / np.hypot(*along) * (1.0 if along @ towards >= 0.0 else -1.0)
    turn = np.array([along, [-along[1], along[0]]])
    return turn, -(edge_m @ turn.T).min(axis=0)


def piece_of(name: str, species: str, thickness_m: float, face_a: Outline, face_b: Outline | None) -> Piece:
    """A piece with the edges of its two faces at even stations (the other face like this one where it was not looked at).

    The ends are those that both faces have. Sizes are as measured, no log is known. Raises BadEdge where faces do not meet.
    """
    faces = (face_b or face_a, face_a)
    first = max(float(face.edge_m[:, 0].min()) for face in faces)
    last = min(float(face.edge_m[:, 0].max()) for face in faces)
    if last <= first:
        raise BadEdge("The outlines of both faces do not lie over each other; measure both from the same end.")
    along = np.linspace(first, last, STATIONS)
    inner = along.copy()
    inner[0], inner[-1] = along[0] + 1e-6, along[-1] - 1e-6  # on the very end a slanting end has no width
    low, high = (np.array(side) for side in zip(*(face.edges_at(inner) for face in faces), strict=True))
    planes_low, planes_high = (np.stack([side[0], side.mean(axis=0), side[1]]) for side in (low, high))
    middle = np.array([(first + last) / 2.0, (np.nanmin(planes_low) + np.nanmax(planes_high)) / 2.0])
    return Piece(
        name, species, thickness_m, along - middle[0], planes_low - middle[1], planes_high - middle[1], np.zeros((0, STATIONS, 2))
    )
