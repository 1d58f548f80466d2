"""Rows and layers of a pile chosen all at once.

Which pieces lie end to end, by matching (HiGHS); which rows share a layer, by filling its width exactly; which layers share the
room, by filling its height. Row: pieces end to end, as wide as its widest. Grid: sizes are counted in steps of half a millimetre,
rounded up, the room rounded down, so that what fits on the grid fits.
None of this knows what bears a layer: that is asked as it is laid, from the bottom up, and what finds no place is laid on top as
`waney.drying.pile` lays it. So it may come out worse than that; the caller keeps the better.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from waney.drying.kernel.records import Array
from waney.drying.pile_layers import ends_meet, largest_first, lie_at, next_layers, refusals, spans_over
from waney.drying.pile_parts import DUST_M, Base, Laid, Layer, Pile, PilePiece

STEP_M = 5e-4
PARTNERS = 12
"""Rows that each row is offered to lie end to end with: those next in width."""
ROUNDS = 2
"""Of matching: two pieces to a row after the first, up to four after the second."""
NODES = 200
"""Nodes of the search tree, a count of work: the same answer everywhere."""


@dataclass(frozen=True)
class Row:
    """Pieces end to end, the widest first."""

    pieces: tuple[PilePiece, ...]

    @cached_property
    def width_m(self) -> float:
        """Of its widest piece."""
        return max(piece.width_m for piece in self.pieces)

    @cached_property
    def length_m(self) -> float:
        """Of its pieces together."""
        return sum(piece.length_m for piece in self.pieces)

    @cached_property
    def area_m2(self) -> float:
        """What its pieces cover."""
        return sum(piece.length_m * piece.width_m for piece in self.pieces)

    @cached_property
    def thickness_m(self) -> float:
        """Of its thickest piece."""
        return max(piece.thickness_m for piece in self.pieces)

    @cached_property
    def volume_m3(self) -> float:
        """Of its pieces."""
        return sum(piece.volume_m3 for piece in self.pieces)


Rows = tuple[Row, ...]


def pile_of_rows(pieces: Sequence[PilePiece], base: Base) -> Pile:
    """The pile of these pieces, each of which could lie in it alone."""
    layers: list[Layer] = []
    z = base.sticker_m
    for rows in sorted(_chosen(_layers(pieces, base), base), key=_steadiness, reverse=True):
        laid = _laid(rows, base, layers[-1] if layers else None)
        if laid:
            layers.append(Layer(tuple(laid), z))
            z += layers[-1].thickness_m + base.sticker_m
    inside = {id(one.piece) for layer in layers for one in layer.laid}
    waiting = largest_first(piece for piece in pieces if id(piece) not in inside)
    more, left = next_layers(waiting, base, layers)
    return Pile(base, (*layers, *more), refusals(left, base, (*layers, *more)))


def _steadiness(rows: Rows) -> tuple[float, float]:
    """What lies below bears best: long rows, and much of them."""
    return min(row.length_m for row in rows), sum(row.area_m2 for row in rows)


def _laid(rows: Rows, base: Base, below: Layer | None) -> list[Laid]:
    """Rows side by side, the longest at the front and the back, where they bear the next layer; what is not borne is left out."""
    spans, found, y = spans_over(base, below), list[Laid](), 0.0
    longest = sorted(rows, key=lambda row: -row.length_m)
    for row in (*longest[0::2], *longest[1::2][::-1]):
        laid = lie_at(row.pieces, base, y, spans)
        if laid:
            found += laid
            y += max(one.piece.width_m for one in laid) + base.gap_m
    return found


def _layers(pieces: Sequence[PilePiece], base: Base) -> list[Rows]:
    """Layers that together hold all pieces, each as full as what is left allows."""
    found: list[Rows] = []
    for alike in _classes(pieces, base.within_m):
        rows = _rows(alike, base)
        while rows and (taken := _fullest(rows, base)):
            found.append(tuple(rows[i] for i in taken))
            rows = [row for i, row in enumerate(rows) if i not in set(taken)]
    return found


def _classes(pieces: Sequence[PilePiece], within_m: float) -> list[list[PilePiece]]:
    """Pieces that may share a layer, the thickest first."""
    found: list[list[PilePiece]] = []
    for piece in sorted(pieces, key=lambda p: (-p.thickness_m, p.name)):
        if found and found[-1][0].thickness_m - piece.thickness_m <= within_m + DUST_M:
            found[-1].append(piece)
        else:
            found.append([piece])
    return found


def _chosen(layers: Sequence[Rows], base: Base) -> list[Rows]:
    """The layers that hold most wood of those that fit below the top together."""
    heights = [max(row.thickness_m for row in rows) + base.sticker_m for rows in layers]
    return [layers[i] for i in _filled(heights, [sum(row.volume_m3 for row in rows) for rows in layers], base.height_m)]


def _fullest(rows: Sequence[Row], base: Base) -> list[int]:
    """Numbers of the rows that together cover most of one layer."""
    return _filled([row.width_m + base.gap_m for row in rows], [row.area_m2 for row in rows], base.width_m + base.gap_m)


def _filled(sizes: Sequence[float], values: Sequence[float], room: float) -> list[int]:
    """Numbers of the things of most value that fit in a room together, on the grid: the knapsack by dynamic programming."""
    steps = [int(np.ceil(size / STEP_M - 1e-6)) for size in sizes]
    space = int(np.floor(room / STEP_M + 1e-6))
    best: Array = np.zeros(space + 1)
    took = np.zeros((len(sizes), space + 1), dtype=bool)
    for i, (step, value) in enumerate(zip(steps, values, strict=True)):
        if step <= space:
            with_it = best[: space + 1 - step] + value
            took[i, step:] = with_it > best[step:] + 1e-12
            best[step:] = np.maximum(best[step:], with_it)
    found, left = [], space
    for i in reversed(range(len(sizes))):
        if took[i, left]:
            found.append(i)
            left -= steps[i]
    return found[::-1]


def _rows(pieces: Sequence[PilePiece], base: Base) -> list[Row]:
    """All pieces in rows that together are as narrow as matching makes them."""
    rows = [Row((piece,)) for piece in sorted(pieces, key=lambda p: (-p.width_m, p.name))]
    for _ in range(ROUNDS):
        pairs = _pairs(rows, base)
        if not pairs:
            break
        joined = _matched(len(rows), pairs, [min(rows[a].width_m, rows[b].width_m) for a, b in pairs])
        alone = sorted(set(range(len(rows))) - {i for pair in joined for i in pair})
        rows = [*(Row((*rows[a].pieces, *rows[b].pieces)) for a, b in joined), *(rows[i] for i in alone)]
        rows.sort(key=lambda row: -row.width_m)
    return rows


def _pairs(rows: Sequence[Row], base: Base) -> list[tuple[int, int]]:
    """Rows that may lie end to end, each with the next narrower ones that fit behind it."""
    return [(i, j) for i in range(len(rows)) for j, _ in zip(_partners(rows, i, base), range(PARTNERS), strict=False)]


def _partners(rows: Sequence[Row], i: int, base: Base) -> Iterator[int]:
    known: dict[tuple[float, ...], bool] = {}
    for j in range(i + 1, len(rows)):
        if rows[i].length_m + rows[j].length_m > base.length_m + DUST_M:
            continue
        lengths = tuple(piece.length_m for piece in (*rows[i].pieces, *rows[j].pieces))
        if lengths not in known:
            known[lengths] = ends_meet(lengths, base)
        if known[lengths]:
            yield j


def _matched(count: int, pairs: Sequence[tuple[int, int]], saved: Sequence[float]) -> list[tuple[int, int]]:
    """Pairs, no row in two of them, that save most width together (HiGHS)."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    ends = np.array(pairs).T.ravel()
    columns = np.tile(np.arange(len(pairs)), 2)
    used = csr_array((np.ones(ends.size), (ends, columns)), shape=(count, len(pairs)))
    found = milp(
        -np.asarray(saved),
        constraints=LinearConstraint(used, -np.inf, 1.0),
        integrality=np.ones(len(pairs), dtype=np.int64),
        bounds=Bounds(0.0, 1.0),
        options={"node_limit": NODES},
    )
    return [] if found.x is None else [pair for pair, x in zip(pairs, found.x, strict=True) if x > 0.5]
