"""Lines at which a cut can matter: where the wood that a cutting can reach begins or ends, and least cuttings away from there.

A cut that lies elsewhere can be pushed, without losing wood, until it meets such a line: what both sides give is linear in its
place, until a cutting has its least size or wood ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.compiled import COMPILED
from waney.figures.problem import Problem

Whole = NDArray[np.int64]
Cells = NDArray[np.bool_]
Box = tuple[int, int, int, int]
"""x0, x1, y0, y1"""
Sizes = tuple[tuple[int, int], ...]
"""least cuttings: width, length"""

MOST_REGIONS = 2_000_000 if COMPILED else 20_000
"""Work limit: regions between lines that one search may look at. Past it no further lines are made; fewer where
the arithmetic is not compiled."""


class TooManyMarks(Problem):
    """More marks than a search can hold apart."""


@dataclass(frozen=True)
class Ground:
    """Lines along and across, and which cells between them some cutting can reach (x cells, y cells)."""

    xs: Whole
    ys: Whole
    useful: Cells

    @property
    def regions(self) -> int:
        """Pairs of lines along times pairs across."""
        return _regions(len(self.xs), len(self.ys))

    @property
    def useful_area(self) -> Whole:
        """Area of each cell that can be reached, 0 elsewhere."""
        return np.where(self.useful, np.outer(np.diff(self.xs), np.diff(self.ys)), 0)

    def summed_useful(self) -> Whole:
        """Summed table of `useful_area`."""
        return summed(self.useful_area)

    def summed_bad(self) -> Whole:
        """Summed count of cells that no cutting can reach."""
        return summed((~self.useful).astype(np.int64))


def _regions(along: int, across: int) -> int:
    """Pairs of so many lines times pairs of so many others."""
    return along * (along - 1) // 2 * (across * (across - 1) // 2)


def summed(cells: Whole) -> Whole:
    """Summed table with a row and a column of zeros in front."""
    return np.pad(cells.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))


def ground(length: int, width: int, sizes: Sizes, blocked: tuple[Box, ...]) -> Ground:
    """What cuttings can reach of a blank, with as few lines as show it. Raises TooManyMarks."""
    xs = np.unique(np.array([0, length, *(side for box in blocked for side in box[:2])], dtype=np.int64))
    ys = np.unique(np.array([0, width, *(side for box in blocked for side in box[2:])], dtype=np.int64))
    clear = np.ones((len(xs) - 1, len(ys) - 1), dtype=bool)
    for x0, x1, y0, y1 in blocked:
        clear[slice(*np.searchsorted(xs, (x0, x1))), slice(*np.searchsorted(ys, (y0, y1)))] = False
    found = _thinned(Ground(xs, ys, _reached(xs, ys, clear, sizes)))
    if found.regions > MOST_REGIONS:
        raise TooManyMarks("So many marks cannot be held apart; leave out small ones inside others, or join neighbours into one.")
    return found


def _reached(xs: Whole, ys: Whole, clear: Cells, sizes: Sizes) -> Cells:
    """Cells that lie in some clear rectangle of a least size."""
    bad, reached = summed((~clear).astype(np.int64)), np.zeros_like(clear)
    across: dict[frozenset[tuple[int, int]], int] = {}  # what a shorter cutting of the same runs cannot reach, none can
    for w, ln in sizes:
        runs = frozenset(_shortest(ys, w))
        across[runs] = min(ln, across.get(runs, ln))
    for runs, ln in across.items():
        for i, j in _shortest(xs, ln):
            for a, b in runs:
                if bad[j, b] - bad[i, b] - bad[j, a] + bad[i, a] == 0:
                    reached[i:j, a:b] = True
    return reached


def _shortest(lines: Whole, size: int) -> set[tuple[int, int]]:
    """From each line to the nearest one on either side that is at least a size away."""
    ends, starts = np.searchsorted(lines, lines + size), np.searchsorted(lines, lines - size, side="right") - 1
    ahead = {(i, int(j)) for i, j in enumerate(ends) if j < len(lines)}
    return ahead | {(int(i), j) for j, i in enumerate(starts) if i >= 0}


def _thinned(full: Ground) -> Ground:
    """Without lines at which nothing begins or ends."""
    keep_x = [0, *(np.flatnonzero((full.useful[1:] != full.useful[:-1]).any(axis=1)) + 1).tolist(), len(full.xs) - 1]
    keep_y = [0, *(np.flatnonzero((full.useful[:, 1:] != full.useful[:, :-1]).any(axis=0)) + 1).tolist(), len(full.ys) - 1]
    return Ground(full.xs[keep_x], full.ys[keep_y], full.useful[np.ix_(keep_x[:-1], keep_y[:-1])])


def with_lines(start: Ground, sizes: Sizes, rounds: int) -> tuple[Ground, bool]:
    """With the lines that least cuttings make, so many rounds of them at most, and whether none is missing."""
    for _ in range(rounds):
        wider = _finer(start, _next(start, sizes, along=True), _next(start, sizes, along=False))
        if len(wider.xs) == len(start.xs) and len(wider.ys) == len(start.ys):
            return start, True
        if wider.regions > MOST_REGIONS:
            return start, False
        start = wider
    return start, True


def _next(here: Ground, sizes: Sizes, *, along: bool) -> set[int]:
    """A least cutting ahead of and behind each line of one axis, where one has room there; no more than make too many regions."""
    bad = summed((~here.useful).astype(np.int64))
    lines, across, bad = (here.xs, here.ys, bad) if along else (here.ys, here.xs, bad.T)
    found: set[int] = set()
    for w, ln in sizes:
        if _regions(len(found.union(lines.tolist())), len(across)) > MOST_REGIONS:
            break
        size, other = (ln, w) if along else (w, ln)
        for line in lines.tolist():
            for low, high, new in ((line, line + size, line + size), (line - size, line, line - size)):
                if 0 < new < lines[-1] and low >= 0 and high <= lines[-1] and _room(lines, across, bad, low, high, other):
                    found.add(new)
    return found


def _room(lines: Whole, across: Whole, bad: Whole, low: int, high: int, other: int) -> bool:
    """Whether low..high is clear somewhere over at least `other` of the other axis."""
    i, j = int(np.searchsorted(lines, low, side="right")) - 1, int(np.searchsorted(lines, high))
    free = np.diff(bad[j] - bad[i]) == 0
    run = 0
    for ok, size in zip(free, np.diff(across), strict=True):
        run = run + int(size) if ok else 0
        if run >= other:
            return True
    return False


def _finer(here: Ground, more_x: set[int], more_y: set[int]) -> Ground:
    xs, ys = (np.unique(np.array([*lines, *more])) for lines, more in ((here.xs, more_x), (here.ys, more_y)))
    cell_x, cell_y = np.searchsorted(here.xs, xs[:-1], side="right") - 1, np.searchsorted(here.ys, ys[:-1], side="right") - 1
    return Ground(xs, ys, here.useful[np.ix_(cell_x, cell_y)])
