"""Boule order: in which order, and which face up, the pieces of a log lay, found from the widths of their two faces.

Two faces that met in one cut are alike but for the kerf. So the best order is the one whose meeting faces differ least. Which
end of the row was up cannot be seen from widths, nor can pieces be told apart whose faces are alike: that is said, not guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem

Array = NDArray[np.float64]
MOST = 14
"""pieces that are put in order exactly; the table of the search doubles with each"""


class NoOrder(Problem):
    """Pieces that cannot be put in order."""


@dataclass(frozen=True)
class TwoFaces:
    """A piece by the widths of its faces [m], each at the same places from the butt to the top; none left out."""

    name: str
    first_m: tuple[float, ...]
    second_m: tuple[float, ...]


@dataclass(frozen=True)
class Place:
    """A piece in the row. turned: its second face is up. apart_m: by how much its upper face differs from the one it lies on."""

    name: str
    turned: bool
    apart_m: float | None
    """None for the first"""


@dataclass(frozen=True)
class BouleOrder:
    """The row from one end. alike: pairs that could change places, the row getting worse by less than `same_m` in the sum."""

    places: tuple[Place, ...]
    sum_m: float
    alike: tuple[tuple[str, str], ...]


def boule_order(pieces: Sequence[TwoFaces], same_m: float) -> BouleOrder:
    """The row whose meeting faces differ least, exactly, over every order and every way to lie.

    Of two rows that are each other's mirror the one is given whose first piece was named first. same_m: what a tape does not tell
    apart [m]. Raises NoOrder: fewer than two pieces, more than MOST, or widths at different places.
    """
    _checked(pieces)
    cost = _costs(pieces)
    row = _best_row(cost, len(pieces))
    if row[0] // 2 > row[-1] // 2:
        row = [side ^ 1 for side in reversed(row)]
    apart = [float(cost[a, b]) for a, b in pairwise(row)]
    places = [Place(pieces[side // 2].name, bool(side % 2), gap) for side, gap in zip(row, [None, *apart], strict=True)]
    return BouleOrder(tuple(places), sum(apart), tuple(_alike(pieces, cost, row, same_m)))


def _checked(pieces: Sequence[TwoFaces]) -> None:
    if not 2 <= len(pieces) <= MOST:
        raise NoOrder(f"Two to {MOST} pieces can be put in order by their widths; these are {len(pieces)}. Take part of them.")
    places = {len(face) for each in pieces for face in (each.first_m, each.second_m)}
    if len(places) != 1 or 0 in places:
        raise NoOrder("Measure every face at the same places, one at least, from the butt to the top.")


def _costs(pieces: Sequence[TwoFaces]) -> Array:
    """Mean difference of the faces that meet when a state follows another; state 2i: piece i as measured, 2i + 1: turned."""
    upper = np.array([face for each in pieces for face in (each.first_m, each.second_m)])
    lower = np.array([face for each in pieces for face in (each.second_m, each.first_m)])
    cost: Array = np.abs(lower[:, None, :] - upper[None, :, :]).mean(axis=2)
    return cost


def _best_row(cost: Array, count: int) -> list[int]:
    """Held and Karp (1962): the cheapest way that visits each piece once; states are piece and side."""
    states, full = 2 * count, 1 << count
    best = np.full((full, states), np.inf)
    came = np.full((full, states), -1, dtype=np.int64)
    for side in range(states):
        best[1 << side // 2, side] = 0.0
    for visited in range(1, full):
        if visited & (visited - 1):
            _extend(best, came, cost, visited, count)
    return _read_back(came, int(np.argmin(best[full - 1])), full - 1)


def _extend(best: Array, came: NDArray[np.int64], cost: Array, visited: int, count: int) -> None:
    """The best ways through exactly these pieces, by the last one and its side."""
    for piece in range(count):
        if not visited >> piece & 1:
            continue
        before = best[visited ^ 1 << piece]
        for side in (2 * piece, 2 * piece + 1):
            through = before + cost[:, side]
            came[visited, side] = int(np.argmin(through))
            best[visited, side] = through[came[visited, side]]


def _read_back(came: NDArray[np.int64], last: int, visited: int) -> list[int]:
    row: list[int] = []
    while last >= 0:
        row.append(last)
        last, visited = int(came[visited, last]), visited ^ 1 << last // 2
    return row[::-1]


def _alike(pieces: Sequence[TwoFaces], cost: Array, row: list[int], same_m: float) -> list[tuple[str, str]]:
    """Pairs whose places may be exchanged, each lying whichever way is best there."""
    found = []
    least = _length(cost, row)
    for i in range(len(row)):
        for j in range(i + 1, len(row)):
            if min(_length(cost, other) for other in _exchanged(row, i, j)) - least < same_m:
                found.append((pieces[row[i] // 2].name, pieces[row[j] // 2].name))
    return found


def _exchanged(row: list[int], i: int, j: int) -> list[list[int]]:
    rows = []
    for turn_i in (0, 1):
        for turn_j in (0, 1):
            other = list(row)
            other[i], other[j] = row[j] ^ turn_j, row[i] ^ turn_i
            rows.append(other)
    return rows


def _length(cost: Array, row: Sequence[int]) -> float:
    return float(sum(cost[a, b] for a, b in pairwise(row)))
