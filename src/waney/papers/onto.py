"""Onto: where a point of a log's end comes to lie on a drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import atan2, degrees

import numpy as np
import shapely
from numpy.typing import NDArray

from waney.logs.frames import butt_view, top_view
from waney.papers.svg import Spot
from waney.sawing.facts.walk import Point, SectionPlane
from waney.sawing.mill import End

Array = NDArray[np.float64]
View = Callable[[float, float], tuple[float, float]]

VIEWS: dict[End, View] = {End.BUTT: butt_view, End.TOP: top_view}


@dataclass(frozen=True)
class Onto:
    """From log-frame x, y of one end [m] to a sheet [mm]: turned by `plane` into its lie, seen from an end, scaled, moved."""

    plane: SectionPlane | None
    """None: the log as it stood when it was measured, 12 o'clock up"""
    seen_from: End
    scale: float
    """mm on the sheet for a metre of log"""
    shift: Spot = (0.0, 0.0)

    def spot(self, point: Point) -> Spot:
        """One point."""
        return self.spots(np.array([point]))[0]

    def spots(self, points: Array) -> list[Spot]:
        """Points (n, 2)."""
        turned = points if self.plane is None else self.plane.uv(points)
        return [self.flat(float(a), float(b)) for a, b in turned]

    def flat(self, u_m: float, v_m: float) -> Spot:
        """A point that is already in the frame of the drawing (saw frame u, v; or x, y)."""
        right, up = VIEWS[self.seen_from](u_m, v_m)
        return self.shift[0] + self.scale * right, self.shift[1] - self.scale * up

    def outlines(self, area: shapely.Geometry) -> list[list[Spot]]:
        """The outer outlines of an area."""
        parts = area.geoms if hasattr(area, "geoms") else [area]
        return [
            self.spots(np.array(part.exterior.coords[:-1])) for part in parts if part.geom_type == "Polygon" and not part.is_empty
        ]

    def angle(self, along: Point) -> float:
        """Degrees clockwise on the sheet of a log-frame direction, so that words along it never stand on their head."""
        (x0, y0), (x1, y1) = self.spots(np.array([(0.0, 0.0), along]))
        angle = degrees(atan2(y1 - y0, x1 - x0))
        return (angle + 90.0) % 180.0 - 90.0

    def extent(self, area: shapely.Geometry) -> tuple[float, float, float, float]:
        """left, top, right, bottom of an area on the sheet."""
        spots = np.array([spot for outline in self.outlines(area) for spot in outline])
        (left, top), (right, bottom) = spots.min(axis=0), spots.max(axis=0)
        return float(left), float(top), float(right), float(bottom)
