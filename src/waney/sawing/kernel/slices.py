"""Slices: the edges of one slice on its two faces and mid-plane, laid out for judging."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
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
    mid-plane's ring samples (9, 8) with their mean. Where a plane has no wood, LOW > HIGH."""

    lines: Array
    mid_v: float
    thickness: float
    spacing: float
    samples: Array
    c2: float


@compiled
def lay_out(lines: Array, low_b: Whole, high_b: Whole, low_m: Whole, high_m: Whole, low_a: Whole, high_a: Whole) -> None:
    """Fill lines (10, W) from the chords [nm] of lower face, mid-plane and upper face."""
    for i in range(len(low_b)):
        b, m, a = max(high_b[i] - low_b[i], 0), max(high_m[i] - low_m[i], 0), max(high_a[i] - low_a[i], 0)
        sound = b > 0 and m > 0 and a > 0
        lines[LOW, i] = max(low_b[i], low_a[i]) * NM if sound else np.inf
        lines[HIGH, i] = min(high_b[i], high_a[i]) * NM if sound else -np.inf
        lines[WIDTH_B, i], lines[WIDTH_A, i] = b * NM, a * NM
        lines[MID_LOW, i], lines[MID_HIGH, i] = low_m[i] * NM, high_m[i] * NM
        lines[SECTION, i] = (a + 4 * m + b) * (NM / 6.0)
    for row, of in ((SUM_B, WIDTH_B), (SUM_A, WIDTH_A), (SUM_SECTION, SECTION)):
        lines[row, 0] = 0.0
        for i in range(1, len(low_b)):
            lines[row, i] = lines[row, i - 1] + 0.5 * (lines[of, i - 1] + lines[of, i])


@compiled
def volume(s: Slice, first: int, last: int) -> float:
    """Volume between two stations [m3]."""
    return float((s.lines[SUM_SECTION, last] - s.lines[SUM_SECTION, first]) * s.spacing * s.thickness)


@compiled
def whole_volume(s: Slice) -> float:
    """Volume of the whole slice [m3]."""
    return volume(s, 0, s.lines.shape[1] - 1)
