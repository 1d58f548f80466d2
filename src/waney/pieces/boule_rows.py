"""Boule rows: rows of pieces whose meeting faces differ least, and the best row that has another order.

A state is piece · sides + side; a row names one state of each piece. cost[a, b]: by how much faces differ when b lies under a.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Row = tuple[int, ...]
EXACT = 12
"""pieces whose best row, and the best one of another order, are found for certain; the table of the search doubles with each"""


def length(cost: Array | Sequence[Sequence[float]], row: Sequence[int]) -> float:
    """By how much all faces that meet in a row differ."""
    return float(sum(cost[a][b] for a, b in pairwise(row)))


def best_rows(cost: Array, sides: int) -> tuple[Row, Row | None]:
    """The best row, and the best of those whose order is neither its own nor that turned round; None where there is no other.

    For certain up to EXACT pieces. Beyond: the best that is left when rows grown from every piece, nearest next, are bettered by
    moving one piece or turning a stretch over until nothing helps; the other is the best that is one such step away.
    """
    if len(cost) // sides <= EXACT:
        return _certain(cost, sides)
    table: list[list[float]] = cost.tolist()
    grown = (_bettered(table, _grown(table, sides, start), sides) for start in range(0, len(cost), sides))
    best = min(grown, key=lambda row: length(table, row))
    others = (row for row in _steps(best, sides) if not same_order(row, best, sides))
    return best, min(others, key=lambda row: length(table, row))


def same_order(row: Row, other: Row, sides: int) -> bool:
    """Whether two rows have one order of pieces, perhaps from the other end."""
    one, two = (tuple(state // sides for state in each) for each in (row, other))
    return one in (two, two[::-1])


# for certain


def _certain(cost: Array, sides: int) -> tuple[Row, Row | None]:
    """A row of another order lacks one at least of the best row's neighbours: so the best is sought with each pair kept apart."""
    [best] = _held_karp(cost[None], sides)
    if len(best) < 3:
        return best, None
    without = np.stack([_kept_apart(cost, a // sides, b // sides, sides) for a, b in pairwise(best)])
    return best, min(_held_karp(without, sides), key=lambda row: length(cost, row))


def _kept_apart(cost: Array, one: int, other: int, sides: int) -> Array:
    changed = cost.copy()
    a, b = (slice(piece * sides, piece * sides + sides) for piece in (one, other))
    changed[a, b] = changed[b, a] = np.inf
    return changed


def _held_karp(costs: Array, sides: int) -> list[Row]:
    """Held and Karp (1962), for several tables of costs (v, s, s) at once: the best way that visits each piece once."""
    tables, states, _ = costs.shape
    count = states // sides
    best = np.full((1 << count, tables, states), np.inf)
    for piece in range(count):
        best[1 << piece, :, piece * sides : (piece + 1) * sides] = 0.0
    for visited in range(1, (1 << count) - 1):
        through = (best[visited][:, :, None] + costs).min(axis=1)
        for piece in range(count):
            if not visited >> piece & 1:
                here = slice(piece * sides, (piece + 1) * sides)
                best[visited | 1 << piece, :, here] = through[:, here]
    return [_read_back(best[:, v], costs[v], sides) for v in range(tables)]


def _read_back(best: Array, cost: Array, sides: int) -> Row:
    visited = len(best) - 1
    row = [int(np.argmin(best[visited]))]
    while visited & (visited - 1):
        visited ^= 1 << row[-1] // sides
        row.append(int(np.argmin(best[visited] + cost[:, row[-1]])))
    return tuple(row[::-1])


# by steps


def _grown(cost: list[list[float]], sides: int, start: int) -> Row:
    row, left = [start], set(range(len(cost) // sides)) - {start // sides}
    while left:
        states = [piece * sides + side for piece in sorted(left) for side in range(sides)]
        row.append(min(states, key=lambda state: cost[row[-1]][state]))
        left.remove(row[-1] // sides)
    return tuple(row)


def _bettered(cost: list[list[float]], row: Row, sides: int) -> Row:
    while True:
        better = min(_steps(row, sides), key=lambda other: length(cost, other))
        if length(cost, better) >= length(cost, row) - 1e-12:
            return row
        row = better


def _steps(row: Row, sides: int) -> Iterator[Row]:
    """One piece put elsewhere or the other way; a stretch turned over as a whole."""
    for place, state in enumerate(row):
        rest = row[:place] + row[place + 1 :]
        for to in range(len(row)):
            yield from ((*rest[:to], state ^ side, *rest[to:]) for side in range(sides))
    for start, end in combinations(range(len(row) + 1), 2):
        yield row[:start] + tuple(state ^ 1 for state in reversed(row[start:end])) + row[end:]
