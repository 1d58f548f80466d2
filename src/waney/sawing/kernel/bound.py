"""Bound: the most that any cant of a box can earn, from the outlook of its lie.

Every answer is at least what `cant_cents` finds for any cant in the box, and comes close to it as the box closes.
"""

from __future__ import annotations

from math import atan, ceil
from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
from waney.sawing.kernel.judge import SLACK_M, cents_of, finished_width, hollow, whole_cents, wide_factor
from waney.sawing.kernel.outlook import (
    AWAY,
    LEAST_HIGH,
    LEAST_LOW,
    MOST_HIGH,
    MOST_LOW,
    NARROW,
    PITH_U,
    WIDEST,
    Outlook,
)
from waney.sawing.kernel.passes import least_pass_cents, within_reach
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import (
    CUPS,
    DAYS,
    DRYING,
    DRYNESS,
    EDGED,
    EDGING,
    LEAST_WIDTH,
    LOSS,
    LOSS_PITH,
    RADIAL,
    SALVAGE,
    SET_FACTOR,
    SET_OF,
    TAKEN,
    TANGENTIAL,
    THICKNESS,
    TRIM,
    Array,
    Ask,
    Orders,
    Whole,
)
from waney.sawing.kernel.tables import Tables

ROUNDINGS = 2
"""Cents that rounding four terms can make between two widths at most."""


class Box(NamedTuple):
    """Indices of faces: the lower one from a1 to a2, the upper one from b1 to b2; and their places across [m]."""

    a1: int
    a2: int
    b1: int
    b2: int
    outer: tuple[float, float]
    inner: tuple[float, float]


class Slab(NamedTuple):
    """What is the same of all slices sawn as one product: green thickness, what must be left of it after shrinking [m], shrinkage
    along and across the rings down to the target [share], cents for edging, cents a m3 dried and salvaged."""

    thickness: float
    bare: float
    radial: float
    tangential: float
    edging: float
    drying: float
    salvage: float


@compiled
def most_of_box(ask: Ask, outlook: Outlook, t: Tables, free: Whole, box: Box) -> int:
    """No cant of the box earns more, its passes paid [cents]; free (P,): passes that may be the first."""
    orders = ask.orders
    clear = int(min(np.floor((ask.effort.thickest + ask.kerf + 1e-9) / ask.step), t.passes))
    worth = np.full((len(outlook.steps), t.passes), NEVER, np.int64)
    for j in range(len(outlook.steps)):
        if 0 < outlook.steps[j] <= clear:
            slab = _slab_of(orders, outlook, t, j)
            if orders.kinds[j, EDGED] == 1 and not np.isnan(orders.widths[j, 0]):
                _fill_listed(orders, outlook, j, slab, box, worth[j])
            else:
                _fill_others(orders, outlook, j, slab, box, worth[j])
    cost = np.full(t.passes, NEVER, np.int64)
    _fill_costs(ask, outlook.bark, t.spacing * (t.edges.shape[2] - 1), box.inner[0], box.inner[1], cost)
    return _best_chain(orders, outlook.steps, worth, cost, free, outlook.cap)


@compiled
def _slab_of(orders: Orders, outlook: Outlook, t: Tables, j: int) -> Slab:
    rates, sizes = orders.rates, orders.sizes
    return Slab(
        outlook.steps[j] * t.step - t.kerf,
        sizes[j, TAKEN] + sizes[j, THICKNESS] - SLACK_M,
        rates[RADIAL] * rates[DRYNESS],
        rates[TANGENTIAL] * rates[DRYNESS],
        rates[EDGING] if orders.kinds[j, EDGED] == 1 else 0.0,
        sizes[j, DAYS] * rates[DRYING],
        rates[SALVAGE],
    )


@compiled
def _fill_costs(ask: Ask, bark: Array, length: float, low: float, high: float, cost: Whole) -> None:
    """The least that each pass can cost in any cant that holds what lies between low and high."""
    effort = ask.effort
    always = least_pass_cents(effort, 0.0, length)
    varies = effort.wear_per_m2 != 0.0 or len(effort.feed_width) > 0
    for p in range(1, len(cost)):
        if within_reach(effort, p * ask.step):
            width = max(min(bark[p, 1], high) - max(bark[p, 0], low), 0.0)
            if width <= effort.widest + 1e-9:
                cost[p] = least_pass_cents(effort, width, length) if varies else always


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


@compiled
def _c2_range(outer_c2: float, outer_run: float, inner_c2: float, inner_run: float) -> tuple[float, float]:
    """The least and the greatest mean c2 of one mid-plane over any cut between inner and outer: of what lies between them, as
    much as can be is flat, or quarter, and taken in."""
    if outer_run <= 0.0:
        return 0.0, 1.0
    more_c2 = max(outer_c2 - inner_c2, 0.0)
    more_run = max(outer_run - inner_run, more_c2)
    low = inner_c2 / max(inner_run + more_run - more_c2, 1e-12)
    high = outer_c2 / max(inner_run + more_c2, 1e-12)
    return max(low - 1e-9, 0.0), min(high + 1e-9, 1.0)


@compiled
def _least_shrinkage(slab: Slab, least_c2: float, most_c2: float) -> tuple[float, float]:
    """What is left of width and of thickness at most."""
    difference = slab.tangential - slab.radial
    across = slab.radial + difference * (least_c2 if difference >= 0.0 else most_c2)
    through = slab.tangential - difference * (most_c2 if difference >= 0.0 else least_c2)
    return 1.0 - across, 1.0 - through


@compiled
def _fill_listed(orders: Orders, outlook: Outlook, j: int, slab: Slab, box: Box, worth: Whole) -> None:
    """The most of every slice sawn as an edged product of listed widths out of any cant of the box, (P,) by its first pass."""
    k, hindered = outlook.steps[j], outlook.hindered[j] == 1
    windows, near, squared, volume = outlook.windows[j], outlook.near[j], outlook.squared[j], outlook.volume[j]
    widths, at, onward = orders.widths[j], outlook.prices.at[j], outlook.prices.onward[j]
    outer_c2, outer_run = outlook.c2[box.b2], outlook.run[box.b2]
    without_c2, without_run = outlook.c2[box.a1], outlook.run[box.a1]
    inner_c2, inner_run = outlook.c2[max(box.b1, box.a2)], outlook.run[max(box.b1, box.a2)]
    within_c2, within_run = outlook.c2[box.a2], outlook.run[box.a2]
    (out_low, out_high), (in_low, in_high) = box.outer, box.inner
    holds = in_high > in_low
    most_across = max(slab.radial, slab.tangential)
    cup = (slab.tangential - slab.radial) if orders.kinds[j, CUPS] != 0 else 0.0
    loss, loss_pith, trim = orders.sizes[j, LOSS], orders.sizes[j, LOSS_PITH], orders.sizes[j, TRIM]
    for p in range(1, len(worth) - k):
        q = 2 * p + k
        least_c2, most_c2 = _c2_range(
            outer_c2[q] - without_c2[q], outer_run[q] - without_run[q], inner_c2[q] - within_c2[q], inner_run[q] - within_run[q]
        )  # fmt: skip
        left, thick_left = _least_shrinkage(slab, least_c2, most_c2)
        spare = slab.thickness * thick_left - slab.bare
        if spare < 0.0:
            continue
        edging = 0
        if slab.edging > 0.0 and (in_low < squared[p, 0] - NM < in_high or in_low < squared[p, 1] + NM < in_high):
            edging = whole_cents(slab.edging)
        salvaged, salvaged_pith = 0, 0
        if slab.salvage > 0.0:
            salvaged = whole_cents(slab.salvage * volume[p] * loss)
            salvaged_pith = whole_cents(slab.salvage * volume[p] * loss_pith)
        best = int(NEVER)
        for i in range(windows.shape[1]):
            w = windows[p, i]
            if not w[WIDEST] > 0.0:
                continue
            most = min(w[WIDEST], out_high - out_low, w[MOST_HIGH] - out_low, out_high - w[LEAST_LOW])
            most = (most + 2 * NM) * left + SLACK_M
            certain = 0.0  # width that the best window of any cant has
            if holds and not hindered:
                certain = (min(in_high, w[LEAST_HIGH]) - max(in_low, w[MOST_LOW])) * (1.0 - most_across) + SLACK_M
            for n in range(len(widths)):
                width = widths[n]
                if np.isnan(width) or onward[i, n] + max(salvaged, salvaged_pith) - edging <= best:
                    break
                if width > most:
                    continue
                green = width / left
                if not (at[i, n, 0] == NEVER or (cup > 0.0 and _hollow_over(cup, green / 2.0, w[AWAY], spare))):
                    dried = 0
                    if slab.drying > 0.0:
                        dried = whole_cents(slab.drying * green * slab.thickness * (orders.lengths[j, i] + trim))
                    pith = near[p] == 1
                    if not (pith and not hindered and holds and _holds_pith(w, in_low, in_high, out_low, out_high, green)):
                        best = max(best, at[i, n, 0] + salvaged - dried - edging)
                    if pith:
                        best = max(best, at[i, n, 1] + salvaged_pith - dried - edging)
                if width <= certain and at[i, n, 0] != NEVER:
                    break
        if best != NEVER and slab.salvage > 0.0:
            best = max(best, int(ceil(slab.salvage * volume[p])))
        worth[p] = best


@compiled
def _hollow_over(difference: float, half_width: float, away: float, spare: float) -> bool:
    """Whether the cup of this half width is over what is spare; the arc's tangent is only worked out when it must be."""
    if away == np.inf:
        return False
    slope = half_width / away
    if difference * half_width * slope <= spare:
        return False
    return bool(difference * half_width * atan(slope) > spare)


@compiled
def _holds_pith(w: Array, in_low: float, in_high: float, out_low: float, out_high: float, green: float) -> bool:
    """Whether a piece of this green width, in the middle of what any cant of the box leaves of any window, holds the pith."""
    if np.isnan(w[PITH_U]):
        return False
    most_low = max(w[MOST_LOW], in_low) + min(w[MOST_HIGH], out_high)
    least_high = max(w[LEAST_LOW], out_low) + min(w[LEAST_HIGH], in_high)
    return bool(0.5 * (most_low - green) <= w[PITH_U] - NM and 0.5 * (least_high + green) >= w[PITH_U] + NM)


@compiled
def _fill_others(orders: Orders, outlook: Outlook, j: int, slab: Slab, box: Box, worth: Whole) -> None:
    """The same for live edges, and for edged products of any width."""
    k, inner = outlook.steps[j], box.inner
    c2, run, a1, b2 = outlook.c2, outlook.run, box.a1, box.b2
    held = max(box.b1, box.a2)
    for p in range(1, len(worth) - k):
        q = 2 * p + k
        least_c2, most_c2 = _c2_range(
            c2[b2, q] - c2[a1, q], run[b2, q] - run[a1, q], c2[held, q] - c2[box.a2, q], run[held, q] - run[box.a2, q]
        )  # fmt: skip
        left, thick_left = _least_shrinkage(slab, least_c2, most_c2)
        spare = slab.thickness * thick_left - slab.bare
        if spare < 0.0:
            continue
        sq, edging = outlook.squared[j, p], 0.0
        if inner[0] < sq[0] - NM < inner[1] or inner[0] < sq[1] + NM < inner[1]:
            edging = slab.edging
        most = int(NEVER)
        for i in range(outlook.windows.shape[2]):
            w = outlook.windows[j, p, i]
            if w[WIDEST] > 0.0:
                if orders.kinds[j, EDGED] == 0:
                    most = max(most, _most_of_live(orders, outlook, j, p, i, box, slab.thickness, left, spare))
                else:
                    widest = min(w[WIDEST], box.outer[1] - box.outer[0], w[MOST_HIGH] - box.outer[0], box.outer[1] - w[LEAST_LOW])
                    top = finished_width(orders, j, (widest + 2 * NM) * left)
                    most = max(most, _most_between(orders, outlook, j, p, i, top, 2, slab.thickness, left, edging))
        if most != NEVER and slab.salvage > 0.0:
            most = max(most, int(ceil(slab.salvage * outlook.volume[j, p])))
        worth[p] = most


@compiled
def _most_of_live(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, box: Box, thickness: float, left: float, spare: float
) -> int:
    """The most of a live-edge window of one length in any cant of the box."""
    w, outer, inner = outlook.windows, box.outer, box.inner
    least = (orders.sizes[j, LEAST_WIDTH] - SLACK_M) / left
    if min(w[j, p, i, NARROW], outer[1] - outer[0]) + 2 * NM < least:
        return int(NEVER)
    spread = min(w[j, p, i, LEAST_HIGH], inner[1]) - max(w[j, p, i, MOST_LOW], inner[0])  # no cant is narrower half way along
    if orders.kinds[j, CUPS] != 0 and spread > 0.0 and hollow(orders, spread / 2.0, w[j, p, i, AWAY]) > spare:
        return int(NEVER)
    surely = inner[0] + NM < w[j, p, i, PITH_U] < inner[1] - NM
    kinds = 1 if surely else 2 if outlook.near[j, p] else 0
    width = min(w[j, p, i, WIDEST], outer[1] - outer[0]) * left
    return _most_between(orders, outlook, j, p, i, width, kinds, thickness, left, 0.0)


@compiled
def _most_between(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, top: float, kinds: int, thickness: float, left: float, edging: float
) -> int:
    """The most of any width from the least to top. kinds: 0 without pith, 1 with pith, 2 either."""
    least = orders.sizes[j, LEAST_WIDTH]
    if top < least - SLACK_M or top <= 0.0:
        return int(NEVER)
    factor = wide_factor(orders, j, top)
    for at in range(orders.wide.shape[1]):
        if orders.wide[j, at, 0] <= top:
            factor = max(factor, orders.wide[j, at, 1])
    best = int(NEVER)
    for width in (top, min(max(least, 0.0), top)):
        if kinds != 1:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, False, thickness, left, edging))
        if kinds != 0:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, True, thickness, left, edging))
    return best + ROUNDINGS


@compiled
def _cents_at(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, width: float, factor: float, pith: bool, thickness: float,
    left: float, edging: float,
) -> int:  # fmt: skip
    """Cents of one width and length at the kindest: the whole slice's salvage, no more dried than the piece."""
    length = orders.lengths[j, i]
    dried = 0.0
    if orders.kinds[j, EDGED] == 1:
        dried = width / left * thickness * (length + orders.sizes[j, TRIM])
    charged = edging if orders.kinds[j, EDGED] == 1 else 0.0
    return cents_of(orders, j, length, width, factor, pith, outlook.volume[j, p], dried, charged)
