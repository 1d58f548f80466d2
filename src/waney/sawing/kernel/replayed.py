"""Replayed: the slices and passes of a plan judged in one lie of another log, with only the chords that they need.

A slice is judged as every product that it is offered to, each by itself; which of them it is in the end is not settled here.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM, chords_at, widest_within
from waney.sawing.kernel.grain import Lattice, lattice_of, mean_c2
from waney.sawing.kernel.judge import fit_product, salvage_cents, whole_cents
from waney.sawing.kernel.passes import metal_cents, pass_cents
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import NO, SET_FACTOR, SET_OF, Array, Ask, Obstacles, Rings, Sections, Whole
from waney.sawing.kernel.slices import LINES, Cut, Slice, lay_out

LOWER, UPPER = 0, 1
"""Columns of the slices of a plan: the passes below and above [steps]; lower 0 = the flat that it lies on."""


class Replayed(NamedTuple):
    """One lie sawn again. cents (S, J): each slice as each product, a set's extra in it, NEVER where it cannot be or is not
    offered; width, length (S, J): finished [m]; salvage (S,) [cents]. passes, metal (P,) [cents]; pass_width (P,) [m]."""

    cents: Whole
    width: Array
    length: Array
    salvage: Whole
    passes: Whole
    metal: Whole
    pass_width: Array


@compiled
def replayed(
    ask: Ask, sections: Sections, rings: Rings, obstacles: Obstacles, cut: Cut, slices: Whole, offered: Whole, heights: Whole
) -> Replayed:
    """Saw one lie at these heights (P,) [steps]. slices (S, 2) by the columns above; offered (S, J): 1 where a slice may be that
    product; cut: what sawn planes left and right leave."""
    count, products = offered.shape
    cents, salvage = np.full((count, products), NEVER, np.int64), np.zeros(count, np.int64)
    width, length = np.zeros((count, products)), np.zeros((count, products))
    lattice, lines = lattice_of(rings, sections), np.empty((LINES, len(sections.w)))
    edges = np.empty((3, 2, len(sections.w)), np.int64)
    for i in range(count):
        s = _slice(ask, sections, lattice, cut, slices[i, LOWER], slices[i, UPPER], lines, edges)
        salvage[i] = salvage_cents(ask.orders, s)
        for j in range(products):
            if offered[i, j] == 1:
                fit = fit_product(ask.orders, obstacles, s, j, NO)
                if fit.fits:
                    cents[i, j] = fit.cents
                    width[i, j], length[i, j] = fit.width, fit.length
                    if ask.orders.kinds[j, SET_OF] > 1:
                        cents[i, j] += whole_cents((ask.orders.sizes[j, SET_FACTOR] - 1.0) * fit.cents)
    passes, metal, across = _passes(ask, sections, obstacles, cut, heights)
    return Replayed(cents, width, length, salvage, passes, metal, across)


@compiled
def _slice(ask: Ask, sections: Sections, lattice: Lattice, cut: Cut, lower: int, upper: int, lines: Array, edges: Whole) -> Slice:
    """The slice between two passes, or on the flat; heights are worked out as the tables of a lie do, to the last digit."""
    u, v = sections.wood_u, sections.wood_v
    kerf = 0.0 if lower == 0 else ask.kerf
    chords_at(u, v, kerf + lower * ask.step, 1.0, edges[0:1])
    chords_at(u, v, kerf / 2.0 + (lower + upper) * (ask.step / 2.0), 1.0, edges[1:2])
    chords_at(u, v, upper * ask.step, 1.0, edges[2:3])
    squared = lay_out(lines, True, cut, edges, 0, 1, 2)
    middle = ((lower + upper) * ask.step + kerf) / 2.0
    c2 = mean_c2(lattice, edges, 1, middle, cut.low, cut.high)
    thickness = (upper - lower) * ask.step - kerf
    return Slice(lines, middle, thickness, sections.w[1] - sections.w[0], lattice, c2, squared)


@compiled
def _passes(ask: Ask, sections: Sections, obstacles: Obstacles, cut: Cut, heights: Whole) -> tuple[Whole, Whole, Array]:
    """What every pass costs, what it may cost by metal [cents], its width with bark [m]; one that meets nothing costs nothing."""
    cents, metal = np.zeros(len(heights), np.int64), np.zeros(len(heights), np.int64)
    across, edges = np.zeros(len(heights)), np.empty((1, 2, len(sections.w)), np.int64)
    length = (sections.w[1] - sections.w[0]) * (len(sections.w) - 1)
    for i in range(len(heights)):
        height = heights[i] * ask.step
        chords_at(sections.bark_u, sections.bark_v, height, 1.0, edges)
        across[i] = widest_within(edges, 0, cut.low, cut.high) * NM
        if across[i] > 0.0:
            cents[i] = pass_cents(ask.effort, across[i], length)
            metal[i] = metal_cents(ask.effort, obstacles, height, height + ask.kerf, cut)
    return cents, metal, across
