"""Ring angles on a piece, looked at on a square lattice at five stations, on the mid-plane or on a face.

c2 of a point: cos² of the angle between the radial direction and the normal of the face; 1 is flat, 0 is quarter grain.
The radial direction is the in-section gradient of s = rho / R(angle) about the pith that rules there (`logs.rings`).
The lattice lies square to the piece and has a point where the log frame's origin is, so that every piece sawn in one lie has
the same one; between its points c2 runs straight, across and through (docs/design/sawing.md).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, cos, floor, pi, radians

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.rings import UNDEFINED_WITHIN_M, RingField
from waney.pieces.piece import MID_PLANE, Piece

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

STATIONS = 5
LATTICE_M = 0.02
"""Between neighbouring points of the lattice, across and through. Our choice: c2 is off by at most 1/100 at 0.1 m from a pith."""
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
class RingPlaces:
    """Lattice columns inside the wood of one plane: station index (p,), y [m] in the piece frame (p,), c2 there (p,)."""

    station: Whole
    y_m: Array
    c2: Array

    def within(self, first: int, last: int, low_y_m: float, high_y_m: float) -> RingPlaces:
        """The places at stations first..last and between two edges, ends included."""
        inside = (self.station >= first) & (self.station <= last) & (self.y_m >= low_y_m) & (self.y_m <= high_y_m)
        return RingPlaces(self.station[inside], self.y_m[inside], self.c2[inside])

    def shares(self, limits: GrainLimits) -> Shares:
        """How much of the places is flat, rift and quarter grain."""
        count = len(self.c2)
        if not count:
            return Shares(0.0, 0.0, 0.0)
        flat = int(np.count_nonzero(self.c2 > limits.flat_above_c2))
        quarter = int(np.count_nonzero(self.c2 <= limits.quarter_up_to_c2))
        return Shares(flat / count, (count - flat - quarter) / count, quarter / count)


@dataclass(frozen=True, eq=False)
class RingSamples:
    """Ring angles of one plane of a piece: its lattice columns, and c2 integrated over its chords [m] with the sum of their
    widths [m]."""

    places: RingPlaces
    integral_m: float
    width_m: float

    @property
    def known(self) -> bool:
        """Whether there is wood whose rings are known."""
        return self.width_m > 0.0

    @property
    def mean_c2(self) -> float:
        """Mean c2 over the chords, or 0.5 when nothing is known."""
        return self.integral_m / self.width_m if self.known else C2_NOT_KNOWN


def sampled_stations(stations: int) -> tuple[int, ...]:
    """The five stations looked at, out of so many: evenly spread, halves to the even one, repeated where there are fewer."""
    return tuple(round(i * (stations - 1) / (STATIONS - 1)) for i in range(STATIONS))


def radial_directions(rings: RingField, points_m: Array) -> tuple[Array, Array]:
    """Unit gradients of s in the section (p, 2), log frame x, y, at points (p, 3) of the log frame, and the distance [m] from the
    pith that rules there (p,).

    At the pith itself the direction has no meaning; (1, 0) is returned with distance 0.
    """
    count = len(points_m)
    least, direction, distance = np.full(count, np.inf), np.tile([1.0, 0.0], (count, 1)), np.zeros(count)
    for pith in range(len(rings.pith_m)):
        s, radial, rho = _about_one_pith(rings, pith, points_m)
        rules = s < least
        least[rules], direction[rules], distance[rules] = s[rules], radial[rules], rho[rules]
    return direction, distance


def _about_one_pith(rings: RingField, pith: int, points_m: Array) -> tuple[Array, Array, Array]:
    """s (p,), unit gradients of s (p, 2) and distances (p,) about one pith.

    In polar form grad s is parallel to e_rho - (R'/R) e_phi, with R linear in the angle between two directions.
    """
    i, t = rings.places(points_m[:, 2])
    centre, reach = rings.pith_m[pith], rings.reach_m[pith]
    away = points_m[:, :2] - ((1 - t)[:, None] * centre[i] + t[:, None] * centre[i + 1])
    rho = np.hypot(away[:, 0], away[:, 1])
    m = reach.shape[1]
    sector = 2.0 * pi / m
    place = (np.arctan2(away[:, 1], away[:, 0]) % (2.0 * pi)) / sector
    j = np.floor(place).astype(np.int64) % m
    here = (1 - t) * reach[i, j] + t * reach[i + 1, j]
    following = (1 - t) * reach[i, (j + 1) % m] + t * reach[i + 1, (j + 1) % m]
    r = here + (following - here) * (place - np.floor(place))
    turn = -(following - here) / sector / r
    c, s = np.where(rho > 0.0, away.T / np.where(rho > 0.0, rho, 1.0), np.array([[1.0], [0.0]]))
    radial = np.column_stack([c - turn * s, s + turn * c]) / np.hypot(1.0, turn)[:, None]
    return rho / r, radial, rho


def samples(piece: Piece, plane: int = MID_PLANE) -> RingSamples:
    """Ring samples on one plane of a piece (FACE_B, MID_PLANE, FACE_A); a piece without a log has none."""
    rows = tuple(_rows(piece, plane))
    places = [place for row in rows for place in row.places()]
    return RingSamples(
        RingPlaces(
            np.array([j for j, _, _ in places], dtype=np.int64),
            np.array([y for _, y, _ in places], dtype=np.float64),
            np.array([c2 for _, _, c2 in places], dtype=np.float64),
        ),
        sum(row.integral_m for row in rows),
        sum(row.high_m - row.low_m for row in rows),
    )


@dataclass(frozen=True, eq=False)
class _Row:
    """One chord at one station, from low to high [m], and c2 at lattice columns (k,) that reach past both its ends."""

    station: int
    low_m: float
    high_m: float
    y_m: Array
    c2: Array

    def places(self) -> list[tuple[int, float, float]]:
        return [
            (self.station, float(y), float(c2)) for y, c2 in zip(self.y_m, self.c2, strict=True) if self.low_m <= y <= self.high_m
        ]

    @property
    def integral_m(self) -> float:
        """c2 along the chord, straight between columns."""
        inside = self.y_m[(self.y_m > self.low_m) & (self.y_m < self.high_m)]
        y = np.array([self.low_m, *inside, self.high_m])
        return float(np.trapezoid(np.interp(y, self.y_m, self.c2), y))


def _rows(piece: Piece, plane: int) -> Iterator[_Row]:
    if piece.rings is None or piece.to_log is None:
        return
    _, y0, z0 = (float(c) for c in piece.to_log.back(np.zeros(3)))
    height = (plane - MID_PLANE) * piece.thickness_m / 2.0 - z0
    below = floor(height / LATTICE_M)
    part = height / LATTICE_M - below
    edges = [(j, float(piece.low_y_m[plane, j]), float(piece.high_y_m[plane, j])) for j in sampled_stations(len(piece.along_m))]
    chords = [(j, low, high, _columns(low, high, y0)) for j, low, high in edges if low < high]
    lower, upper = (_c2(piece.rings, piece.to_log, _points(piece, chords, z0 + row * LATTICE_M)) for row in (below, below + 1))
    c2, at = lower + part * (upper - lower), 0
    for j, low, high, y in chords:
        yield _Row(j, low, high, y, c2[at : at + len(y)])
        at += len(y)


def _columns(low_m: float, high_m: float, y0_m: float) -> Array:
    """The lattice columns from the one at or below a chord to the one at or above it."""
    first, last = floor((low_m - y0_m) / LATTICE_M), ceil((high_m - y0_m) / LATTICE_M)
    return np.array([y0_m + column * LATTICE_M for column in range(first, last + 1)])


def _points(piece: Piece, chords: list[tuple[int, float, float, Array]], z_m: float) -> Array:
    """Points (p, 3) of the columns of all chords, in the piece frame."""
    rows = [np.column_stack([np.full(len(y), piece.along_m[j]), y, np.full(len(y), z_m)]) for j, _, _, y in chords]
    return np.concatenate(rows) if rows else np.empty((0, 3))


def _c2(rings: RingField, to_log: Placing, points_m: Array) -> Array:
    """cos² between radial direction and face normal at points (p, 3) of the piece; 0.5 within 5 mm of the pith."""
    radial, distance = radial_directions(rings, to_log.there(points_m))
    # only the in-section parts of the piece's own y and z count: its tilt is small and does not turn the rings
    turn = np.array(to_log.turn)
    across, through = (radial @ turn[:2, 1:]).T
    c2: Array = np.where(distance < UNDEFINED_WITHIN_M, C2_NOT_KNOWN, through**2 / (across**2 + through**2))
    return c2


def face_shares(piece: Piece, plane: int, limits: GrainLimits | None = None) -> Shares:
    """Flat, rift and quarter shares of one face (FACE_B or FACE_A) or of the mid-plane."""
    return samples(piece, plane).places.shares(limits or GrainLimits())
