"""Grain: which way the rings run through a slice, sampled over its mid-plane."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, cos, floor, pi, radians, sin

import numpy as np
from numpy.typing import NDArray

from waney.logs.rings import UNDEFINED_WITHIN_M, RingField
from waney.prices.product import Grain
from waney.sawing.check.slices import MIDDLE, Slice

Array = NDArray[np.float64]

STATIONS, ACROSS = 9, 8
LIMIT_DEG = {Grain.FLAT: (0.0, 30.0), Grain.RIFT: (30.0, 60.0), Grain.QUARTER: (60.0, 90.0)}
"""ring angle of the face, design section 4"""


@dataclass(frozen=True)
class Sample:
    """One point of the mid-plane: its station in the slice, its u [m], the squared cosine between radius and face normal."""

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


def samples_of(piece: Slice) -> tuple[Sample, ...]:
    """The 9 x 8 points, less those without a chord or too near the pith."""
    return tuple(_samples(piece))


def _samples(piece: Slice) -> Iterator[Sample]:
    n = len(piece.w_m)
    for station in (round(i * (n - 1) / (STATIONS - 1)) for i in range(STATIONS)):
        low, high = piece.low[MIDDLE, station], piece.high[MIDDLE, station]
        for part in range(ACROSS if high > low else 0):
            u = float(low + (high - low) * (part + 0.5) / ACROSS)
            c2 = _upright(piece, np.array([u, piece.middle_m, piece.w_m[station]]))
            if c2 is not None:
                yield Sample(station, u, c2)


def _upright(piece: Slice, at: Array) -> float | None:
    lie = piece.sections.lie
    radius = ring_gradient(piece.sections.left.shape.rings, lie.back(at))
    if radius is None:
        return None
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


def mean_c2(samples: tuple[Sample, ...]) -> float:
    """Mean over the slice; one half when no point is left."""
    return float(np.mean([sample.c2 for sample in samples])) if samples else 0.5
