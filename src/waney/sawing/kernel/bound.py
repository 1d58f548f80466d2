"""Bound: the most that any cant of a box can earn, from the outlook of its lie.

Every answer is at least what `cant_cents` finds for any cant in the box, and comes close to it as the box closes.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM, widest_within
from waney.sawing.kernel.judge import SLACK_M, cents_of, finished_width, hollow, shrinks_across, shrinks_through, wide_factor
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
    DRYNESS,
    EDGED,
    EDGING,
    LEAST_WIDTH,
    MOST_WIDTH,
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
from waney.sawing.kernel.slices import Cut
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


@compiled
def most_of_box(ask: Ask, outlook: Outlook, t: Tables, free: Whole, box: Box) -> int:
    """No cant of the box earns more, its passes paid [cents]; free (P,): passes that may be the first."""
    orders, inner = ask.orders, box.inner
    within = Cut(int(np.ceil(inner[0] / NM)), int(np.floor(inner[1] / NM))) if inner[1] > inner[0] else Cut(0, 0)
    length = t.spacing * (t.edges.shape[2] - 1)
    clear = int(min(np.floor((ask.effort.thickest + ask.kerf + 1e-9) / ask.step), t.passes))
    best = np.full(t.passes + 1, NEVER, np.int64)  # from each pass upwards, pass paid
    onward = np.full(t.passes + 1, NEVER, np.int64)  # the best of this pass and all above, salvage of what lies between counted
    cost = np.full(t.passes, NEVER, np.int64)
    worth = np.full((len(outlook.steps), t.passes), NEVER, np.int64)
    for p in range(t.passes - 1, 0, -1):
        if within_reach(ask.effort, p * ask.step):
            width = widest_within(t.bark, p, within.low, within.high) * NM
            if width <= ask.effort.widest + 1e-9:
                cost[p] = least_pass_cents(ask.effort, width, length)
        if cost[p] != NEVER:
            top = 0 if free[p] else int(NEVER)
            if onward[p + 1] != NEVER:
                top = max(top, onward[p + 1] + outlook.cap)
            for j in range(len(outlook.steps)):
                k = outlook.steps[j]
                if 0 < k <= clear and p + k < t.passes:
                    worth[j, p] = most_of_slice(orders, outlook, t, j, p, box)
                    top = max(top, _most_of_arc(orders, outlook, worth, best, cost, j, p))
            if top != NEVER:
                best[p] = top - cost[p]
        onward[p] = best[p] if onward[p + 1] == NEVER else max(best[p], onward[p + 1] + outlook.cap)
    return int(best.max())


@compiled
def _most_of_arc(orders: Orders, outlook: Outlook, worth: Whole, best: Whole, cost: Whole, j: int, p: int) -> int:
    """The most of one piece, or of a whole set, of product j from pass p upwards."""
    n, k = orders.kinds[j, SET_OF], outlook.steps[j]
    if p + n * k >= len(best) - 1 or best[p + n * k] == NEVER:
        return int(NEVER)
    if n == 1:
        return int(worth[j, p] + best[p + k]) if worth[j, p] != NEVER else int(NEVER)
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
def most_of_slice(orders: Orders, outlook: Outlook, t: Tables, j: int, p: int, box: Box) -> int:
    """No slice from pass p, sawn as product j out of any cant of the box, is worth more [cents]; NEVER when it cannot be it."""
    k = outlook.steps[j]
    thickness = k * t.step - t.kerf
    least_c2, most_c2 = _c2_range(outlook, 2 * p + k, box)
    wide_left = 1.0 - min(shrinks_across(orders, least_c2), shrinks_across(orders, most_c2))
    thick_left = 1.0 - min(shrinks_through(orders, least_c2), shrinks_through(orders, most_c2))
    spare = thickness * thick_left - orders.sizes[j, TAKEN] - orders.sizes[j, THICKNESS] + SLACK_M
    if spare < 0.0:
        return int(NEVER)
    edging = 0.0
    inner, sq = box.inner, outlook.squared
    if inner[0] < sq[j, p, 0] - NM < inner[1] or inner[0] < sq[j, p, 1] + NM < inner[1]:
        edging = orders.rates[EDGING]
    most = int(NEVER)
    for i in range(orders.lengths.shape[1]):
        if np.isnan(orders.lengths[j, i]):
            break
        if outlook.windows[j, p, i, WIDEST] > 0.0:
            most = max(most, _most_of_length(orders, outlook, j, p, i, box, thickness, wide_left, spare, edging))
    if most != NEVER and orders.rates[SALVAGE] > 0.0:
        most = max(most, int(ceil(orders.rates[SALVAGE] * outlook.volume[j, p])))
    return int(most)


@compiled
def _c2_range(outlook: Outlook, q: int, box: Box) -> tuple[float, float]:
    """The least and the greatest mean c2 of one mid-plane over any cut between inner and outer: of what lies between them, as
    much as can be is flat, or quarter, and taken in."""
    c2, run = outlook.c2, outlook.run
    outer_c2, outer_run = c2[q, box.b2] - c2[q, box.a1], run[q, box.b2] - run[q, box.a1]
    if outer_run <= 0.0:
        return 0.0, 1.0
    inner_c2, inner_run = 0.0, 0.0
    if box.b1 > box.a2:
        inner_c2, inner_run = c2[q, box.b1] - c2[q, box.a2], run[q, box.b1] - run[q, box.a2]
    more_c2 = max(outer_c2 - inner_c2, 0.0)
    more_run = max(outer_run - inner_run, more_c2)
    low = inner_c2 / max(inner_run + more_run - more_c2, 1e-12)
    high = outer_c2 / max(inner_run + more_c2, 1e-12)
    return max(low - 1e-9, 0.0), min(high + 1e-9, 1.0)


@compiled
def _most_of_length(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, box: Box, thickness: float, left: float, spare: float, edging: float
) -> int:
    """The most of any width that a window of one length can have in any cant of the box."""
    w = outlook.windows
    outer, inner = box.outer, box.inner
    if orders.kinds[j, EDGED] == 0:
        return _most_of_live(orders, outlook, j, p, i, box, thickness, left, spare)
    widest = min(w[j, p, i, WIDEST], outer[1] - outer[0], w[j, p, i, MOST_HIGH] - outer[0], outer[1] - w[j, p, i, LEAST_LOW])
    narrowest = 0.0  # that the best window of any cant can be
    if inner[1] > inner[0] and not outlook.hindered[j]:
        narrowest = min(inner[1], w[j, p, i, LEAST_HIGH]) - max(inner[0], w[j, p, i, MOST_LOW])
    most, least = (widest + 2 * NM) * left, orders.sizes[j, LEAST_WIDTH]
    if np.isnan(orders.widths[j, 0]):
        return _most_between(orders, outlook, j, p, i, finished_width(orders, j, most), 2, thickness, left, edging)
    best = int(NEVER)
    certain = finished_width(orders, j, narrowest * (1.0 - _most_across(orders)))
    for at in range(orders.widths.shape[1]):
        width = orders.widths[j, at]
        if np.isnan(width) or width < certain - SLACK_M:
            break
        if width > most + SLACK_M or width < least - SLACK_M or width > orders.sizes[j, MOST_WIDTH] + SLACK_M:
            continue
        green = width / left
        if orders.kinds[j, CUPS] != 0 and hollow(orders, green / 2.0, w[j, p, i, AWAY]) > spare:
            continue
        factor = wide_factor(orders, j, width)
        surely = outlook.near[j, p] and not outlook.hindered[j] and _holds_pith(w[j, p, i], box, green)
        if not surely:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, False, thickness, left, edging))
        if outlook.near[j, p]:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, True, thickness, left, edging))
    return int(best)


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
def _most_across(orders: Orders) -> float:
    return float(max(orders.rates[RADIAL], orders.rates[TANGENTIAL]) * orders.rates[DRYNESS])


@compiled
def _holds_pith(window: Array, box: Box, green: float) -> bool:
    """Whether a piece of this green width, in the middle of what any cant of the box leaves of any window, holds the pith."""
    if np.isnan(window[PITH_U]) or box.inner[1] <= box.inner[0]:
        return False
    most_low = max(window[MOST_LOW], box.inner[0]) + min(window[MOST_HIGH], box.outer[1])
    least_high = max(window[LEAST_LOW], box.outer[0]) + min(window[LEAST_HIGH], box.inner[1])
    return bool(0.5 * (most_low - green) <= window[PITH_U] - NM and 0.5 * (least_high + green) >= window[PITH_U] + NM)


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
