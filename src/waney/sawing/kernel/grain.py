"""Grain: how the rings stand to level planes: squared cosine between the radial direction and the planes' normal.

1 = flat (rings lie along the face), 0 = quarter. Looked at on a lattice square to the lie, at five stations, with a point where
the log frame's origin is; straight between points (docs/design/sawing.md). Running sums along every row give the mean of any
stretch of any chord in a few steps, however the log is sawn.
"""

from __future__ import annotations

from math import atan2, floor, pi, sqrt
from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
from waney.sawing.kernel.records import Array, Rings, Sections, Whole

GRAIN_STATIONS = 5
LATTICE_M = 0.02
NOT_KNOWN = 0.5
"""Squared cosine where no ring angle is defined."""


class Lattice(NamedTuple):
    """c2 (5, R, C): squared cosines at lattice points; sums (5, R, C): c2 along each row from its first column on, in lattice
    steps; u0, v0: the first column and row [m]."""

    c2: Array
    sums: Array
    u0: float
    v0: float


@compiled
def grain_station(i: int, stations: int) -> int:
    """Index of the i-th ring station of a lie; their number is a multiple of four, and one."""
    return i * (stations - 1) // (GRAIN_STATIONS - 1)


@compiled
def lattice_of(rings: Rings, sections: Sections) -> Lattice:
    """The lattice that covers all wood of one lie."""
    first_u, columns = _covering(sections.wood_u.min(), sections.wood_u.max(), rings.shift[0])
    first_v, rows = _covering(sections.wood_v.min(), sections.wood_v.max(), rings.shift[1])
    c2 = np.full((GRAIN_STATIONS, rows, columns), NOT_KNOWN)
    sums = np.zeros((GRAIN_STATIONS, rows, columns))
    for i in range(GRAIN_STATIONS):
        w = sections.w[grain_station(i, len(sections.w))]
        for r in range(rows):
            _across(rings, w, first_u, first_v + r * LATTICE_M, c2[i, r])
            for c in range(1, columns):
                sums[i, r, c] = sums[i, r, c - 1] + 0.5 * (c2[i, r, c - 1] + c2[i, r, c])
    return Lattice(c2, sums, first_u, first_v)


@compiled
def _covering(low: float, high: float, anchor: float) -> tuple[float, int]:
    """First lattice line and how many there are so that they reach past both ends."""
    first = int(floor((low - anchor) / LATTICE_M))
    last = int(floor((high - anchor) / LATTICE_M)) + 1
    return anchor + first * LATTICE_M, last - first + 1


@compiled
def _across(rings: Rings, w: float, first_u: float, v: float, c2: Array) -> None:
    """Fill one row of the lattice (C,). The place along the log is the same all along it: only u changes."""
    t = rings.turn
    dv, dw = v - rings.shift[1], w - rings.shift[2]
    z = t[1, 2] * dv + t[2, 2] * dw
    at = station_below(rings.z, z)
    part = min(max((z - rings.z[at]) / (rings.z[at + 1] - rings.z[at]), 0.0), 1.0)
    pith, reach = rings.pith, rings.reach
    m = reach.shape[2]
    per_sector = m / (2.0 * pi)
    for j in range(len(c2)):
        du = first_u + j * LATTICE_M - rings.shift[0]
        x = t[0, 0] * du + t[1, 0] * dv + t[2, 0] * dw
        y = t[0, 1] * du + t[1, 1] * dv + t[2, 1] * dw
        least = np.inf
        for k in range(pith.shape[0]):
            # direction of the in-section gradient of s about this pith: (dx, dy) turned by the outline's lean
            dx = x - (pith[k, at, 0] + part * (pith[k, at + 1, 0] - pith[k, at, 0]))
            dy = y - (pith[k, at, 1] + part * (pith[k, at + 1, 1] - pith[k, at, 1]))
            rho = sqrt(dx * dx + dy * dy)
            place = atan2(dy, dx) * per_sector
            if place < 0.0:
                place += m
            a = min(int(place), m - 1)
            b = a + 1 if a + 1 < m else 0
            r0 = reach[k, at, a] + part * (reach[k, at + 1, a] - reach[k, at, a])
            r1 = reach[k, at, b] + part * (reach[k, at + 1, b] - reach[k, at, b])
            to_ring = r0 + (r1 - r0) * (place - a)
            if rho < least * to_ring:
                least = rho / to_ring
                lean = (r1 - r0) * per_sector / to_ring
                gx, gy = dx + lean * dy, dy - lean * dx
                gu, gv = t[0, 0] * gx + t[0, 1] * gy, t[1, 0] * gx + t[1, 1] * gy
                c2[j] = gv * gv / (gu * gu + gv * gv) if rho >= rings.blind_m else NOT_KNOWN


@compiled
def station_below(z: Array, at: float) -> int:
    """Index of the last station at or below a height, so that one more follows; guessed from even spacing, then put right."""
    last = len(z) - 2
    i = min(max(int((at - z[0]) / (z[-1] - z[0]) * (last + 1)), 0), last)
    while i < last and z[i + 1] < at:
        i += 1
    while i > 0 and z[i] >= at:
        i -= 1
    return i


@compiled
def row_at(lattice: Lattice, v: float) -> tuple[int, float]:
    """The lattice row at or below a height, so that one more follows, and the share of the way to the next."""
    place = (v - lattice.v0) / LATTICE_M
    row = min(max(int(floor(place)), 0), lattice.c2.shape[1] - 2)
    return row, place - row


@compiled
def c2_along(c2: Array, sums: Array, i: int, row: int, part: float, low: float, high: float) -> float:
    """c2 summed between two places across, from low to high, at ring station i and a height between two rows; lattice steps."""
    return _summed(c2, sums, i, row, part, high) - _summed(c2, sums, i, row, part, low)


@compiled
def _summed(c2: Array, sums: Array, i: int, row: int, part: float, place: float) -> float:
    """c2 from the first column to a place across."""
    a = min(int(place), c2.shape[2] - 2)
    f = place - a
    here = c2[i, row, a] + part * (c2[i, row + 1, a] - c2[i, row, a])
    after = c2[i, row, a + 1] + part * (c2[i, row + 1, a + 1] - c2[i, row, a + 1])
    before = sums[i, row, a] + part * (sums[i, row + 1, a] - sums[i, row, a])
    return float(before + f * (here + 0.5 * f * (after - here)))


@compiled
def mean_c2(lattice: Lattice, edges: Whole, plane: int, v: float, from_nm: int, to_nm: int) -> float:
    """Mean c2 over the chords of one plane, a row of edges (·, 2, W) [nm], at height v, within two sawn planes; 0.5 where there
    is no wood."""
    c2, sums, u0 = lattice.c2, lattice.sums, lattice.u0
    row, part = row_at(lattice, v)
    total, width = 0.0, 0
    for i in range(GRAIN_STATIONS):
        s = grain_station(i, edges.shape[2])
        a, b = max(edges[plane, 0, s], from_nm), min(edges[plane, 1, s], to_nm)
        if b > a:
            total += c2_along(c2, sums, i, row, part, (a * NM - u0) / LATTICE_M, (b * NM - u0) / LATTICE_M)
            width += b - a
    return total * LATTICE_M / (width * NM) if width > 0 else NOT_KNOWN
