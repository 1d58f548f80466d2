"""The unrolled surface in cells: which points lie together, and what most of them say there."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

COLUMNS = 24
"""Cells are 15 degrees wide ..."""
CELL_M = 0.2
"""... and about this long, longer where points are few."""
POINTS_A_CELL = 16
"""Mean points a cell must have, so that a thin one is not chance (3 points or fewer of 16: one cell in 10 000)."""

FEW = 4
"""Fewer points than this say nothing about their cell."""


@dataclass(frozen=True, eq=False)
class Cells:
    """The cell of every point (N,), counted along the log first, and how many cells lie along it."""

    of_point: Whole
    rows: int

    def count(self, chosen: NDArray[np.bool_]) -> Whole:
        """How many of the chosen points lie in each cell, shape (rows, COLUMNS)."""
        return np.bincount(self.of_point[chosen], minlength=self.rows * COLUMNS).reshape(self.rows, COLUMNS)

    def mode(self, off: Array, width: float, reach: float) -> Array:
        """For every point, what most points around it say, shape (N,): a mean shift from the cell's median, over 3 x 3 cells.

        Only points within +-reach count; where there are few of them the answer is 0. Of two walls more than about twice `width`
        apart the one with more points is found.
        """
        size, near = self.rows * COLUMNS, np.abs(off) <= reach
        cell, value = self.of_point[near], off[near]
        middle = _medians(cell, value, size)
        for _ in range(15):
            pull = np.exp(-0.5 * ((value - middle[cell]) / width) ** 2)
            middle = np.bincount(cell, pull * value, size) / np.maximum(np.bincount(cell, pull, size), 1e-12)
        middle[np.bincount(cell, minlength=size) < FEW] = 0.0
        found: Array = _with_neighbours(middle.reshape(self.rows, COLUMNS)).ravel()[self.of_point]
        return found


def _medians(cell: Whole, value: Array, size: int) -> Array:
    order = np.lexsort((value, cell))
    count = np.bincount(cell, minlength=size)
    middle = np.cumsum(count) - count + count // 2
    medians: Array = value[order][np.minimum(middle, len(value) - 1)]
    return medians


def _with_neighbours(values: Array) -> Array:
    """The median of each cell and the eight around it; the ends repeat themselves, the round closes."""
    closed = np.pad(np.pad(values, ((0, 0), (1, 1)), mode="wrap"), ((1, 1), (0, 0)), mode="edge")
    rows, columns = values.shape
    shifted = [closed[i : i + rows, j : j + columns] for i in range(3) for j in range(3)]
    middle: Array = np.median(shifted, axis=0)
    return middle


def cells_of(z_m: Array, angle: Array, length_m: float) -> Cells:
    """Cells of points at distances z (N,) from the butt and directions (N,) [rad, 0..2 pi)."""
    rows = max(1, min(ceil(length_m / CELL_M), len(z_m) // (COLUMNS * POINTS_A_CELL)))
    row = np.clip(z_m / length_m * rows, 0, rows - 1).astype(np.int64)
    column = np.floor(angle / (2.0 * np.pi) * COLUMNS).astype(np.int64) % COLUMNS
    return Cells(row * COLUMNS + column, rows)
