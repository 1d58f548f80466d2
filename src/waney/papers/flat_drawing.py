"""Flat drawing: a piece along and across its middle, heights drawn too tall, with the two planes that leave the most."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from waney.papers.ink import CHALK, DIMENSION, PLAIN, SMALL, WOOD, Ink
from waney.papers.svg import Sheet, Spot
from waney.papers.words import Shop
from waney.pieces.flattening import Flattened, Heights

Array = NDArray[np.float64]

WIDE_MM = 100.0
EDGE_MM = 4.0
TALL_MM = 22.0
"""of a section, the crooked piece in it"""
HEAD_MM = 8.0


@dataclass(frozen=True, eq=False)
class _Section:
    """Heights along one line of the grid, and those of the two planes there [m]."""

    called: str
    at_m: Array
    under_m: Array
    upper_m: Array
    low_m: Array
    high_m: Array


@dataclass(frozen=True)
class FlatDrawn:
    """drawing: SVG; taller: how many times too tall heights are in it, along the piece."""

    drawing: str
    taller: float


def flat_drawing(heights: Heights, planes: Flattened, ink: Ink, shop: Shop) -> FlatDrawn:
    """Both sections, one under the other; hatched: what comes off."""
    cuts = _sections(heights, planes)
    spread = max(float(cut.upper_m.max() - cut.under_m.min()) for cut in cuts)
    up = TALL_MM / spread
    sheets = [_drawn(cut, planes, up, ink, shop) for cut in cuts]
    sheets[0].title = "What flattening takes off, along and across the middle"
    sheets[0].below(sheets[1])
    return FlatDrawn(sheets[0].text(), up / (_scale(cuts[0])))


def _sections(heights: Heights, planes: Flattened) -> tuple[_Section, _Section]:
    """Along the row, and across at the place, with the most wood; of equals that nearest to the middle."""
    wood, (n, k) = heights.wood, heights.wood.shape
    j = max(range(k), key=lambda j: (np.count_nonzero(wood[:, j]), -abs(j - (k - 1) / 2)))
    i = max(range(n), key=lambda i: (np.count_nonzero(wood[i]), -abs(i - (n - 1) / 2)))
    x, y = np.meshgrid(heights.x_m, heights.y_m, indexing="ij")
    low = planes.at_m + planes.slope_x * x + planes.slope_y * y

    def cut(called: str, at: Array, rows: tuple[slice | int, slice | int]) -> _Section:
        there = wood[rows]
        under, upper, base = heights.under_m[rows][there], heights.upper_m[rows][there], low[rows][there]
        return _Section(called, at[there], under, upper, base, base + planes.thickness_m)

    every = slice(None)
    return cut("Along the middle, marked end left", heights.x_m, (every, j)), cut("Across", heights.y_m, (i, every))


def _scale(cut: _Section) -> float:
    return (WIDE_MM - 2 * EDGE_MM) / max(float(np.ptp(cut.at_m)), 1e-6)


def _drawn(cut: _Section, planes: Flattened, up: float, ink: Ink, shop: Shop) -> Sheet:
    sheet = Sheet(WIDE_MM, HEAD_MM + TALL_MM + 2 * EDGE_MM, ink, cut.called)
    scale, top = _scale(cut), float(max(cut.upper_m.max(), cut.high_m.max()))

    def spots(at: Array, height: Array) -> list[Spot]:
        return [
            (EDGE_MM + (float(x) - float(at[0])) * scale, HEAD_MM + (top - float(z)) * up)
            for x, z in zip(at, height, strict=True)
        ]

    sheet.letters((EDGE_MM, SMALL + 1.0), cut.called, SMALL, bold=True)
    upper, under, high, low = (spots(cut.at_m, line) for line in (cut.upper_m, cut.under_m, cut.high_m, cut.low_m))
    for face, plane in ((upper, high), (under, low)):
        _off(sheet, face, plane)
    sheet.line([*upper, *under[::-1]], WOOD, closed=True)
    for plane in (high, low):
        sheet.line(plane, CHALK)
    if len(upper) > 1:
        middle = ((high[0][0] + high[-1][0]) / 2, (high[0][1] + high[-1][1] + low[0][1] + low[-1][1]) / 4)
        sheet.line([(middle[0] - 14.0, _at(high, middle[0] - 14.0)), (middle[0] - 14.0, _at(low, middle[0] - 14.0))], DIMENSION)
        sheet.measure((middle[0] - 11.0, middle[1] + PLAIN * 0.36), shop.have(planes.thickness_m), PLAIN, bold=True)
    return sheet


def _at(line: Sequence[Spot], x: float) -> float:
    return float(np.interp(x, [one[0] for one in line], [one[1] for one in line]))


def _off(sheet: Sheet, face: Sequence[Spot], plane: Sequence[Spot]) -> None:
    """What comes off between a face and its plane, stretch by stretch: where the plane touches the face there is none."""
    for (a, b), (c, d) in zip(pairwise(face), pairwise(plane), strict=True):
        if max(abs(a[1] - c[1]), abs(b[1] - d[1])) > 0.05:
            sheet.hatched([a, b, d, c])
