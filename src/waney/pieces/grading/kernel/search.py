"""Most clear wood in at most k cuttings, over every region between lines: the best leaf, or both sides of a cut.

Vocabulary: x lines i < j along, y lines a < b across; pair(i, j) numbers them; most[p, q, k] = wood in the region of the pairs
p and q in at most k cuttings, k = 0 standing for none; with `endless` the column 1 is for any number.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.figures.compiled import compiled

Whole = NDArray[np.int64]
Table = NDArray[np.int32]


@compiled
def pair(i: int, j: int, count: int) -> int:
    """Number of the pair of lines i < j out of `count`."""
    return i * (2 * count - i - 1) // 2 + j - i - 1


@compiled
def fits(width: int, length: int, sizes: Whole) -> bool:
    """Whether a cutting is as large as one of the least sizes (s, 2): width, length."""
    s = 0
    while s < sizes.shape[0] and (width < sizes[s, 0] or length < sizes[s, 1]):
        s += 1
    return bool(s < sizes.shape[0])


@compiled
def taken(sums: Whole, i: int, j: int, a: int, b: int) -> int:
    """What a summed table (x lines, y lines) holds between lines."""
    return int(sums[j, b] - sums[i, b] - sums[j, a] + sums[i, a])


@compiled
def most_wood(xs: Whole, ys: Whole, bad: Whole, useful: Whole, sizes: Whole, cuttings: int, endless: bool) -> Table:
    """Table most (pairs of x, pairs of y, cuttings + 1), in squares of the unit of the lines.

    xs, ys: rising lines; bad: summed count of blocked cells; useful: summed area of cells in reach of a cutting; sizes: (s, 2).
    """
    nx, ny, last = len(xs), len(ys), 1 if endless else cuttings
    most = np.zeros((nx * (nx - 1) // 2, ny * (ny - 1) // 2, last + 1), dtype=np.int32)
    for wide in range(1, nx):
        for i in range(nx - wide):
            j = i + wide
            p = pair(i, j, nx)
            for high in range(1, ny):
                for a in range(ny - high):
                    b = a + high
                    _region(most, xs, ys, bad, useful, sizes, last, endless, i, j, a, b, p, pair(a, b, ny))
    return most


@compiled
def _leaf(most: Table, xs: Whole, ys: Whole, bad: Whole, sizes: Whole, i: int, j: int, a: int, b: int) -> int:
    """The largest single cutting: the whole region, or what is left when it is a line smaller."""
    if taken(bad, i, j, a, b) == 0:
        return int((xs[j] - xs[i]) * (ys[b] - ys[a]))
    nx, ny, best = len(xs), len(ys), 0
    q, p = pair(a, b, ny), pair(i, j, nx)
    if j - i > 1:
        best = max(best, most[pair(i + 1, j, nx), q, 0], most[pair(i, j - 1, nx), q, 0])
    if b - a > 1:
        best = max(best, most[p, pair(a + 1, b, ny), 0], most[p, pair(a, b - 1, ny), 0])
    return int(best)


@compiled
def _region(
    most: Table, xs: Whole, ys: Whole, bad: Whole, useful: Whole, sizes: Whole, last: int, endless: bool,
    i: int, j: int, a: int, b: int, p: int, q: int,
) -> None:  # fmt: skip
    """Fill one region; column 0 keeps the largest single leaf, columns 1.. the best sets."""
    if not fits(ys[b] - ys[a], xs[j] - xs[i], sizes):
        return
    nx, ny = len(xs), len(ys)
    single = _leaf(most, xs, ys, bad, sizes, i, j, a, b)
    most[p, q, 0] = single
    for k in range(1, last + 1):
        most[p, q, k] = single
    full = taken(useful, i, j, a, b)
    if single == full:
        return
    second = min(2, last)
    for e in range(i + 1, j):
        if most[pair(i, e, nx), q, 0] > 0 and most[pair(e, j, nx), q, 0] > 0 and most[p, q, second] < full:
            _share(most, p, q, pair(i, e, nx), q, pair(e, j, nx), q, last, endless)
    for e in range(a + 1, b):
        if most[p, pair(a, e, ny), 0] > 0 and most[p, pair(e, b, ny), 0] > 0 and most[p, q, second] < full:
            _share(most, p, q, p, pair(a, e, ny), p, pair(e, b, ny), last, endless)


@compiled
def _share(most: Table, p: int, q: int, p1: int, q1: int, p2: int, q2: int, last: int, endless: bool) -> None:
    """A cut: how many cuttings go to the one side and how many to the other."""
    if endless:
        most[p, q, 1] = max(most[p, q, 1], most[p1, q1, 1] + most[p2, q2, 1])
        return
    for k in range(2, last + 1):
        best = most[p, q, k]
        for s in range(1, k):
            both = most[p1, q1, s] + most[p2, q2, k - s]
            if both > best:
                best = both
        most[p, q, k] = best
