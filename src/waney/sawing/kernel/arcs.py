"""Arcs: every slice that a plan may use, judged once: from where, how many steps, what it is then worth.

Arc rows: start p, span in steps, worth in cents, product (-1 = wood on no list), sets count as one arc.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import FAR
from waney.sawing.kernel.judge import fit_product, salvage_cents, whole_cents
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import NO, SALVAGE, SET_FACTOR, SET_OF, Ask, Obstacles, Orders, Whole
from waney.sawing.kernel.slices import Cut, Slice, whole
from waney.sawing.kernel.tables import Room, Tables, room_for_orders, slice_between, slice_of_cant, slice_on_flat

LEAST_WASTE_M = 0.006
"""Thinnest piece of wood on no list that can be taken off whole (common practice, no source)."""
NONE = -1


class Arcs(NamedTuple):
    """Worth [cents] and product of arcs by start and choice, (P, C), and their spans in steps (P, C); span 0 = no such arc.

    Choices: the distinct settings (best product each), then one for each product sold in sets, then wood on no list by span.
    judged: how many slices were looked at.
    """

    worth: Whole
    product: Whole
    span: Whole
    judged: int


class Way(NamedTuple):
    """How the slices of some arcs lie: the first on a flat, or within the sawn planes of a cant."""

    on_flat: bool
    cut: Cut


@compiled
def plainly() -> Way:
    """Slices of the whole log, between passes."""
    return Way(False, whole())


@compiled
def flatly() -> Way:
    """The first slice on a flat."""
    return Way(True, whole())


@compiled
def within(cut: Cut) -> Way:
    """Slices of a cant."""
    return Way(False, cut)


@compiled
def between(way: Way) -> Way:
    """The same for a slice that does not lie on the flat."""
    return Way(False, way.cut)


@compiled
def take(t: Tables, p: int, k: int, way: Way, room: Room) -> Slice:
    """The slice of k steps that starts at pass p."""
    if way.on_flat:
        return slice_on_flat(t, p, k, room)
    if way.cut.high < FAR:
        return slice_of_cant(t, p, k, room, way.cut)
    return slice_between(t, p, k, room)


@compiled
def best_single(orders: Orders, obstacles: Obstacles, s: Slice, steps: Whole, p: int, k: int) -> tuple[int, int]:
    """Worth and product of one slice from pass p: the best of the products (not in sets) whose setting (J, P) is k; else
    salvage."""
    best, product = salvage_cents(orders, s), NONE
    for j in range(len(steps)):
        if orders.kinds[j, SET_OF] == 1 and steps[j, p] == k:
            fit = fit_product(orders, obstacles, s, j, NO)
            if fit.fits and fit.cents > best:
                best, product = fit.cents, j
    return best, product


@compiled
def set_worth(orders: Orders, obstacles: Obstacles, t: Tables, p: int, k: int, j: int, way: Way, room: Room) -> tuple[bool, int]:
    """Worth of a whole set of product j that starts at p, slices of k steps each; whether all of them fit."""
    total = 0
    for i in range(orders.kinds[j, SET_OF]):
        fit = fit_product(orders, obstacles, take(t, p + i * k, k, way if i == 0 else between(way), room), j, NO)
        if not fit.fits:
            return False, 0
        total += fit.cents + whole_cents((orders.sizes[j, SET_FACTOR] - 1.0) * fit.cents)
    return True, total


@compiled
def arcs_of(orders: Orders, obstacles: Obstacles, t: Tables, steps: Whole, way: Way) -> Arcs:
    """All arcs of one lie; steps (J, P) are the settings. way: how their slices lie."""
    distinct = np.unique(steps)
    distinct = distinct[distinct > 0]
    longest = distinct.max() if len(distinct) else 0
    least_waste = int(np.ceil((LEAST_WASTE_M + t.kerf) / t.step))
    wastes = max(2 * longest - least_waste + 1, 1)
    products, singles = len(orders.kinds), len(distinct)
    choices = singles + products + wastes
    worth = np.zeros((t.passes, choices), np.int64)
    product = np.full((t.passes, choices), NONE, np.int64)
    span = np.zeros((t.passes, choices), np.int64)
    room = room_for_orders(t, orders)
    judged = 0
    for p in range(t.passes):
        for c in range(singles):
            k = distinct[c]
            if p + k < t.passes and _offered(steps, p, k):
                worth[p, c], product[p, c] = best_single(orders, obstacles, take(t, p, k, way, room), steps, p, k)
                span[p, c] = k if product[p, c] != NONE else 0
                judged += 1
        for j in range(products):  # a set never starts on a flat: its slices would not be alike
            k = steps[j, p]
            if orders.kinds[j, SET_OF] > 1 and k > 0 and not way.on_flat and p + orders.kinds[j, SET_OF] * k < t.passes:
                whole, cents = set_worth(orders, obstacles, t, p, k, j, way, room)
                judged += orders.kinds[j, SET_OF]
                if whole:
                    c = singles + j
                    worth[p, c], product[p, c], span[p, c] = cents, j, orders.kinds[j, SET_OF] * k
        for i in range(wastes):
            k = least_waste + i
            if p + k < t.passes:
                c = singles + products + i
                span[p, c] = k
                if orders.rates[SALVAGE] != 0.0:
                    worth[p, c] = salvage_cents(orders, take(t, p, k, way, room))
                    judged += 1
    return Arcs(worth, product, span, judged)


@compiled
def _offered(steps: Whole, p: int, k: int) -> bool:
    for j in range(len(steps)):
        if steps[j, p] == k:
            return True
    return False


@compiled
def passable(arcs: Arcs, ask: Ask, cost: Whole) -> Arcs:
    """The arcs that the mill can saw: no slice thicker than clears the head; the passes inside each set taken off its worth.

    cost (P,): cents of every pass, NEVER where it cannot be made.
    """
    if arcs.span.max() * ask.step - ask.kerf <= ask.effort.thickest and ask.orders.kinds[:, SET_OF].max() <= 1:
        return arcs
    worth, span = arcs.worth.copy(), arcs.span.copy()
    for p in range(len(cost)):
        for c in range(worth.shape[1]):
            if span[p, c] == 0:
                continue
            j = arcs.product[p, c]
            n = ask.orders.kinds[j, SET_OF] if j != NONE else 1
            k = span[p, c] // n
            if k * ask.step - ask.kerf > ask.effort.thickest + 1e-9:
                span[p, c] = 0
            for i in range(1, n):
                if cost[p + i * k] == NEVER:
                    span[p, c] = 0
                else:
                    worth[p, c] -= cost[p + i * k]
    return Arcs(worth, arcs.product, span, arcs.judged)
