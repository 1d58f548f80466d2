"""Bound: the most that any cant of a box can earn, from the outlook of its lie.

Every answer is at least what `cant_cents` finds for any cant in the box, and comes close to it as the box closes.
"""

from __future__ import annotations

from math import ceil

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
from waney.sawing.kernel.judge import fit_product
from waney.sawing.kernel.outlook import Outlook
from waney.sawing.kernel.passes import least_pass_cents, metal_cents, within_reach
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import EDGED, NO, SET_FACTOR, SET_OF, Array, Ask, Obstacles, Orders, Whole
from waney.sawing.kernel.slice_bound import Box, common_of, fill_listed, fill_others
from waney.sawing.kernel.slices import Cut, cut_at
from waney.sawing.kernel.tables import Tables, room_for, slice_of_cant


@compiled
def most_of_box(ask: Ask, obstacles: Obstacles, outlook: Outlook, t: Tables, free: Whole, box: Box) -> int:
    """No cant of the box earns more, its passes paid [cents]; free (P,): passes that may be the first."""
    orders = ask.orders
    clear = int(min(np.floor((ask.effort.thickest + ask.kerf + 1e-9) / ask.step), t.passes))
    worth = np.full((len(outlook.steps), t.passes), NEVER, np.int64)
    for j in range(len(outlook.steps)):
        if 0 < outlook.steps[j] <= clear:
            common = common_of(orders, outlook, t, j)
            if orders.kinds[j, EDGED] == 1 and not np.isnan(orders.widths[j, 0]):
                fill_listed(orders, outlook, j, common, box, worth[j])
            else:
                fill_others(orders, outlook, j, common, box, worth[j])
            if box.a1 == box.a2 and box.b1 == box.b2:
                _judge_hindered(orders, obstacles, outlook, t, j, box, worth[j])
    cost = np.full(t.passes, NEVER, np.int64)
    _fill_costs(ask, obstacles, outlook.bark, t, box.inner[0], box.inner[1], cost)
    return _best_chain(orders, outlook.steps, worth, cost, free, outlook.cap)


@compiled
def _judge_hindered(orders: Orders, obstacles: Obstacles, outlook: Outlook, t: Tables, j: int, box: Box, worth: Whole) -> None:
    """What a box of one single cant gives where zones, a pith or a wanted grain stand in the way, to the cent."""
    cut, room = cut_at(box.outer[0], box.outer[1]), room_for(t)
    for p in range(len(worth)):
        if outlook.hindered[j, p] and worth[p] != NEVER:
            fit = fit_product(orders, obstacles, slice_of_cant(t, p, outlook.steps[j], room, cut), j, NO)
            worth[p] = fit.cents if fit.fits else NEVER


@compiled
def _fill_costs(ask: Ask, obstacles: Obstacles, bark: Array, t: Tables, low: float, high: float, cost: Whole) -> None:
    """The least that each pass can cost in any cant that holds what lies between low and high."""
    effort, length = ask.effort, t.spacing * (t.edges.shape[2] - 1)
    always = least_pass_cents(effort, 0.0, length)
    varies = effort.wear_per_m2 != 0.0 or len(effort.feed_width) > 0
    metal = high > low and len(obstacles.kind) > obstacles.piths
    within = Cut(int(np.ceil(low / NM)), int(np.floor(high / NM)))
    for p in range(1, len(cost)):
        if within_reach(effort, p * ask.step):
            width = max(min(bark[p, 1], high) - max(bark[p, 0], low), 0.0)
            if width <= effort.widest + 1e-9:
                cost[p] = least_pass_cents(effort, width, length) if varies else always
                if metal:
                    cost[p] += metal_cents(effort, obstacles, p * t.step, p * t.step + t.kerf, within)


@compiled
def _best_chain(orders: Orders, steps: Whole, worth: Whole, cost: Whole, free: Whole, cap: int) -> int:
    """The most of any chain of slices; worth (J, P) by product and first pass. cap: cents a step that is no piece, salvaged."""
    passes = len(cost)
    best = np.full(passes + 1, NEVER, np.int64)  # from each pass upwards, pass paid
    onward = np.full(passes + 1, NEVER, np.int64)  # the best of this pass and all above, salvage of what lies between counted
    most = int(NEVER)
    for p in range(passes - 1, 0, -1):
        if cost[p] != NEVER:
            top = 0 if free[p] else int(NEVER)
            if onward[p + 1] != NEVER:
                top = max(top, onward[p + 1] + cap)
            for j in range(len(steps)):
                if worth[j, p] != NEVER:
                    if orders.kinds[j, SET_OF] == 1:
                        if best[p + steps[j]] != NEVER:
                            top = max(top, worth[j, p] + best[p + steps[j]])
                    else:
                        top = max(top, _most_of_set(orders, steps[j], worth, best, cost, j, p))
            if top != NEVER:
                best[p] = top - cost[p]
                most = max(most, best[p])
        onward[p] = best[p] if onward[p + 1] == NEVER else max(best[p], onward[p + 1] + cap)
    return int(most)


@compiled
def _most_of_set(orders: Orders, k: int, worth: Whole, best: Whole, cost: Whole, j: int, p: int) -> int:
    """The most of a whole set of product j from pass p upwards."""
    n = orders.kinds[j, SET_OF]
    if p + n * k >= len(best) - 1 or best[p + n * k] == NEVER:
        return int(NEVER)
    total = best[p + n * k]
    for i in range(n):
        single = worth[j, p + i * k]
        if single == NEVER or (i > 0 and cost[p + i * k] == NEVER):
            return int(NEVER)
        total += single + int(ceil((orders.sizes[j, SET_FACTOR] - 1.0) * single)) + 1
        if i > 0:
            total -= cost[p + i * k]
    return int(total)
