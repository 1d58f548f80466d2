"""What is wrong with a scan: parts with hardly any points, and parts where a second wall stands off the first."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.logs.cells import COLUMNS, Cells, cells_of
from waney.logs.frames import xy_to_clock
from waney.logs.unrolled import Sheet

Array = NDArray[np.float64]
Chosen = NDArray[np.bool_]

THIN = 0.25
"""A cell with less than this share of the usual number of points belongs to a gap."""
LEAST_SHARE = 0.005
"""Faults smaller than this share of the surface are not told."""
SECOND = 0.15
"""A cell has a second wall when this share of its points has no weight and lies ..."""
APART_M, APART = 0.01, 3.0
"""... this far from the sheet in the middle, and this many deviations of the noise."""


@dataclass(frozen=True)
class Patch:
    """A part of the surface: along the log, and from one clock position on to another, clockwise; 0 to 12 is all round."""

    from_m: float
    to_m: float
    from_clock_h: float
    to_clock_h: float
    share: float
    """of the whole surface, counted along and round [-]"""


@dataclass(frozen=True)
class Gap(Patch):
    """Hardly any points here; the surface is bridged."""


@dataclass(frozen=True)
class SecondWall(Patch):
    """Many points lie together off the surface."""

    off_m: float
    """how far outside it they lie in the middle; negative: inside"""


def gaps_in(sheet: Sheet, z_m: Array) -> tuple[Gap, ...]:
    """Parts of the surface with hardly any counted point, largest first."""
    counted = _cells(sheet, z_m).count(sheet.weight > 0.0)
    found = [Gap(*_extent(patch, z_m)) for patch in _patches(counted < THIN * np.median(counted))]
    return tuple(sorted((gap for gap in found if gap.share >= LEAST_SHARE), key=lambda gap: -gap.share))


def second_walls_in(sheet: Sheet, z_m: Array) -> tuple[SecondWall, ...]:
    """Parts of the surface with a second wall, largest first."""
    cells = _cells(sheet, z_m)
    stray = (sheet.weight == 0.0) & (np.abs(sheet.off_m) < 0.3 * float(sheet.radius_m.mean()))
    strays, kept = cells.count(stray), cells.count(sheet.weight > 0.0)
    found = []
    for patch in _patches(strays > np.maximum(SECOND * (strays + kept), 3.0)):
        off = float(np.median(sheet.off_m[stray & patch.ravel()[cells.of_point]]))
        if abs(off) > max(APART_M, APART * sheet.noise_m):
            found.append(SecondWall(*_extent(patch, z_m), off))
    return tuple(sorted((wall for wall in found if wall.share >= LEAST_SHARE), key=lambda wall: -wall.share))


def _cells(sheet: Sheet, z_m: Array) -> Cells:
    return cells_of(sheet.z_m, sheet.angle, float(z_m[-1]))


def _patches(cells: Chosen) -> list[Chosen]:
    """Connected groups of cells; the first column lies beside the last."""
    from scipy.ndimage import label  # slow to load, and most logs have no scan

    marks, count = label(cells)
    for left, right in zip(marks[:, -1], marks[:, 0], strict=True):
        if left and right and left != right:
            marks[marks == right] = left
    return [marks == k for k in range(1, count + 1) if bool((marks == k).any())]


def _extent(patch: Chosen, z_m: Array) -> tuple[float, float, float, float, float]:
    """From and to along the log [m], from and to on the clock [h], share of the surface [-]."""
    rows = np.flatnonzero(patch.any(axis=1))
    step = z_m[-1] / patch.shape[0]
    first, width = _round_run(np.flatnonzero(patch.any(axis=0)))
    from_h, to_h = (0.0, 12.0) if width == COLUMNS else (_clock(first), _clock(first + width))
    return float(rows[0] * step), float((rows[-1] + 1) * step), from_h, to_h, float(patch.mean())


def _round_run(columns: NDArray[np.int64]) -> tuple[int, int]:
    """First column and number of columns of the shortest run round the stem that holds all of these."""
    steps = np.diff(np.append(columns, columns[0] + COLUMNS))
    widest = int(np.argmax(steps))
    return int(columns[(widest + 1) % len(columns)]), COLUMNS - int(steps[widest]) + 1


def _clock(column: int) -> float:
    angle = 2.0 * np.pi * column / COLUMNS
    return xy_to_clock(float(np.cos(angle)), float(np.sin(angle)))
