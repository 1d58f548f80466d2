"""Grid: where the nodes lie in half a thickness, from the surface to the middle."""

from __future__ import annotations

from functools import cache

import numpy as np

from waney.drying.kernel.records import Array, Grid
from waney.figures.problem import Problem

CELLS, RATIO = 20, 1.15
"""The usual grid: its first gap is a hundredth of the half thickness."""


class BadGrid(Problem):
    """A grid that cannot be laid."""


def positions(cells: int = CELLS, ratio: float = RATIO) -> Array:
    """Nodes from 0 (surface) to 1 (middle), shape (cells,), each gap `ratio` times the one before it."""
    if cells < 3 or not 1.0 <= ratio <= 2.0:
        raise BadGrid(f"{cells} cells with gaps growing {ratio:g} times cannot be laid: take 3 cells or more, 1 to 2 times.")
    gaps = ratio ** np.arange(cells - 1)
    return np.concatenate(([0.0], np.cumsum(gaps) / gaps.sum()))


@cache
def grid(cells: int = CELLS, ratio: float = RATIO) -> Grid:
    """Control volumes about the nodes; the outer and the inner one are halves. Shares of the half thickness."""
    return over(positions(cells, ratio))


def over(nodes: Array) -> Grid:
    """The same for nodes that were laid otherwise, rising from 0 to 1, shape (n,)."""
    gaps = np.diff(nodes)
    volumes = np.zeros(nodes.size)
    volumes[:-1] += gaps / 2.0
    volumes[1:] += gaps / 2.0
    return Grid(volumes, gaps)
