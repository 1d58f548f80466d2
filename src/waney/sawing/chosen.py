"""Chosen: the slices that a search settled on, in the words of the grid, before pieces are made of them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.sawing.kernel.arcs import NONE, Arcs

Whole = NDArray[np.int64]


@dataclass(frozen=True)
class ChosenSlice:
    """One slice of a lie: from pass p, k steps; product index or NONE; sets share a number; on_flat: p is the flat."""

    p: int
    k: int
    product: int
    set_number: int | None = None
    on_flat: bool = False


@dataclass(frozen=True)
class ChosenLie:
    """The slices of one lie, from the bottom up, and its lowest pass (None on a flat, where the first slice makes it)."""

    slices: tuple[ChosenSlice, ...]
    lowest: int | None = None

    @property
    def passes(self) -> tuple[int, ...]:
        """Passes from the top down, in the order they are sawn."""
        heights = {s.p for s in self.slices if not s.on_flat} | {s.p + s.k for s in self.slices}
        if self.lowest is not None:
            heights.add(self.lowest)
        return tuple(sorted(heights, reverse=True))


def slices_of(
    arcs: Arcs, chain: list[tuple[int, int]], set_of: Whole, first_set: int = 0, *, on_flat: bool = False
) -> tuple[ChosenSlice, ...]:
    """The slices of a chain of arcs (pass, choice): sets taken apart into their slices. on_flat: the first starts on a flat."""
    found: list[ChosenSlice] = []
    sets = first_set
    for i, (p, c) in enumerate(chain):
        product, span = int(arcs.product[p, c]), int(arcs.span[p, c])
        n = int(set_of[product]) if product != NONE else 1
        number = sets if n > 1 else None
        sets += n > 1
        k = span // n
        for j in range(n):
            found.append(ChosenSlice(p + j * k, k, product, number, on_flat and i == 0 and j == 0))
    return tuple(found)
