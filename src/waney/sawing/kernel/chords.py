"""Chords: where a level plane meets the log at every station, on a regular grid of heights, in whole nanometres.

Edges are rounded inwards, once, here: the low edge up, the high edge down. No chord: low = FAR, high = -FAR.
"""

from __future__ import annotations

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.records import Array, Whole

FAR = 1 << 40
"""An edge that is nowhere [nm]; over a kilometre, so that no width with it can be above zero."""
NM = 1e-9
PER_M = 1e9
"""Nanometres in a metre."""
_MOST_CROSSINGS = 16


@compiled
def chords_at(u: Array, v: Array, first_m: float, spacing_m: float, edges: Whole) -> None:
    """Longest interval of u at heights first + h·spacing, h = 0..count-1, for every station.

    u, v: section polygons (W, m). Fills edges (count, 2, W), int64 nm: low and high; the first interval from low u on ties.
    """
    stations, m = u.shape
    count = len(edges)
    edges[:, 0, :], edges[:, 1, :] = FAR, -FAR
    crossing = np.empty((count, _MOST_CROSSINGS))
    crossings = np.empty(count, np.int64)
    for s in range(stations):
        crossings[:] = 0
        for j in range(m):
            _cross(u[s, j - 1], v[s, j - 1], u[s, j], v[s, j], first_m, spacing_m, crossing, crossings)
        for h in range(count):
            if crossings[h] == 2:
                a, b = crossing[h, 0], crossing[h, 1]
                edges[h, 0, s], edges[h, 1, s] = int(np.ceil(min(a, b) * PER_M)), int(np.floor(max(a, b) * PER_M))
            elif crossings[h] > 2:
                edges[h, 0, s], edges[h, 1, s] = _longest(crossing[h], crossings[h])


@compiled
def _cross(
    ua: float, va: float, ub: float, vb: float, first_m: float, spacing_m: float, crossing: Array, crossings: Whole
) -> None:
    """Note where one edge of the polygon passes the heights: upper end counts, lower end does not."""
    bottom, top = min(va, vb), max(va, vb)
    if bottom == top:
        return
    slope = (ub - ua) / (vb - va)
    h = max(int(np.floor((bottom - first_m) / spacing_m)) - 1, 0)
    while h < len(crossings):
        height = first_m + h * spacing_m
        if height > top:
            break
        if height > bottom and crossings[h] < _MOST_CROSSINGS:
            crossing[h, crossings[h]] = ua + slope * (height - va)
            crossings[h] += 1
        h += 1


@compiled
def _longest(crossing: Array, count: int) -> tuple[int, int]:
    """The longest of the intervals between sorted crossings, rounded inwards to nm."""
    for i in range(1, count):
        value, j = crossing[i], i - 1
        while j >= 0 and crossing[j] > value:
            crossing[j + 1] = crossing[j]
            j -= 1
        crossing[j + 1] = value
    low, high = FAR, -FAR
    for i in range(0, count - 1, 2):
        a, b = int(np.ceil(crossing[i] * PER_M)), int(np.floor(crossing[i + 1] * PER_M))
        if b - a > high - low:
            low, high = a, b
    return low, high


@compiled
def widest_within(edges: Whole, row: int, from_nm: int, to_nm: int) -> int:
    """The widest of one row of chords (·, 2, W) within two planes [nm]; 0 where there is none."""
    widest = 0
    for s in range(edges.shape[2]):
        widest = max(widest, min(edges[row, 1, s], to_nm) - max(edges[row, 0, s], from_nm))
    return widest
