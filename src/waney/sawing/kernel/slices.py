"""Slices: the edges of one slice on its two faces and mid-plane, laid out for judging."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import FAR, NM
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
LINES = 10


class Slice(NamedTuple):
    """One slice: lines (10, W) [m] by the rows above, its mid-plane's height, thickness, station spacing [m], and the
    mid-plane's ring samples (9, 8) with their mean; squared: both edges are sawn. Where a plane has no wood, LOW > HIGH."""

    lines: Array
    mid_v: float
    thickness: float
    spacing: float
    samples: Array
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
def lay_out(
    lines: Array, cut: Cut, low_b: Whole, high_b: Whole, low_m: Whole, high_m: Whole, low_a: Whole, high_a: Whole
) -> bool:
    """Fill lines (10, W) from the chords [nm] of lower face, mid-plane and upper face; whether both edges are sawn all along."""
    squared = True
    for i in range(len(low_b)):
        b0, b1 = max(low_b[i], cut.low), min(high_b[i], cut.high)
        m0, m1 = max(low_m[i], cut.low), min(high_m[i], cut.high)
        a0, a1 = max(low_a[i], cut.low), min(high_a[i], cut.high)
        b, m, a = max(b1 - b0, 0), max(m1 - m0, 0), max(a1 - a0, 0)
        sound = b > 0 and m > 0 and a > 0
        lines[LOW, i] = max(b0, a0) * NM if sound else np.inf
        lines[HIGH, i] = min(b1, a1) * NM if sound else -np.inf
        lines[WIDTH_B, i], lines[WIDTH_A, i] = b * NM, a * NM
        lines[MID_LOW, i], lines[MID_HIGH, i] = m0 * NM, m1 * NM
        lines[SECTION, i] = (a + 4 * m + b) * (NM / 6.0)
        if b + m + a > 0:
            squared = squared and sound and max(b0, m0, a0) == cut.low and min(b1, m1, a1) == cut.high
            squared = squared and min(b0, m0, a0) == cut.low and max(b1, m1, a1) == cut.high
    for row, of in ((SUM_B, WIDTH_B), (SUM_A, WIDTH_A), (SUM_SECTION, SECTION)):
        lines[row, 0] = 0.0
        for i in range(1, len(low_b)):
            lines[row, i] = lines[row, i - 1] + 0.5 * (lines[of, i - 1] + lines[of, i])
    return squared


@compiled
def volume(s: Slice, first: int, last: int) -> float:
    """Volume between two stations [m3]."""
    return float((s.lines[SUM_SECTION, last] - s.lines[SUM_SECTION, first]) * s.spacing * s.thickness)


@compiled
def whole_volume(s: Slice) -> float:
    """Volume of the whole slice [m3]."""
    return volume(s, 0, s.lines.shape[1] - 1)
