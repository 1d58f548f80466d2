"""Grain: which way the rings run through a slice, looked at on the lattice of its lie over the mid-plane."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import atan2, cos, floor, pi, radians, sin

import numpy as np
from numpy.typing import NDArray

from waney.logs.rings import UNDEFINED_WITHIN_M, RingField
from waney.prices.product import Grain
from waney.sawing.check.slices import MIDDLE, Slice

Array = NDArray[np.float64]

STATIONS = 5
LATTICE_M = 0.02
LIMIT_DEG = {Grain.FLAT: (0.0, 30.0), Grain.RIFT: (30.0, 60.0), Grain.QUARTER: (60.0, 90.0)}
"""ring angle of the face, design section 4"""


@dataclass(frozen=True)
class Sample:
    """One lattice column in the mid-plane: its station in the slice, u [m], squared cosine between radius and face normal."""

    station: int
    u_m: float
    c2: float

    def has(self, grain: Grain, slack_deg: float) -> bool:
        """Whether the ring angle here is of that grain, the limits moved apart by a slack."""
        low, high = LIMIT_DEG[grain]
        return bool(_c2_at(high + slack_deg) <= self.c2 <= _c2_at(low - slack_deg))


def _c2_at(ring_angle_deg: float) -> float:
    """Ring angle 0 is flat: the radius stands upright on the face."""
    return cos(radians(min(max(ring_angle_deg, 0.0), 90.0))) ** 2


@dataclass(frozen=True, eq=False)
class Line:
    """c2 across the mid-plane at one station: at lattice columns u (k,) and at both ends of the chord, straight between them."""

    station: int
    u_m: Array
    c2: Array
    low_m: float
    high_m: float

    @cached_property
    def area_m(self) -> float:
        """c2 summed along the chord [m], cell by cell of the lattice."""
        total = 0.0
        for left, right, a, b in zip(self.u_m[:-1], self.u_m[1:], self.c2[:-1], self.c2[1:], strict=True):
            start, stop = max(left, self.low_m), min(right, self.high_m)
            if stop > start:
                middle = (start + stop) / 2
                total += float((a + (b - a) * (middle - left) / (right - left)) * (stop - start))
        return total

    def samples(self) -> tuple[Sample, ...]:
        """The columns inside the chord."""
        return tuple(
            Sample(self.station, float(u), float(c2))
            for u, c2 in zip(self.u_m, self.c2, strict=True)
            if self.low_m <= u <= self.high_m
        )


@dataclass(frozen=True, eq=False)
class Grained:
    """The mid-plane of a slice as its rings cross it."""

    lines: tuple[Line, ...]

    @property
    def samples(self) -> tuple[Sample, ...]:
        """All lattice columns inside the wood."""
        return tuple(sample for line in self.lines for sample in line.samples())

    @property
    def mean_c2(self) -> float:
        """Mean over the chords; one half when there is no wood."""
        width = sum(line.high_m - line.low_m for line in self.lines)
        return sum(line.area_m for line in self.lines) / width if width > 0.0 else 0.5


def grained(piece: Slice) -> Grained:
    """Look at the five stations of a slice."""
    n = len(piece.w_m)
    stations = [round(i * (n - 1) / (STATIONS - 1)) for i in range(STATIONS)]
    edges = [(i, float(piece.low[MIDDLE, i]), float(piece.high[MIDDLE, i])) for i in stations]
    return Grained(tuple(_line(piece, i, low, high) for i, low, high in edges if high > low))


def _line(piece: Slice, station: int, low: float, high: float) -> Line:
    """The lattice has a point where the log frame's origin comes to lie, and its rows are level."""
    u0, v0, _ = piece.sections.lie.there(np.zeros(3))
    first, last = floor((low - u0) / LATTICE_M), floor((high - u0) / LATTICE_M) + 1
    u = np.array([u0 + column * LATTICE_M for column in range(first, last + 1)])
    row = floor((piece.middle_m - v0) / LATTICE_M)
    share = (piece.middle_m - v0) / LATTICE_M - row
    w = float(piece.w_m[station])
    c2 = [
        (1 - share) * _upright(piece, np.array([at, v0 + row * LATTICE_M, w]))
        + share * _upright(piece, np.array([at, v0 + (row + 1) * LATTICE_M, w]))
        for at in u
    ]
    return Line(station, u, np.array(c2), low, high)


def _upright(piece: Slice, at: Array) -> float:
    lie = piece.sections.lie
    radius = ring_gradient(piece.sections.left.shape.rings, lie.back(at))
    if radius is None:
        return 0.5
    across, up, _ = np.array(lie.turn) @ radius
    return float(up**2 / (across**2 + up**2))


def ring_gradient(rings: RingField, at: Array) -> Array | None:
    """Gradient of s within the section at a log-frame point (3,); None too near the pith that rules there.

    With s = r / R(a): ds/dr = 1/R and ds/(r da) = -R'/R2, R straight between its directions.
    """
    piths, reaches = rings.section(float(at[2]))
    fields = [_polar(reach, at[:2] - pith) for pith, reach in zip(piths, reaches, strict=True)]
    radius, angle, reach, slope = min(fields, key=lambda f: f[0] / f[2])
    if radius < UNDEFINED_WITHIN_M:
        return None
    outward, around = np.array([cos(angle), sin(angle), 0.0]), np.array([-sin(angle), cos(angle), 0.0])
    gradient: Array = outward / reach - around * slope / reach**2
    return gradient


def _polar(reaches: Array, offset: Array) -> tuple[float, float, float, float]:
    """Distance and direction of a point from a pith, and R and dR/da in that direction."""
    m = len(reaches)
    angle = atan2(float(offset[1]), float(offset[0]))
    place = (angle / (2 * pi) * m) % m
    j = floor(place) % m
    here, after = float(reaches[j]), float(reaches[(j + 1) % m])
    return float(np.hypot(*offset)), angle, here + (place - j) * (after - here), (after - here) * m / (2 * pi)
