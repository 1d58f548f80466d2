"""Scanned faces: clouds of points of both faces over one level bench become heights on a grid, to the careful side.

In each square of the grid the upper face counts as low as its lowest points but one in twenty, the under face as high as its
highest but one in twenty: dust and stray points lie beyond, hollows that a plane must clear do not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.cloud import read_cloud
from waney.pieces.flattening import Heights

Array = NDArray[np.float64]

EVERY_M = 0.05
"""Side of the squares, where nobody says it [m]."""
STRAY = 0.05
"""Share of a square's points that may be stray. Ours, no source."""
FEWEST = 3
"""Points a square needs to have a height."""
MOST_SQUARES = 40_000


class BadScan(Problem):
    """Clouds that cannot be laid on a grid."""


def heights_of_files(
    files: Sequence[tuple[str, BinaryIO]], thickness_m: float, unit_m: float, every_m: float = EVERY_M
) -> Heights:
    """Heights from a scan of the upper face and one of the under face, or the even thickness below the upper one [m].

    files: name and content of one or both; unit_m: metres for one unit in them. Raises BadCloud, BadScan, BadHeights.
    """
    clouds = [read_cloud(stream, name, unit_m).points_m for name, stream in files]
    return scanned_heights(clouds[0], clouds[1] if len(clouds) > 1 else thickness_m, every_m)


def scanned_heights(upper_m: Array, under_m: Array | float, every_m: float) -> Heights:
    """Heights from points (n, 3) of the upper face and of the under face, or the even thickness below the upper one [m].

    every_m: side of the squares. Raises BadScan where clouds do not lie over each other or squares are too fine, BadHeights.
    """
    low, high = upper_m[:, :2].min(axis=0), upper_m[:, :2].max(axis=0)
    counts = np.maximum(1, np.floor((high - low) / every_m)).astype(int)
    if int(counts.prod()) > MOST_SQUARES:
        raise BadScan(f"{counts[0]} by {counts[1]} squares are too fine a grid; write a larger distance between heights.")
    if min(counts) < 2:
        raise BadScan("The piece is narrower than two squares of the grid; write a smaller distance between heights.")
    squares = _Squares(low, (high - low) / counts, counts)
    above = squares.heights(upper_m, STRAY)
    below = above - under_m if isinstance(under_m, float) else squares.heights(under_m, 1.0 - STRAY)
    if not (np.isfinite(above) & np.isfinite(below)).any():
        raise BadScan("The two clouds do not lie over each other; both must be in one frame, level with the bench.")
    along, across = (low[k] + (np.arange(counts[k]) + 0.5) * squares.size[k] for k in (0, 1))
    return Heights(along - low[0], across - low[1], below, above)


class _Squares:
    """A grid of squares over the upper face."""

    def __init__(self, low: Array, size: Array, counts: NDArray[np.int64]) -> None:
        self.low, self.size, self.counts = low, size, counts

    def heights(self, points_m: Array, share: float) -> Array:
        """The height that so large a share of a square's points lies below, nan with fewer than FEWEST, (along, across)."""
        cell = np.floor((points_m[:, :2] - self.low) / self.size).astype(int)
        cell = np.where(cell == self.counts, self.counts - 1, cell)  # points on the far edges belong to the last squares
        inside = np.all((cell >= 0) & (cell < self.counts), axis=1)
        number = cell[inside, 0] * self.counts[1] + cell[inside, 1]
        order = np.argsort(number, kind="stable")
        z, number = points_m[inside, 2][order], number[order]
        found = np.full(int(self.counts.prod()), np.nan)
        for group in np.split(np.arange(len(z)), np.flatnonzero(np.diff(number)) + 1):
            if len(group) >= FEWEST:
                found[number[group[0]]] = np.quantile(z[group], share)
        return found.reshape(tuple(self.counts))
