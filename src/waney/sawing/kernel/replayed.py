"""Replayed: the slices and passes of a plan judged in one lie of another log, with only the chords that they need.

A slice is judged as every product that it is offered to, each by itself; which of them it is in the end is not settled here.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM, chords_at, widest_within
from waney.sawing.kernel.grain import GRAIN_ACROSS, GRAIN_STATIONS, grain_at
from waney.sawing.kernel.judge import fit_product, salvage_cents, whole_cents
from waney.sawing.kernel.passes import metal_cents, pass_cents
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import SET_FACTOR, SET_OF, Array, Ask, Obstacles, Rings, Sections, Whole
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
    lines, samples = np.empty((LINES, len(sections.w))), np.empty((GRAIN_STATIONS, GRAIN_ACROSS))
    for i in range(count):
        s = _slice(ask, sections, rings, cut, slices[i, LOWER], slices[i, UPPER], lines, samples)
        salvage[i] = salvage_cents(ask.orders, s)
        for j in range(products):
            if offered[i, j] == 1:
                fit = fit_product(ask.orders, obstacles, s, j, False)
                if fit.fits:
                    cents[i, j] = fit.cents
                    width[i, j], length[i, j] = fit.width, fit.length
                    if ask.orders.kinds[j, SET_OF] > 1:
                        cents[i, j] += whole_cents((ask.orders.sizes[j, SET_FACTOR] - 1.0) * fit.cents)
    passes, metal, across = _passes(ask, sections, obstacles, cut, heights)
    return Replayed(cents, width, length, salvage, passes, metal, across)


@compiled
def _slice(ask: Ask, sections: Sections, rings: Rings, cut: Cut, lower: int, upper: int, lines: Array, samples: Array) -> Slice:
    """The slice between two passes, or on the flat; heights are worked out as the tables of a lie do, to the last digit."""
    kerf = 0.0 if lower == 0 else ask.kerf
    middle = kerf / 2.0 + (lower + upper) * (ask.step / 2.0)
    low_b, high_b = _chord(sections.wood_u, sections.wood_v, kerf + lower * ask.step)
    low_m, high_m = _chord(sections.wood_u, sections.wood_v, middle)
    low_a, high_a = _chord(sections.wood_u, sections.wood_v, (2 * upper) * (ask.step / 2.0))
    squared = lay_out(lines, cut, low_b, high_b, low_m, high_m, low_a, high_a)
    c2 = grain_at(rings, sections.w, np.maximum(low_m, cut.low), np.minimum(high_m, cut.high), middle, samples)
    thickness = (upper - lower) * ask.step - kerf
    return Slice(lines, middle, thickness, sections.w[1] - sections.w[0], samples, c2, squared)


@compiled
def _chord(u: Array, v: Array, height: float) -> tuple[Whole, Whole]:
    """Low and high edge at one height, (W,) [nm]."""
    low, high = chords_at(u, v, height, 1.0, 1)
    return low[0], high[0]


@compiled
def _passes(ask: Ask, sections: Sections, obstacles: Obstacles, cut: Cut, heights: Whole) -> tuple[Whole, Whole, Array]:
    """What every pass costs, what it may cost by metal [cents], its width with bark [m]; one that meets nothing costs nothing."""
    cents, metal = np.zeros(len(heights), np.int64), np.zeros(len(heights), np.int64)
    across = np.zeros(len(heights))
    length = (sections.w[1] - sections.w[0]) * (len(sections.w) - 1)
    for i in range(len(heights)):
        height = heights[i] * ask.step
        low, high = _chord(sections.bark_u, sections.bark_v, height)
        across[i] = widest_within(low, high, cut.low, cut.high) * NM
        if across[i] > 0.0:
            cents[i] = pass_cents(ask.effort, across[i], length)
            metal[i] = metal_cents(ask.effort, obstacles, height, height + ask.kerf, cut)
    return cents, metal, across
