"""Walk: one cross-section of a log through all moves of a plan: what each pass takes off it, and what stays on the bed.

A pass is a plane; on a cross-section it is a line that parts what is still there into what comes off, kerf, and what stays.
Drawings of the ends, weights beside the acts and widths of opened faces are all made from this one walk.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.shape import LogShape
from waney.sawing.mill import Mill
from waney.sawing.moves import Pass, Turn
from waney.sawing.plan import Plan

Array = NDArray[np.float64]
Point = tuple[float, float]

FAR_M = 100.0
"""beyond any log"""


@dataclass(frozen=True)
class SectionPlane:
    """A cross-section of the log as it stands in one lie: log-frame x, y at that height z <-> saw-frame u, v [m]."""

    to_saw: Placing
    z_m: float

    def uv(self, xy: Array) -> Array:
        """Points (..., 2) of the section, carried to the saw frame."""
        z = np.full((*xy.shape[:-1], 1), self.z_m)
        return self.to_saw.there(np.concatenate([xy, z], axis=-1))[..., :2]

    def xy(self, uv: Array) -> Array:
        """The inverse of `uv`."""
        turn = np.array(self.to_saw.turn)[:2, :2]
        return np.linalg.solve(turn, (uv - self.uv(np.zeros(2))).T).T

    def above(self, v_m: float) -> shapely.Polygon:
        """All points of the section that stand higher than v, log frame."""
        corners = np.array([(-FAR_M, v_m), (FAR_M, v_m), (FAR_M, v_m + FAR_M), (-FAR_M, v_m + FAR_M)])
        return shapely.Polygon(self.xy(corners))

    def level(self, v_m: float) -> shapely.LineString:
        """The line at height v, log frame."""
        return shapely.LineString(self.xy(np.array([(-FAR_M, v_m), (FAR_M, v_m)])))


@dataclass(frozen=True)
class Cut:
    """A pass as it shows on the section: from edge to edge over bark, log frame [m]."""

    number: int
    """from 1, in the order sawn, over all lies"""
    lie: int
    height_steps: int
    comes_off: str
    stroke: tuple[Point, Point] | None
    """None where the pass misses this section of a tapered or swept log"""


@dataclass(frozen=True)
class Part:
    """What one pass takes off, or what stays last, as it shows on the section: log frame [m]."""

    name: str
    lie: int
    area: shapely.Geometry
    """wood only"""
    with_bark: shapely.Geometry


@dataclass(frozen=True)
class Walked:
    """One cross-section with all that a plan does to it. Areas and lines in the log frame, metres."""

    z_m: float
    bark: shapely.Polygon
    wood: shapely.Polygon
    planes: tuple[SectionPlane, ...]
    """for each lie"""
    cuts: tuple[Cut, ...]
    parts: tuple[Part, ...]
    """one for each cut, in order, and what stays last"""
    on_bed: tuple[shapely.Geometry, ...]
    """with bark, what lies there when each lie begins"""


def walked(plan: Plan, shape: LogShape, mill: Mill, station: int) -> Walked:
    """The cross-section at one station of the shape, walked through all moves."""
    z = float(shape.z_m[station])
    bark, wood = (shapely.Polygon(shape.surface(bark=b)[station, :, :2]) for b in (True, False))
    planes = tuple(SectionPlane(to_saw, z) for to_saw in plan.lies)
    walk = _Walk(plan, mill, planes, bark, wood)
    return Walked(z, bark, wood, planes, tuple(walk.cuts), tuple(walk.parts), tuple(walk.on_bed))


class _Walk:
    """The moves, one after another, on one section."""

    def __init__(
        self, plan: Plan, mill: Mill, planes: tuple[SectionPlane, ...], bark: shapely.Polygon, wood: shapely.Polygon
    ) -> None:
        self.mill, self.planes, self.wood, self.left = mill, planes, wood, bark
        self.lie = 0
        self.on_bed: list[shapely.Geometry] = [bark]
        self.cuts: list[Cut] = []
        self.parts: list[Part] = []
        for move in plan.moves:
            if isinstance(move, Turn):
                self._turn()
            elif isinstance(move, Pass):
                self._pass(move)
        if self.cuts:
            self._part(last_name(plan), self.left)

    def _turn(self) -> None:
        self.lie += 1
        self.on_bed.append(self.left)

    def _pass(self, move: Pass) -> None:
        plane, height = self.planes[self.lie], move.height_steps * self.mill.step_m
        strokes = _strokes(self.left.intersection(plane.level(height)))
        stroke = _ends(strokes, plane) if strokes else None
        self.cuts.append(Cut(len(self.cuts) + 1, self.lie, move.height_steps, move.comes_off, stroke))
        self._part(move.comes_off, self.left.intersection(plane.above(height + self.mill.kerf_m)))
        self.left = self.left.difference(plane.above(height))

    def _part(self, name: str, with_bark: shapely.Geometry) -> None:
        self.parts.append(Part(name, self.lie, with_bark.intersection(self.wood), with_bark))


def _strokes(shape: shapely.Geometry) -> list[list[Point]]:
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    return [list(part.coords) for part in parts if part.geom_type == "LineString" and len(part.coords) > 1]


def _ends(strokes: list[list[Point]], plane: SectionPlane) -> tuple[Point, Point]:
    """The outermost points of a level cut, from low u to high u."""
    points = [point for stroke in strokes for point in (stroke[0], stroke[-1])]
    points.sort(key=lambda point: float(plane.uv(np.array(point))[0]))
    return points[0], points[-1]


def last_name(plan: Plan) -> str:
    """The name of what lies on the bed after the last pass; "" for an outside slab that the plan does not name."""
    last = len(plan.lies) - 1
    return next((planned.piece.name for planned in plan.pieces if planned.lie == last and planned.lower_steps == 0), "")
