"""Boule order: in which order, and which face up, the pieces of a log lay, found from the widths and the outlines of their faces.

Two faces that met in one cut are alike but for the kerf: in width, and in every wave of both edges. So the best order is the one
whose meeting faces differ least. Which end of the row was up cannot be seen from faces, nor can pieces be told apart whose faces
are alike: that is said, not guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.pieces.boule_rows import EXACT, Row, best_rows, length
from waney.pieces.boule_way import Wide, first_off
from waney.pieces.faces_met import END_FOR_END, TURNED, TwoFaces, mean_widths, meeting

Array = NDArray[np.float64]
MOST = 40
"""pieces that are put in order at once"""
A_TAPE_M = 0.003
"""an eighth of an inch: what a tape on a waney edge does not tell apart (common practice, no source)"""
A_TRACE_M = 0.001
"""what outlines of both faces do not tell apart: a mean over a hundred places of two edges, each good to 2 mm or so (ours)"""
SURE = 1.5
"""So many times what is not told apart must the next best order be worse, to be sure: ours; drawn logs bear it out."""


class NoOrder(Problem):
    """Pieces that cannot be put in order."""


@dataclass(frozen=True)
class Place:
    """A piece in the row. turned: its second face is up; end_for_end: its marked end lies where the first one's other end does;
    apart_m: by how much its upper face differs from the one it lies under."""

    name: str
    turned: bool
    apart_m: float | None
    """None for the first"""
    end_for_end: bool = False
    wide_m: Wide | None = None
    """mean widths of the face that is up and of the one below"""


@dataclass(frozen=True)
class BouleOrder:
    """The row from one end. alike: pairs that could change places, the row getting worse by less than `same_m` in the sum."""

    places: tuple[Place, ...]
    sum_m: float
    alike: tuple[tuple[str, str], ...]
    second: tuple[str, ...] = ()
    """the best of all other orders, from the end that is nearer to this one; empty where there is no other"""
    worse_m: float = 0.0
    """by how much the second fits worse, in the sum"""
    sure: bool = True
    exact: bool = True
    """whether every order was weighed up"""

    def turned_round(self) -> BouleOrder:
        """The same row from its other end: every piece turned over."""
        gaps = (None, *(one.apart_m for one in reversed(self.places[1:])))
        places = (
            replace(one, turned=not one.turned, apart_m=gap, wide_m=one.wide_m and one.wide_m[::-1])
            for one, gap in zip(reversed(self.places), gaps, strict=True)
        )
        return replace(self, places=tuple(places), second=self.second[::-1])

    def first_off(self, planned: Sequence[Wide]) -> bool | None:
        """Whether its first piece came off first, by a plan's widths; None where that cannot be told."""
        row = [one.wide_m for one in self.places if one.wide_m is not None]
        return first_off(row, planned) if len(row) == len(self.places) else None


def boule_order(pieces: Sequence[TwoFaces], same_m: float) -> BouleOrder:
    """The row whose meeting faces differ least, over every order and every way to lie.

    Of rows that are one another turned round the one is given whose first piece was named first, its marked end first.
    same_m: what a tape does not tell apart [m]. Raises NoOrder: fewer than two pieces, more than MOST, a piece without widths and
    edges, or widths at different places.
    """
    _checked(pieces)
    met = meeting(pieces)
    cost, sides = met.cost_m, met.sides
    best, second = best_rows(cost, sides)
    row = _from_the_first(best, sides)
    worse = length(cost, second) - length(cost, best) if second else 0.0
    return BouleOrder(
        places=tuple(_places(pieces, met.apart_m, row, sides)),
        sum_m=length(met.apart_m, row),
        alike=tuple(_alike(pieces, cost, row, same_m, sides)),
        second=_nearer(tuple(state // sides for state in second or ()), [state // sides for state in row], pieces),
        worse_m=worse,
        sure=second is None or worse >= SURE * same_m,
        exact=len(pieces) <= EXACT,
    )


def _checked(pieces: Sequence[TwoFaces]) -> None:
    if not 2 <= len(pieces) <= MOST:
        raise NoOrder(f"Two to {MOST} pieces can be put in order by their faces; these are {len(pieces)}. Take part of them.")
    half = [each.name for each in pieces if not each.both_known and not (each.first_m or each.second_m)]
    if half:
        raise NoOrder(
            f"{', '.join(half)}: tape the widths of both faces, or trace both: one face does not show what lay under it."
        )
    places = {len(face) for each in pieces if each.first_m or each.second_m for face in (each.first_m, each.second_m)}
    if len(places) > 1 or 0 in places:
        raise NoOrder("Measure every face at the same places, one at least, from the butt to the top.")


def _from_the_first(row: Row, sides: int) -> Row:
    if row[0] // sides > row[-1] // sides:
        row = tuple(state ^ TURNED for state in reversed(row))
    if sides > END_FOR_END and row[0] % sides & END_FOR_END:
        row = tuple(state ^ END_FOR_END for state in row)
    return row


def _places(pieces: Sequence[TwoFaces], apart: Array, row: Row, sides: int) -> list[Place]:
    gaps = [None, *(float(apart[a, b]) for a, b in pairwise(row))]
    return [
        _place(pieces[state // sides], gap, turned=bool(state % sides & TURNED), end_for_end=bool(state % sides & END_FOR_END))
        for state, gap in zip(row, gaps, strict=True)
    ]


def _place(piece: TwoFaces, apart_m: float | None, *, turned: bool, end_for_end: bool) -> Place:
    wide = mean_widths(piece)
    return Place(piece.name, turned, apart_m, end_for_end, wide[::-1] if turned else wide)


def _nearer(order: tuple[int, ...], to: Sequence[int], pieces: Sequence[TwoFaces]) -> tuple[str, ...]:
    """The order from the end from which more pieces stand where they stand in another."""
    ways = (order, order[::-1])
    return tuple(pieces[i].name for i in max(ways, key=lambda way: sum(a == b for a, b in zip(way, to, strict=False))))


def _alike(pieces: Sequence[TwoFaces], cost: Array, row: Row, same_m: float, sides: int) -> list[tuple[str, str]]:
    """Pairs whose places may be exchanged, each lying whichever way is best there."""
    table = cost.tolist()
    least = length(table, row)
    return [
        (pieces[row[i] // sides].name, pieces[row[j] // sides].name)
        for i in range(len(row))
        for j in range(i + 1, len(row))
        if min(length(table, other) for other in _exchanged(row, i, j, sides)) - least < same_m
    ]


def _exchanged(row: Row, i: int, j: int, sides: int) -> list[list[int]]:
    rows = []
    for side_i in range(sides):
        for side_j in range(sides):
            other = list(row)
            other[i], other[j] = row[j] ^ side_j, row[i] ^ side_i
            rows.append(other)
    return rows
