"""Cross-sections of what is left in one lie: stations along the square length, outlines there, chords at a height."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.shape import LogShape
from waney.sawing.check import polygon
from waney.sawing.check.left import Left, Plane, upper_face

Array = NDArray[np.float64]

FOUR_GAPS_M = 0.3
ON_THE_PLANE_M = 1e-9


def stations_of(shape: LogShape, lie: Placing) -> Array:
    """w of the stations (W,) from one end of the square length to the other [m]."""
    wood = lie.there(shape.surface(bark=False))[:, :, 2]
    first, last = float(np.max(wood[0])), float(np.min(wood[-1]))
    return np.linspace(first, last, 1 + 4 * max(1, round((last - first) / FOUR_GAPS_M)))


def outlines_at(surface: Array, w: Array) -> Array:
    """Where the longitudinal lines of a surface (n, m, 3) in (u, v, w) cross the planes w (W,): corners (W, m, 2).

    A line that ends short of a plane gives its end point.
    """
    corners = np.empty((len(w), surface.shape[1], 2))
    for j in range(surface.shape[1]):
        for axis in (0, 1):
            corners[:, j, axis] = np.interp(w, surface[:, j, 2], surface[:, j, axis])
    return corners


@dataclass(frozen=True, eq=False)
class Outlines:
    """The whole log in one lie, cut across at the stations, before any plane cuts it off."""

    shape: LogShape
    lie: Placing

    @cached_property
    def w_m(self) -> Array:
        """Stations (W,) [m]."""
        return stations_of(self.shape, self.lie)

    @cached_property
    def wood(self) -> Array:
        """Corners inside bark (W, m, 2)."""
        return outlines_at(self.lie.there(self.shape.surface(bark=False)), self.w_m)

    @cached_property
    def outer(self) -> Array:
        """Corners with bark (W, m, 2)."""
        return outlines_at(self.lie.there(self.shape.surface(bark=True)), self.w_m)


@dataclass(frozen=True, eq=False)
class Sections:
    """What is left in one lie, cut across at the stations."""

    left: Left
    outlines: Outlines

    @classmethod
    def of(cls, left: Left, lie: Placing) -> Sections:
        """What is left, in a lie that it has just been put into."""
        return cls(left, Outlines(left.shape, lie))

    def below(self, height_m: float) -> Sections:
        """What is left after a pass at this height, still in the same lie."""
        return Sections(self.left.after(upper_face(self.lie, height_m)), self.outlines)

    @property
    def lie(self) -> Placing:
        """Log frame to saw frame."""
        return self.outlines.lie

    @property
    def w_m(self) -> Array:
        """Stations (W,) [m]."""
        return self.outlines.w_m

    @cached_property
    def planes(self) -> tuple[Plane, ...]:
        """The sawn planes in this lie."""
        return tuple(plane.seen_from(self.lie) for plane in self.left.planes)

    @cached_property
    def _planes(self) -> tuple[tuple[float, float, float, float], ...]:
        """Outward u, v, w and reach of every sawn plane, as plain numbers."""
        rows = (plane.outward.tolist() for plane in self.planes)
        return tuple((u, v, w, plane.reach) for (u, v, w), plane in zip(rows, self.planes, strict=True))

    @property
    def square_length_m(self) -> float:
        """From the first station to the last [m]."""
        return float(self.w_m[-1] - self.w_m[0])

    def between_planes(self, station: int, height_m: float) -> polygon.Run | None:
        """The u that the sawn planes leave at one station and height; None when a plane took that height away."""
        low, high = -np.inf, np.inf
        for sideways, up, along, at in self._planes:
            reach = at - up * height_m - along * float(self.w_m[station])
            if abs(sideways) < 1e-9:
                if reach < -ON_THE_PLANE_M:
                    return None
            elif sideways > 0:
                high = min(high, reach / sideways)
            else:
                low = max(low, reach / sideways)
        return (low, high) if low < high else None

    def chord(self, station: int, height_m: float, *, bark: bool) -> polygon.Run | None:
        """The longest interval of u at one station and height; None where there is nothing left."""
        room = self.between_planes(station, height_m)
        if room is None:
            return None
        outline = (self.outlines.outer if bark else self.outlines.wood)[station]
        cut = ((max(low, room[0]), min(high, room[1])) for low, high in polygon.runs_at(outline, height_m))
        return polygon.longest(tuple(run for run in cut if run[0] < run[1]))

    def chords(self, height_m: float, *, bark: bool = False) -> Array:
        """Low and high u at every station (2, W); nan where there is nothing left."""
        found = (self.chord(station, height_m, bark=bark) for station in range(len(self.w_m)))
        return np.array([run or (np.nan, np.nan) for run in found]).T

    def widest_m(self, height_m: float) -> float:
        """The widest chord with bark at this height [m]; 0 where the plane meets nothing."""
        low, high = self.chords(height_m, bark=True)
        widths = (high - low)[~np.isnan(low)]
        return float(np.max(widths)) if len(widths) else 0.0

    def top_m(self) -> float:
        """The highest outer point left at the stations [m]."""
        tops = [float(np.max(outline[:, 1])) for outline in map(self._left_of, range(len(self.w_m))) if len(outline)]
        return max(tops, default=0.0)

    def _left_of(self, station: int) -> Array:
        outline: Array = self.outlines.outer[station]
        for plane in self.planes:
            if len(outline):
                u, v, w = (float(c) for c in plane.outward)
                outline = polygon.cut_off(outline, (u, v), plane.reach - w * float(self.w_m[station]))
        return outline
