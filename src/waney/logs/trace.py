"""A log's end traced on a picture: points in the picture become an outline in the log frame.

A picture's x runs to the right and its y down. The camera looks square at the end; what a slanting view does to it is not undone.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import hypot, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import butt_view, clock_to_xy, top_view
from waney.logs.measured import Inside, PithReading, Point, RoundReading
from waney.logs.outline import BadOutline, centroid
from waney.logs.volume import areas

Array = NDArray[np.float64]


class End(StrEnum):
    """Which end is looked at."""

    BUTT = "butt"
    TOP = "top"


@dataclass(frozen=True)
class Picture:
    """How a picture of an end is to be read."""

    end: End
    metres_per_px: float
    up_clock_h: float = 12.0
    """clock position, always the butt's, that is up in the picture"""

    def to_log(self, points_px: Array) -> Array:
        """Points (N, 2) of the picture as log-frame x, y [m], about the picture's corner."""
        view = butt_view if self.end is End.BUTT else top_view
        seen = [view(self.metres_per_px * float(px), -self.metres_per_px * float(py)) for px, py in points_px]
        x, y = np.array(seen, dtype=float).reshape(-1, 2).T
        up_x, up_y = clock_to_xy(self.up_clock_h, 1.0)
        return np.stack([x * up_y + y * up_x, y * up_y - x * up_x], axis=1)


@dataclass(frozen=True)
class TracedEnd:
    """An outline and the piths marked on it, log-frame x, y about the outline's centroid [m]; runs from x towards y."""

    end: End
    outline_m: tuple[Point, ...]
    piths_m: tuple[Point, ...]
    diameter_m: float
    """of the circle of the same area"""

    def reading(self, at_m: float, over: Inside = Inside.WOOD) -> RoundReading:
        """As a reading round the log at a distance from the butt."""
        return RoundReading(at_m, over, trace_m=self.outline_m)

    def pith_readings(self, at_m: float) -> tuple[PithReading, ...]:
        """The marked piths as readings at a distance from the butt."""
        return tuple(PithReading(at_m, offset, which) for which, offset in enumerate(self.piths_m))


def scale_by_distance(from_px: Point, to_px: Point, distance_m: float) -> float:
    """Metres for one pixel, from two points of the picture that lie a known distance apart. Raises BadOutline."""
    apart = hypot(to_px[0] - from_px[0], to_px[1] - from_px[1])
    if apart <= 0.0 or distance_m <= 0.0:
        raise BadOutline("The scale needs two different points and the distance between them, above zero.")
    return distance_m / apart


def scale_by_diameter(outline_px: tuple[Point, ...], diameter_m: float) -> float:
    """Metres for one pixel, from the end's mean diameter (of the circle of the same area). Raises BadOutline."""
    points = _points(outline_px)
    centroid(points)  # refuses an outline that encloses nothing
    return diameter_m / (2.0 * sqrt(abs(float(areas(points[None])[0])) / pi))


def traced_end(picture: Picture, outline_px: tuple[Point, ...], piths_px: tuple[Point, ...] = ()) -> TracedEnd:
    """The end as it was traced, in order round it, either way. Raises BadOutline when it encloses nothing."""
    outline = picture.to_log(_points(outline_px))
    middle = centroid(outline)
    area = float(areas(outline[None])[0])
    centred = (outline - middle)[:: 1 if area > 0.0 else -1]
    piths = picture.to_log(np.array(piths_px, dtype=float).reshape(-1, 2)) - middle
    return TracedEnd(picture.end, _pairs(centred), _pairs(piths), 2.0 * sqrt(abs(area) / pi))


def _points(outline_px: tuple[Point, ...]) -> Array:
    if len(outline_px) < 8:
        raise BadOutline(f"An outline of {len(outline_px)} points is too coarse; trace at least 8 round the end.")
    return np.array(outline_px, dtype=float)


def _pairs(points: Array) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)
