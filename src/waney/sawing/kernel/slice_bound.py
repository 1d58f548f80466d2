"""Slice bound: the most that a slice can be worth out of any cant of a box, from the outlook of its lie.

Loops over the passes of a lie stand here whole, with nothing but arrays and numbers in them: handing on records of arrays costs
more than the arithmetic.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM
from waney.sawing.kernel.judge import (
    SLACK_M,
    cents_of,
    differs,
    finished_width,
    hollow,
    shrinks_across,
    shrinks_through,
    whole_cents,
    wide_factor,
)
from waney.sawing.kernel.outlook import (
    AWAY,
    EVER_HIGH,
    EVER_LOW,
    LEAST_HIGH,
    LEAST_LOW,
    MOST_HIGH,
    MOST_LOW,
    NARROW,
    NARROW_HIGH,
    NARROW_LOW,
    PITH_U,
    WIDEST,
    Outlook,
)
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import (
    CUPS,
    DAYS,
    DRYING,
    EDGED,
    EDGING,
    LEAST_WIDTH,
    LOSS,
    LOSS_PITH,
    MOST_WIDTH,
    NO,
    SALVAGE,
    TAKEN,
    THICKNESS,
    TRIM,
    YES,
    Array,
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


class Common(NamedTuple):
    """What is the same of all slices sawn as one product: green thickness, what must be left of it after shrinking [m], cents for
    edging, cents a m3 dried and salvaged."""

    thickness: float
    bare: float
    edging: float
    drying: float
    salvage: float


@compiled
def common_of(orders: Orders, outlook: Outlook, t: Tables, j: int) -> Common:
    """What all slices of product j have in common."""
    rates, sizes = orders.rates, orders.sizes
    return Common(
        outlook.steps[j] * t.step - t.kerf,
        sizes[j, TAKEN] + sizes[j, THICKNESS] - SLACK_M,
        rates[EDGING] if orders.kinds[j, EDGED] == 1 else 0.0,
        sizes[j, DAYS] * rates[DRYING],
        rates[SALVAGE],
    )


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
def _kindest(rates: Array, least_c2: float, most_c2: float) -> tuple[float, float]:
    """What is left of width and of thickness at most."""
    across = min(shrinks_across(rates, least_c2), shrinks_across(rates, most_c2))
    through = min(shrinks_through(rates, least_c2), shrinks_through(rates, most_c2))
    return 1.0 - across, 1.0 - through


@compiled
def fill_listed(orders: Orders, outlook: Outlook, j: int, common: Common, box: Box, worth: Whole) -> None:
    """The most of every slice sawn as an edged product of listed widths out of any cant of the box, (P,) by its first pass."""
    k, hindered = outlook.steps[j], outlook.hindered[j]
    windows, near, squared, volume = outlook.windows[j], outlook.near[j], outlook.squared[j], outlook.volume[j]
    widths, at, onward = orders.widths[j], outlook.prices.at[j], outlook.prices.onward[j]
    outer_c2, outer_run = outlook.c2[box.b2], outlook.run[box.b2]
    without_c2, without_run = outlook.c2[box.a1], outlook.run[box.a1]
    inner_c2, inner_run = outlook.c2[max(box.b1, box.a2)], outlook.run[max(box.b1, box.a2)]
    within_c2, within_run = outlook.c2[box.a2], outlook.run[box.a2]
    (out_low, out_high), (in_low, in_high) = box.outer, box.inner
    holds = in_high > in_low
    rates = orders.rates
    most_across = max(shrinks_across(rates, 0.0), shrinks_across(rates, 1.0))
    cup = differs(rates) if orders.kinds[j, CUPS] != 0 else 0.0
    loss, loss_pith, trim = orders.sizes[j, LOSS], orders.sizes[j, LOSS_PITH], orders.sizes[j, TRIM]
    for p in range(1, len(worth) - k):
        q = 2 * p + k
        least_c2, most_c2 = _c2_range(
            outer_c2[q] - without_c2[q], outer_run[q] - without_run[q], inner_c2[q] - within_c2[q], inner_run[q] - within_run[q]
        )  # fmt: skip
        left, thick_left = _kindest(rates, least_c2, most_c2)
        spare = common.thickness * thick_left - common.bare
        if spare < 0.0:
            continue
        edging = 0
        if common.edging > 0.0 and (in_low < squared[p, 0] - NM < in_high or in_low < squared[p, 1] + NM < in_high):
            edging = whole_cents(common.edging)
        salvaged, salvaged_pith = 0, 0
        if common.salvage > 0.0:
            salvaged = whole_cents(common.salvage * volume[p] * loss)
            salvaged_pith = whole_cents(common.salvage * volume[p] * loss_pith)
        best = int(NEVER)
        for i in range(windows.shape[1]):
            w = windows[p, i]
            if not w[WIDEST] > 0.0:
                continue
            most = min(w[WIDEST], out_high - out_low, w[MOST_HIGH] - out_low, out_high - w[LEAST_LOW])
            most = (most + 2 * NM) * left + SLACK_M
            certain = 0.0  # width that the best window of any cant has
            if holds and hindered[p] == 0:
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
                    if common.drying > 0.0:
                        dried = whole_cents(common.drying * green * common.thickness * (orders.lengths[j, i] + trim))
                    pith = near[p] == 1
                    if not (pith and hindered[p] == 0 and holds and _holds_pith(w, in_low, in_high, out_low, out_high, green)):
                        best = max(best, at[i, n, 0] + salvaged - dried - edging)
                    if pith:
                        best = max(best, at[i, n, 1] + salvaged_pith - dried - edging)
                if width <= certain and at[i, n, 0] != NEVER:
                    break
        if best != NEVER and common.salvage > 0.0:
            best = max(best, int(ceil(common.salvage * volume[p])))
        worth[p] = best


@compiled
def _hollow_over(difference: float, half_width: float, away: float, spare: float) -> bool:
    """Whether the cup of this half width is over what is spare; the arc's tangent is only worked out when it must be."""
    if away == np.inf:
        return False
    if difference * half_width * half_width / away <= spare:
        return False
    return hollow(difference, half_width, away) > spare


@compiled
def _holds_pith(w: Array, in_low: float, in_high: float, out_low: float, out_high: float, green: float) -> bool:
    """Whether a piece of this green width, in the middle of what any cant of the box leaves of any window, holds the pith."""
    if np.isnan(w[PITH_U]):
        return False
    most_low = max(w[MOST_LOW], in_low) + min(w[MOST_HIGH], out_high)
    least_high = max(w[LEAST_LOW], out_low) + min(w[LEAST_HIGH], in_high)
    return bool(0.5 * (most_low - green) <= w[PITH_U] - NM and 0.5 * (least_high + green) >= w[PITH_U] + NM)


@compiled
def fill_others(orders: Orders, outlook: Outlook, j: int, common: Common, box: Box, worth: Whole) -> None:
    """The same for live edges, and for edged products of any width."""
    k, inner = outlook.steps[j], box.inner
    c2, run, a1, b2, rates = outlook.c2, outlook.run, box.a1, box.b2, orders.rates
    held = max(box.b1, box.a2)
    for p in range(1, len(worth) - k):
        q = 2 * p + k
        least_c2, most_c2 = _c2_range(
            c2[b2, q] - c2[a1, q], run[b2, q] - run[a1, q], c2[held, q] - c2[box.a2, q], run[held, q] - run[box.a2, q]
        )  # fmt: skip
        left, thick_left = _kindest(rates, least_c2, most_c2)
        spare = common.thickness * thick_left - common.bare
        if spare < 0.0:
            continue
        sq, edging = outlook.squared[j, p], 0.0
        if inner[0] < sq[0] - NM < inner[1] or inner[0] < sq[1] + NM < inner[1]:
            edging = common.edging
        most = int(NEVER)
        for i in range(outlook.windows.shape[2]):
            if outlook.windows[j, p, i, WIDEST] > 0.0:
                if orders.kinds[j, EDGED] == 0:
                    most = max(most, _most_of_live(orders, outlook, j, p, i, box, common, left, spare))
                else:
                    most = max(most, _most_of_edged(orders, outlook, j, p, i, box, common, left, spare, edging))
        if most != NEVER and common.salvage > 0.0:
            most = max(most, int(ceil(common.salvage * outlook.volume[j, p])))
        worth[p] = most


@compiled
def _most_of_edged(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, box: Box, common: Common, left: float, spare: float, edging: float
) -> int:
    """The most of an edged window of one length and any width in any cant of the box."""
    w, outer, inner = outlook.windows[j, p, i], box.outer, box.inner
    widest = min(w[WIDEST], outer[1] - outer[0], w[MOST_HIGH] - outer[0], outer[1] - w[LEAST_LOW])
    green = 0.0  # that the piece of any window of any cant surely has
    if inner[1] > inner[0] and outlook.hindered[j, p] == 0:
        green = max(min(inner[1], w[LEAST_HIGH]) - max(inner[0], w[MOST_LOW]), 0.0)
        green = min(green, orders.sizes[j, MOST_WIDTH])
    if orders.kinds[j, CUPS] != 0 and hollow(differs(orders.rates), green / 2.0, w[AWAY]) > spare:
        return int(NEVER)
    kinds = 2 if outlook.near[j, p] else 0
    if kinds == 2 and green > 0.0 and _holds_pith(w, inner[0], inner[1], outer[0], outer[1], green):
        kinds = 1
    top = finished_width(orders.widths[j], orders.sizes[j, MOST_WIDTH], (widest + 2 * NM) * left)
    return _most_between(orders, outlook, j, p, i, top, kinds, common.thickness, left, edging, 0.0)


@compiled
def _most_of_live(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, box: Box, common: Common, left: float, spare: float
) -> int:
    """The most of a live-edge window of one length in any cant of the box."""
    w, outer, inner = outlook.windows[j, p, i], box.outer, box.inner
    least = (orders.sizes[j, LEAST_WIDTH] - SLACK_M) / left
    narrow = min(w[NARROW], outer[1] - outer[0], w[NARROW_HIGH] - outer[0], outer[1] - w[NARROW_LOW])
    if narrow + 2 * NM < least:
        return int(NEVER)
    spread = min(w[LEAST_HIGH], inner[1]) - max(w[MOST_LOW], inner[0])  # no cant is narrower half way along
    if orders.kinds[j, CUPS] != 0 and spread > 0.0 and hollow(differs(orders.rates), spread / 2.0, w[AWAY]) > spare:
        return int(NEVER)
    surely = inner[0] + NM < w[PITH_U] < inner[1] - NM
    kinds = 1 if surely else 2 if outlook.near[j, p] else 0
    width = (min(w[WIDEST], outer[1] - outer[0], w[MOST_HIGH] - outer[0], outer[1] - w[LEAST_LOW]) + 2 * NM) * left
    ever = max(min(w[EVER_HIGH], inner[1]) - max(w[EVER_LOW], inner[0]), 0.0)
    dried = ever * common.thickness * orders.lengths[j, i]
    return _most_between(orders, outlook, j, p, i, width, kinds, common.thickness, left, 0.0, dried)


@compiled
def _most_between(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, top: float, kinds: int, thickness: float, left: float,
    edging: float, dried: float,
) -> int:  # fmt: skip
    """The most of any width from the least to top. kinds: 0 without pith, 1 with pith, 2 either; dried: at least [m3]."""
    least = orders.sizes[j, LEAST_WIDTH]
    if top < least - SLACK_M or top <= 0.0:
        return int(NEVER)
    factor = wide_factor(orders.wide[j], top)
    for at in range(orders.wide.shape[1]):
        if orders.wide[j, at, 0] <= top:
            factor = max(factor, orders.wide[j, at, 1])
    best = int(NEVER)
    for width in (top, min(max(least, 0.0), top)):
        if kinds != 1:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, NO, thickness, left, edging, dried))
        if kinds != 0:
            best = max(best, _cents_at(orders, outlook, j, p, i, width, factor, YES, thickness, left, edging, dried))
    return best + ROUNDINGS


@compiled
def _cents_at(
    orders: Orders, outlook: Outlook, j: int, p: int, i: int, width: float, factor: float, pith: bool, thickness: float,
    left: float, edging: float, dried: float,
) -> int:  # fmt: skip
    """Cents of one width and length at the kindest: the whole slice's salvage, no more dried than must be."""
    length = orders.lengths[j, i]
    if orders.kinds[j, EDGED] == 1:
        dried = width / left * thickness * (length + orders.sizes[j, TRIM])
    charged = edging if orders.kinds[j, EDGED] == 1 else 0.0
    return cents_of(orders.sizes[j], orders.rates, length, width, factor, pith, outlook.volume[j, p], dried, charged)
