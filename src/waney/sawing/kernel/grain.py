"""Grain: how the rings stand to level planes: squared cosine between the radial direction and the planes' normal.

1 = flat (rings lie along the face), 0 = quarter. Sampled at 9 stations and 8 midpoints of each chord (docs/design/sawing.md).
"""

from __future__ import annotations

from math import atan2, pi, sqrt

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
from waney.sawing.kernel.records import Array, Rings, Whole

GRAIN_STATIONS = 9
GRAIN_ACROSS = 8


@compiled
def grain_station(i: int, stations: int) -> int:
    """Index of the i-th grain station: evenly spread, halves to the even one."""
    at, rest = divmod(i * (stations - 1), GRAIN_STATIONS - 1)
    twice = 2 * rest
    up = twice > GRAIN_STATIONS - 1 or (twice == GRAIN_STATIONS - 1 and at % 2 == 1)
    return at + 1 if up else at


@compiled
def grain_at(rings: Rings, w: Array, low: Whole, high: Whole, v: float, samples: Array) -> float:
    """Fill samples (9, 8) of the level plane at height v with squared cosines (nan where undefined); return their mean.

    low, high: the plane's chords (W,) in nm. 0.5 when no sample is defined.
    """
    total, defined = 0.0, 0
    for i in range(GRAIN_STATIONS):
        s = grain_station(i, len(w))
        samples[i, :] = np.nan
        if high[s] > low[s]:
            total, defined = _across(rings, w[s], low[s] * NM, high[s] * NM, v, samples[i], total, defined)
    return total / defined if defined > 0 else 0.5


@compiled
def _across(
    rings: Rings, w: float, low: float, high: float, v: float, samples: Array, total: float, defined: int
) -> tuple[float, int]:
    """Samples at one station. The place along the log and the normal are the same for all of them: only u changes."""
    t = rings.turn
    dv, dw = v - rings.shift[1], w - rings.shift[2]
    z = t[1, 2] * dv + t[2, 2] * dw
    at = station_below(rings.z, z)
    part = min(max((z - rings.z[at]) / (rings.z[at + 1] - rings.z[at]), 0.0), 1.0)
    pith, reach = rings.pith, rings.reach
    m = reach.shape[2]
    per_sector = m / (2.0 * pi)
    for j in range(GRAIN_ACROSS):
        du = low + (high - low) * (j + 0.5) / GRAIN_ACROSS - rings.shift[0]
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
                samples[j] = gv * gv / (gu * gu + gv * gv) if rho >= rings.blind_m else np.nan
        if not np.isnan(samples[j]):
            total += samples[j]
            defined += 1
    return total, defined


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
