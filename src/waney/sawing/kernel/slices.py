"""Slices: the edges of one slice on its two faces and mid-plane, laid out for judging."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import FAR, NM
from waney.sawing.kernel.grain import Lattice
from waney.sawing.kernel.records import Array, Whole

# rows of Slice.lines, metres at every station
LOW, HIGH = 0, 1
"""square edges: the larger low edge and the smaller high edge of both faces"""
WIDTH_B, WIDTH_A = 2, 3
MID_LOW, MID_HIGH = 4, 5
SECTION = 6
"""(a + 4 m + b)/6, no wood counting 0"""
SUM_B, SUM_A, SUM_SECTION = 7, 8, 9
"""trapezoid sums from the first station on, in station spacings"""
BEFORE_LOW, BEFORE_HIGH, AFTER_LOW, AFTER_HIGH = 10, 11, 12, 13
"""room for the square edges of windows"""
LINES = 14


class Slice(NamedTuple):
    """One slice: lines (14, W) [m] by the rows above (from WIDTH_B to SUM_SECTION only when laid out with its faces), its
    mid-plane's height, thickness, station spacing [m], the lattice of its lie and the mean c2 of its mid-plane; squared: both
    edges are sawn. Where a plane has no wood, LOW > HIGH."""

    lines: Array
    mid_v: float
    thickness: float
    spacing: float
    lattice: Lattice
    c2: float
    squared: bool


class Cut(NamedTuple):
    """What sawn planes left and right leave of the width: from low to high [nm]; -FAR to FAR when nothing is cut off."""

    low: int
    high: int


@compiled
def whole() -> Cut:
    """Nothing cut off."""
    return Cut(-FAR, FAR)


@compiled
def cut_at(low: float, high: float) -> Cut:
    """Sawn planes at two places across [m], rounded inwards to nm."""
    return Cut(int(np.ceil(low / NM - 1e-6)), int(np.floor(high / NM + 1e-6)))


@compiled
def lay_out(lines: Array, faces: bool, cut: Cut, edges: Whole, below: int, mid: int, above: int) -> bool:
    """Fill lines (14, W) from three rows of edges (·, 2, W) [nm]: the chords of lower face, mid-plane and upper face. Returns
    whether both edges are sawn all along."""
    from_nm, to_nm = cut.low, cut.high
    for i in range(lines.shape[1]):
        b0, b1 = max(edges[below, 0, i], from_nm), min(edges[below, 1, i], to_nm)
        m0, m1 = max(edges[mid, 0, i], from_nm), min(edges[mid, 1, i], to_nm)
        a0, a1 = max(edges[above, 0, i], from_nm), min(edges[above, 1, i], to_nm)
        sound = b1 > b0 and m1 > m0 and a1 > a0
        lines[LOW, i] = max(b0, a0) * NM if sound else np.inf
        lines[HIGH, i] = min(b1, a1) * NM if sound else -np.inf
        if faces:
            b, m, a = max(b1 - b0, 0), max(m1 - m0, 0), max(a1 - a0, 0)
            lines[WIDTH_B, i], lines[WIDTH_A, i] = b * NM, a * NM
            lines[MID_LOW, i], lines[MID_HIGH, i] = m0 * NM, m1 * NM
            lines[SECTION, i] = (a + 4 * m + b) * (NM / 6.0)
    if faces:
        _sum_up(lines)
    return to_nm < FAR and _is_squared(edges, below, mid, above, from_nm, to_nm)


@compiled
def _sum_up(lines: Array) -> None:
    for row, of in ((SUM_B, WIDTH_B), (SUM_A, WIDTH_A), (SUM_SECTION, SECTION)):
        lines[row, 0] = 0.0
        for i in range(1, lines.shape[1]):
            lines[row, i] = lines[row, i - 1] + 0.5 * (lines[of, i - 1] + lines[of, i])


@compiled
def _is_squared(edges: Whole, below: int, mid: int, above: int, from_nm: int, to_nm: int) -> bool:
    """Whether two sawn planes bound all three planes of a slice wherever any of them has wood."""
    for i in range(edges.shape[2]):
        wood, bounded = False, True
        for row in (below, mid, above):
            wood = wood or min(edges[row, 1, i], to_nm) > max(edges[row, 0, i], from_nm)
            bounded = bounded and edges[row, 0, i] <= from_nm and edges[row, 1, i] >= to_nm
        if wood and not bounded:
            return False
    return True


@compiled
def run_along(lines: Array, n: int) -> None:
    """Square edges of every window of n gaps, by blocks of n + 1 stations: the window from station i is bounded by row AFTER at i
    (i to the end of its block) and row BEFORE at i + n (from the start of its block)."""
    last = lines.shape[1] - 1
    for start in range(0, last + 1, n + 1):
        end = min(start + n, last)
        low, high = -np.inf, np.inf
        for i in range(start, end + 1):
            low, high = max(low, lines[LOW, i]), min(high, lines[HIGH, i])
            lines[BEFORE_LOW, i], lines[BEFORE_HIGH, i] = low, high
        low, high = -np.inf, np.inf
        for i in range(end, start - 1, -1):
            low, high = max(low, lines[LOW, i]), min(high, lines[HIGH, i])
            lines[AFTER_LOW, i], lines[AFTER_HIGH, i] = low, high


@compiled
def volume(s: Slice, first: int, last: int) -> float:
    """Volume between two stations [m3]."""
    return float((s.lines[SUM_SECTION, last] - s.lines[SUM_SECTION, first]) * s.spacing * s.thickness)


@compiled
def whole_volume(s: Slice) -> float:
    """Volume of the whole slice [m3]."""
    return volume(s, 0, s.lines.shape[1] - 1)
