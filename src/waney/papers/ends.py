"""Ends: one end of the log, flat in the log frame, and what every pass makes of it.

Each pass is a plane; on an end it is a line that parts what is still there into what comes off and what stays. Drawings of
the butt and of every lie on the bed are made from this one walk through the moves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.papers.svg import lines_of
from waney.sawing.mill import End, Mill
from waney.sawing.moves import Pass, Turn
from waney.sawing.plan import Plan

Array = NDArray[np.float64]
Point = tuple[float, float]

FAR_M = 100.0
"""beyond any log"""
RINGS = 9
"""lines of equal s that are drawn"""


@dataclass(frozen=True)
class EndPlane:
    """An end of the log as it stands in one lie: log-frame x, y at that end <-> saw-frame u, v [m]."""

    to_saw: Placing
    z_m: float

    def uv(self, xy: Array) -> Array:
        """Points (..., 2) of the end, carried to the saw frame."""
        z = np.full((*xy.shape[:-1], 1), self.z_m)
        return self.to_saw.there(np.concatenate([xy, z], axis=-1))[..., :2]

    def xy(self, uv: Array) -> Array:
        """The inverse of `uv`."""
        turn = np.array(self.to_saw.turn)[:2, :2]
        return np.linalg.solve(turn, (uv - self.uv(np.zeros(2))).T).T

    def above(self, v_m: float) -> shapely.Polygon:
        """All points of the end that stand higher than v, log frame."""
        corners = np.array([(-FAR_M, v_m), (FAR_M, v_m), (FAR_M, v_m + FAR_M), (-FAR_M, v_m + FAR_M)])
        return shapely.Polygon(self.xy(corners))

    def level(self, v_m: float) -> shapely.LineString:
        """The line at height v, log frame."""
        return shapely.LineString(self.xy(np.array([(-FAR_M, v_m), (FAR_M, v_m)])))


@dataclass(frozen=True)
class Cut:
    """A pass as it shows on the end: from edge to edge over bark, log frame [m]."""

    number: int
    """from 1, in the order sawn, over all lies"""
    lie: int
    height_steps: int
    comes_off: str
    stroke: tuple[Point, Point] | None
    """None where the pass misses this end of a tapered or swept log"""


@dataclass(frozen=True)
class Part:
    """What one pass takes off, or what stays last, as it shows on the end: wood only, log frame [m]."""

    name: str
    lie: int
    area: shapely.Geometry


@dataclass(frozen=True)
class LogEnd:
    """One end of the log with all that a plan does to it. Areas and lines in the log frame, metres."""

    z_m: float
    bark: shapely.Polygon
    wood: shapely.Polygon
    rings: tuple[tuple[Point, ...], ...]
    piths: tuple[Point, ...]
    cuts: tuple[Cut, ...]
    parts: tuple[Part, ...]
    planes: tuple[EndPlane, ...]
    """for each lie"""
    on_bed: tuple[shapely.Geometry, ...]
    """with bark, what lies there when each lie begins"""


def end_z(shape: LogShape, end: End) -> float:
    """Where along the log that end is [m]."""
    return 0.0 if end is End.BUTT else shape.length_m


def log_end(plan: Plan, shape: LogShape, mill: Mill, end: End) -> LogEnd:
    """One end of the log, walked through all moves of a plan."""
    z = end_z(shape, end)
    station = 0 if end is End.BUTT else -1
    bark = shapely.Polygon(shape.surface(bark=True)[station, :, :2])
    wood = shapely.Polygon(shape.surface(bark=False)[station, :, :2])
    planes = tuple(EndPlane(to_saw, z) for to_saw in plan.lies)
    walk = _Walk(plan, mill, planes, bark, wood)
    pith, _ = shape.rings.section(z)
    piths = tuple((float(x), float(y)) for x, y in pith)
    rings = ring_lines(shape.rings, z, wood)
    return LogEnd(z, bark, wood, rings, piths, tuple(walk.cuts), tuple(walk.parts), planes, tuple(walk.on_bed))


class _Walk:
    """The moves, one after another, on one end."""

    def __init__(
        self, plan: Plan, mill: Mill, planes: tuple[EndPlane, ...], bark: shapely.Polygon, wood: shapely.Polygon
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
            self.parts.append(Part(last_name(plan), self.lie, self.left.intersection(wood)))

    def _turn(self) -> None:
        self.lie += 1
        self.on_bed.append(self.left)

    def _pass(self, move: Pass) -> None:
        plane, height = self.planes[self.lie], move.height_steps * self.mill.step_m
        strokes = lines_of(self.left.intersection(plane.level(height)))
        stroke = _ends(strokes, plane) if strokes else None
        self.cuts.append(Cut(len(self.cuts) + 1, self.lie, move.height_steps, move.comes_off, stroke))
        off = self.left.intersection(plane.above(height + self.mill.kerf_m))
        self.parts.append(Part(move.comes_off, self.lie, off.intersection(self.wood)))
        self.left = self.left.difference(plane.above(height))


def _ends(strokes: list[list[Point]], plane: EndPlane) -> tuple[Point, Point]:
    """The outermost points of a level cut, from low u to high u."""
    points = [point for stroke in strokes for point in (stroke[0], stroke[-1])]
    points.sort(key=lambda point: float(plane.uv(np.array(point))[0]))
    return points[0], points[-1]


def last_name(plan: Plan) -> str:
    """The name of what lies on the bed after the last pass; "" for an outside slab that the plan does not name."""
    last = len(plan.lies) - 1
    return next((planned.piece.name for planned in plan.pieces if planned.lie == last and planned.lower_steps == 0), "")


def ring_lines(field: RingField, z_m: float, wood: shapely.Polygon) -> tuple[tuple[Point, ...], ...]:
    """Lines of equal s at one height, cut to the wood; of two piths the nearer rules."""
    piths, reaches = field.section(z_m)
    angle = 2.0 * np.pi * np.arange(reaches.shape[1]) / reaches.shape[1]
    out = np.column_stack([np.cos(angle), np.sin(angle)])
    lines: list[tuple[Point, ...]] = []
    for i in range(1, RINGS + 1):
        share = i / (RINGS + 1)
        rounds = [shapely.Polygon(pith + share * reach[:, None] * out) for pith, reach in zip(piths, reaches, strict=True)]
        edge = shapely.unary_union(rounds).boundary.intersection(wood)
        merged = shapely.line_merge(edge) if edge.geom_type == "MultiLineString" else edge
        lines += [tuple(stroke) for stroke in lines_of(merged)]
    return tuple(lines)
