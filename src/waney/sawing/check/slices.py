"""Slices: the wood between two faces in one lie, at consecutive stations."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from waney.sawing.check.inside import Rod, piths_at, rod_of
from waney.sawing.check.sections import Sections

Array = NDArray[np.float64]

LOWER, MIDDLE, UPPER = 0, 1, 2
NO_WIDTH_M = 1e-6
"""A chord this narrow and no chord at all are the same."""


@dataclass(frozen=True, eq=False)
class Slice:
    """Everything in the saw frame (u, v, w) of its lie, metres; stations first..last of that lie, both included."""

    sections: Sections
    lower_m: float
    upper_m: float
    first: int
    last: int

    @property
    def thickness_m(self) -> float:
        """From face to face."""
        return self.upper_m - self.lower_m

    @property
    def middle_m(self) -> float:
        """Height of the mid-plane."""
        return (self.lower_m + self.upper_m) / 2

    @cached_property
    def w_m(self) -> Array:
        """Its stations (n,)."""
        return self.sections.w_m[self.first : self.last + 1]

    @property
    def spacing_m(self) -> float:
        """Between stations."""
        return float(self.w_m[1] - self.w_m[0])

    @cached_property
    def everywhere(self) -> Array:
        """Edges at all stations of the lie (3, 2, W): lower face, mid-plane, upper face; low, high."""
        return np.array([self.sections.chords(v) for v in (self.lower_m, self.middle_m, self.upper_m)])

    @cached_property
    def low(self) -> Array:
        """Low edges (3, n)."""
        return self.everywhere[:, 0, self.first : self.last + 1]

    @cached_property
    def high(self) -> Array:
        """High edges (3, n)."""
        return self.everywhere[:, 1, self.first : self.last + 1]

    @cached_property
    def stations_with_wood(self) -> frozenset[int]:
        """Stations of the lie where any of the three planes meets wood."""
        widths = np.nan_to_num(self.everywhere[:, 1] - self.everywhere[:, 0])
        return frozenset(int(i) for i in np.flatnonzero(np.any(widths > NO_WIDTH_M, axis=0)))

    @cached_property
    def piths(self) -> Array:
        """u, v of the piths at its stations (k, n, 2)."""
        return piths_at(self.sections.left.shape.rings, self.sections.lie, self.w_m)

    @cached_property
    def rods(self) -> tuple[Rod, ...]:
        """All zones of the log, in this lie."""
        return tuple(rod_of(zone, self.sections.lie) for zone in self.sections.left.shape.zones)

    @property
    def box_middle_u_m(self) -> float:
        """u of the middle of the bounding box: where the piece's own y is 0."""
        return (float(np.nanmin(self.low)) + float(np.nanmax(self.high))) / 2

    def own_x_m(self, station: int) -> float:
        """A station in the piece's own frame, which has its origin half way along."""
        return float(self.w_m[station] - (self.w_m[0] + self.w_m[-1]) / 2)

    def volume_m3(self, start: int = 0, stop: int | None = None) -> float:
        """Wood between two of its stations [m3]: (a + 4 m + b)/6 across the thickness, trapezoids along."""
        a, m, b = np.nan_to_num(self.high - self.low)[:, start : None if stop is None else stop + 1]
        return self.thickness_m * self.spacing_m * trapezoids((a + 4 * m + b) / 6)


def trapezoids(values: Array) -> float:
    """Sum of trapezoids one step wide."""
    return float(np.sum(values[:-1] + values[1:]) / 2)
