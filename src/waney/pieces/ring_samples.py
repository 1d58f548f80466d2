"""Ring angles on a piece: 9 stations x 8 places across, on the mid-plane or on a face.

c2 of a place: cos² of the angle between the radial direction and the normal of the face; 1 is flat, 0 is quarter grain.
The radial direction is the in-section gradient of s = rho / R(angle) about the pith that rules there (`logs.rings`).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, floor, hypot, pi, radians

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.rings import UNDEFINED_WITHIN_M, RingField
from waney.pieces.piece import MID_PLANE, Piece

Array = NDArray[np.float64]
Whole = NDArray[np.int64]
Vector = tuple[float, float]

STATIONS = 9
ACROSS = 8
C2_NOT_KNOWN = 0.5
"""Half way between flat and quarter, where no ring angle is known (docs/design/sawing.md)."""


@dataclass(frozen=True)
class GrainLimits:
    """Ring angles [degrees] below which a face is flat and from which it is quarter grain; rift between."""

    flat_below_deg: float = 30.0
    quarter_from_deg: float = 60.0

    @property
    def flat_above_c2(self) -> float:
        """Flat grain has a larger c2 than this."""
        return cos(radians(self.flat_below_deg)) ** 2

    @property
    def quarter_up_to_c2(self) -> float:
        """Quarter grain has at most this c2."""
        return cos(radians(self.quarter_from_deg)) ** 2


@dataclass(frozen=True)
class Shares:
    """Shares of a face by grain, each 0..1; they sum to 1, or all are 0 where no ring angle is known."""

    flat: float
    rift: float
    quarter: float


@dataclass(frozen=True, eq=False)
class RingSamples:
    """Places with a known ring angle: station index (p,), y [m] in the piece frame (p,), c2 (p,)."""

    station: Whole
    y_m: Array
    c2: Array

    @property
    def mean_c2(self) -> float:
        """Mean c2, or 0.5 when no place is left."""
        return float(np.mean(self.c2)) if len(self.c2) else C2_NOT_KNOWN

    @property
    def angles_deg(self) -> Array:
        """Ring angle of each place, 0 flat to 90 quarter."""
        angles: Array = np.degrees(np.arccos(np.sqrt(np.clip(self.c2, 0.0, 1.0))))
        return angles

    def within(self, first: int, last: int, low_y_m: float, high_y_m: float) -> RingSamples:
        """The places at stations first..last and between two edges, ends included."""
        inside = (self.station >= first) & (self.station <= last) & (self.y_m >= low_y_m) & (self.y_m <= high_y_m)
        return RingSamples(self.station[inside], self.y_m[inside], self.c2[inside])

    def shares(self, limits: GrainLimits) -> Shares:
        """How much of the places is flat, rift and quarter grain."""
        count = len(self.c2)
        if not count:
            return Shares(0.0, 0.0, 0.0)
        flat = int(np.count_nonzero(self.c2 > limits.flat_above_c2))
        quarter = int(np.count_nonzero(self.c2 <= limits.quarter_up_to_c2))
        return Shares(flat / count, (count - flat - quarter) / count, quarter / count)


def sampled_stations(stations: int) -> tuple[int, ...]:
    """The nine stations looked at, out of so many: evenly spread, halves to the even one, repeated where there are fewer."""
    return tuple(round(i * (stations - 1) / (STATIONS - 1)) for i in range(STATIONS))


def radial_direction(rings: RingField, x_m: float, y_m: float, z_m: float) -> tuple[Vector, float]:
    """Unit gradient of s in the section at z, log frame x, y, and the distance [m] from the pith that rules there.

    At the pith itself the direction has no meaning; (1, 0) is returned with distance 0.
    """
    piths, reaches = rings.section(z_m)
    best_s, best = np.inf, ((1.0, 0.0), 0.0)
    for pith, reach in zip(piths, reaches, strict=True):
        s, direction, rho = _about_one_pith(reach, x_m - float(pith[0]), y_m - float(pith[1]))
        if s < best_s:
            best_s, best = s, (direction, rho)
    return best


def _about_one_pith(reach: Array, dx: float, dy: float) -> tuple[float, Vector, float]:
    """s, unit gradient of s, and distance, about one pith with its reaches (m,).

    In polar form grad s is parallel to e_rho - (R'/R) e_phi, with R linear in the angle between two directions.
    """
    rho = hypot(dx, dy)
    if rho == 0.0:
        return 0.0, (1.0, 0.0), 0.0
    m = len(reach)
    sector = 2.0 * pi / m
    angle = atan2(dy, dx) % (2.0 * pi)
    j = floor(angle / sector) % m
    here, following = float(reach[j]), float(reach[(j + 1) % m])
    r = here + (following - here) * (angle / sector - floor(angle / sector))
    turn = -(following - here) / sector / r
    length = hypot(1.0, turn)
    c, s = dx / rho, dy / rho
    return rho / r, ((c - turn * s) / length, (s + turn * c) / length), rho


def samples(piece: Piece, plane: int = MID_PLANE) -> RingSamples:
    """Ring samples on one plane of a piece (FACE_B, MID_PLANE, FACE_A).

    Places without wood or within 5 mm of the pith are left out; a piece without a log has none.
    """
    found: list[tuple[int, float, float]] = []
    if piece.rings is not None and piece.to_log is not None:
        z = (plane - MID_PLANE) * piece.thickness_m / 2.0
        for j in sampled_stations(len(piece.along_m)):
            for y in _places_across(float(piece.low_y_m[plane, j]), float(piece.high_y_m[plane, j])):
                c2 = _c2(piece.rings, piece.to_log, np.array([piece.along_m[j], y, z]))
                if c2 is not None:
                    found.append((j, y, c2))
    return RingSamples(
        np.array([j for j, _, _ in found], dtype=np.int64),
        np.array([y for _, y, _ in found], dtype=np.float64),
        np.array([c2 for _, _, c2 in found], dtype=np.float64),
    )


def _places_across(low_m: float, high_m: float) -> list[float]:
    """Middles of eight equal parts of a chord; none where there is no wood (nan)."""
    if not low_m < high_m:
        return []
    return [low_m + (k + 0.5) / ACROSS * (high_m - low_m) for k in range(ACROSS)]


def _c2(rings: RingField, to_log: Placing, point_m: Array) -> float | None:
    """cos² between radial direction and face normal at one point (3,) of the piece; None within 5 mm of the pith."""
    x, y, z = to_log.there(point_m)
    radial, distance = radial_direction(rings, float(x), float(y), float(z))
    if distance < UNDEFINED_WITHIN_M:
        return None
    # only the in-section parts of the piece's own y and z count: its tilt is small and does not turn the rings
    turn = to_log.turn
    across = radial[0] * turn[0][1] + radial[1] * turn[1][1]
    through = radial[0] * turn[0][2] + radial[1] * turn[1][2]
    return through**2 / (across**2 + through**2)


def face_shares(piece: Piece, plane: int, limits: GrainLimits | None = None) -> Shares:
    """Flat, rift and quarter shares of one face (FACE_B or FACE_A) or of the mid-plane."""
    return samples(piece, plane).shares(limits or GrainLimits())
