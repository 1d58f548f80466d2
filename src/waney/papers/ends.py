"""Ends: one end of the log, flat in the log frame, with its rings and piths and what every pass makes of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.papers.svg import lines_of
from waney.sawing.facts.walk import Cut, Part, Point, SectionPlane, walked
from waney.sawing.mill import End, Mill
from waney.sawing.plan import Plan

Array = NDArray[np.float64]

RINGS = 9
"""lines of equal s that are drawn"""


@dataclass(frozen=True)
class LogEnd:
    """One end of the log with all that a plan does to it. Areas and lines in the log frame, metres."""

    bark: shapely.Polygon
    wood: shapely.Polygon
    rings: tuple[tuple[Point, ...], ...]
    piths: tuple[Point, ...]
    cuts: tuple[Cut, ...]
    parts: tuple[Part, ...]
    planes: tuple[SectionPlane, ...]
    """for each lie"""
    on_bed: tuple[shapely.Geometry, ...]
    """with bark, what lies there when each lie begins"""


def end_z(shape: LogShape, end: End) -> float:
    """Where along the log that end is [m]."""
    return 0.0 if end is End.BUTT else shape.length_m


def log_end(plan: Plan, shape: LogShape, mill: Mill, end: End) -> LogEnd:
    """One end of the log, walked through all moves of a plan."""
    z = end_z(shape, end)
    seen = walked(plan, shape, mill, 0 if end is End.BUTT else -1)
    pith, _ = shape.rings.section(z)
    piths = tuple((float(x), float(y)) for x, y in pith)
    rings = ring_lines(shape.rings, z, seen.wood)
    return LogEnd(seen.bark, seen.wood, rings, piths, seen.cuts, seen.parts, seen.planes, seen.on_bed)


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
