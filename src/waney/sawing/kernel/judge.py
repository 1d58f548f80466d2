"""Judge: what one slice can be. The compiled twin of `prices.worth`, on chord tables instead of pieces.

The rules are those of docs/design/sawing.md, "What a slice can be"; the tests hold both to the same cent.
"""

from __future__ import annotations

from math import atan, ceil
from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.hindrance import free_width, is_hindered, live_is_blocked, pith_inside, pith_near
from waney.sawing.kernel.records import (
    CUPS,
    DAYS,
    DRYING,
    DRYNESS,
    EDGED,
    EDGING,
    FINISHING,
    LEAST_WIDTH,
    LOSS,
    LOSS_PITH,
    MEAN,
    MIDDLE,
    MOST_WIDTH,
    NARROW,
    PER_M,
    PER_M2,
    PER_PIECE,
    PITH_FACTOR,
    RADIAL,
    SALVAGE,
    TAKEN,
    TANGENTIAL,
    THICKNESS,
    TRIM,
    WIDEST,
    WIDTH_RULE,
    Array,
    Obstacles,
    Orders,
)
from waney.sawing.kernel.slices import (
    AFTER_HIGH,
    AFTER_LOW,
    BEFORE_HIGH,
    BEFORE_LOW,
    HIGH,
    LOW,
    SUM_A,
    SUM_B,
    WIDTH_A,
    WIDTH_B,
    Slice,
    run_along,
    volume,
    whole_volume,
)

SLACK_M = 1e-9
"""Lengths are compared with this much forgiveness (docs/design/sawing.md)."""


class Fit(NamedTuple):
    """The best of one product in a slice: whole cents (meaningless when it does not fit), length [m], first station,
    finished width, cup [m]."""

    fits: bool
    cents: int
    length: float
    first: int
    width: float
    cup: float


@compiled
def whole_cents(amount: float) -> int:
    """Rounded to whole cents, half (to within 1e-6) away from zero, as `prices.measure.whole_cents` does."""
    size = int(abs(amount) + 0.5 + 1e-6)
    return size if amount >= 0.0 else -size


@compiled
def shrinks_through(rates: Array, c2: float) -> float:
    """Share of the green thickness that is lost down to the target moisture."""
    return float((rates[RADIAL] * c2 + rates[TANGENTIAL] * (1.0 - c2)) * rates[DRYNESS])


@compiled
def shrinks_across(rates: Array, c2: float) -> float:
    """Share of the green width that is lost down to the target moisture."""
    return float((rates[RADIAL] * (1.0 - c2) + rates[TANGENTIAL] * c2) * rates[DRYNESS])


@compiled
def salvage_cents(orders: Orders, s: Slice) -> int:
    """What the whole slice earns as wood on no list."""
    return whole_cents(orders.rates[SALVAGE] * _salvaged(orders.rates, s))


@compiled
def _salvaged(rates: Array, s: Slice) -> float:
    """Volume of the whole slice where wood on no list earns anything, else 0: then its faces need not be laid out [m3]."""
    return whole_volume(s) if rates[SALVAGE] != 0.0 else 0.0


@compiled
def fit_product(orders: Orders, obstacles: Obstacles, s: Slice, j: int, any_thickness: bool) -> Fit:
    """The best length, start and width of product j in a slice; longer first, nearer the butt first on ties.

    any_thickness: the finished thickness is not asked for (used to find the setting).
    """
    best = Fit(False, 0, 0.0, 0, 0.0, 0.0)
    spare = (
        s.thickness * (1.0 - shrinks_through(orders.rates, s.c2)) - orders.sizes[j, TAKEN] - orders.sizes[j, THICKNESS] + SLACK_M
    )
    if any_thickness:
        spare = np.inf
    if spare < 0.0:
        return best
    left = 1.0 - shrinks_across(orders.rates, s.c2)
    hindered, near_pith = is_hindered(orders, obstacles, j), pith_near(obstacles, s)
    stations = s.lines.shape[1]
    for i in range(orders.lengths.shape[1]):
        length = orders.lengths[j, i]
        if np.isnan(length):
            break
        n = gaps_of(orders, s, j, length)
        if n >= stations or (best.fits and _most_cents(orders, s, j, length, left) <= best.cents):
            continue
        if orders.kinds[j, EDGED] == 1:
            best = _best_edged(orders, obstacles, s, j, length, n, left, hindered, near_pith, spare, best)
        else:
            best = _best_live(orders, obstacles, s, j, length, n, left, hindered, spare, best)
    return best


@compiled
def gaps_of(orders: Orders, s: Slice, j: int, length: float) -> int:
    """How many gaps between stations a window for product j of this length takes, its trim with it."""
    return max(1, int(ceil((length + orders.sizes[j, TRIM]) / s.spacing - 1e-9)))


@compiled
def _best_live(
    orders: Orders, obstacles: Obstacles, s: Slice, j: int, length: float, n: int, left: float, hindered: bool, spare: float,
    best: Fit,
) -> Fit:  # fmt: skip
    for first in range(s.lines.shape[1] - n):
        fit = _fit_live(orders, obstacles, s, j, length, first, first + n, left, hindered)
        if fit.fits and fit.cup <= spare and (not best.fits or fit.cents > best.cents):
            best = fit
    return best


@compiled
def _best_edged(
    orders: Orders, obstacles: Obstacles, s: Slice, j: int, length: float, n: int, left: float, hindered: bool, near_pith: bool,
    spare: float, best: Fit,
) -> Fit:  # fmt: skip
    """The best window of one length. Windows of the same width, pith in or out alike, earn the same: each kind is priced once."""
    run_along(s.lines, n)
    lines, sizes, rates, widths, wide = s.lines, orders.sizes[j], orders.rates, orders.widths[j], orders.wide[j]
    least, most = (sizes[LEAST_WIDTH] - SLACK_M) / left, sizes[MOST_WIDTH]
    edging = 0.0 if s.squared else rates[EDGING]
    slice_volume = _salvaged(rates, s)
    priced, priced_pith, cents = -1.0, False, 0  # of the last window that was priced
    for first in range(lines.shape[1] - n):
        low = max(lines[AFTER_LOW, first], lines[BEFORE_LOW, first + n])
        high = min(lines[AFTER_HIGH, first], lines[BEFORE_HIGH, first + n])
        if high - low < least:
            continue
        if hindered:
            low, high = free_width(orders, obstacles, s, j, first, first + n, low, high)
        dry = finished_width(widths, most, (high - low) * left)
        if dry < sizes[LEAST_WIDTH] - SLACK_M or dry <= 0.0:
            continue
        green = dry / left
        low += max(high - low - green, 0.0) / 2.0
        pith = near_pith and pith_inside(obstacles, s, first, first + n, low, low + green)
        if dry != priced or pith != priced_pith:
            dried = green * s.thickness * (length + sizes[TRIM])
            cents = cents_of(sizes, rates, length, dry, wide_factor(wide, dry), pith, slice_volume, dried, edging)
            priced, priced_pith = dry, pith
        if not best.fits or cents > best.cents:
            cup = _cup(orders.kinds[j, CUPS], rates, obstacles.v, obstacles.piths, s, first, first + n, green / 2.0)
            if cup <= spare:
                best = Fit(True, cents, length, first, dry, cup)
    return best


@compiled
def _most_cents(orders: Orders, s: Slice, j: int, length: float, left: float) -> int:
    """No window of this length can be worth more: the widest place all along, no cost, the kinder loss."""
    widest = widest_counted(orders, s, j)
    sizes = orders.sizes[j]
    width = finished_width(orders.widths[j], sizes[MOST_WIDTH], widest * left) if orders.kinds[j, EDGED] == 1 else widest * left
    price = sizes[PER_PIECE] + (sizes[PER_M] + sizes[PER_M2] * width) * length
    for i in range(orders.wide.shape[1]):
        if orders.wide[j, i, 1] > 1.0:
            price *= orders.wide[j, i, 1]
    price *= max(1.0, sizes[PITH_FACTOR]) * (1.0 - min(sizes[LOSS], sizes[LOSS_PITH]))
    lost = orders.rates[SALVAGE] * _salvaged(orders.rates, s) * max(sizes[LOSS], sizes[LOSS_PITH])
    return int(price + lost) + 2


@compiled
def widest_counted(orders: Orders, s: Slice, j: int) -> float:
    """No window of the slice counts a wider green width than this for product j [m]."""
    lines = s.lines
    square, most_b, most_a = 0.0, 0.0, 0.0
    for i in range(lines.shape[1]):
        square = max(square, lines[HIGH, i] - lines[LOW, i])
        most_b, most_a = max(most_b, lines[WIDTH_B, i]), max(most_a, lines[WIDTH_A, i])
    if orders.kinds[j, EDGED] == 1:
        return square
    rule = orders.kinds[j, WIDTH_RULE]
    if rule == NARROW:
        return min(most_b, most_a)
    return max(most_b, most_a) if rule == WIDEST else 0.5 * (most_b + most_a)


@compiled
def finished_width(widths: Array, most_width: float, width: float) -> float:
    """The width sold: the largest listed one (falling) that fits, as it is when none is listed; not over the most."""
    most = min(width, most_width)
    if np.isnan(widths[0]):
        return most
    for i in range(len(widths)):
        if widths[i] <= most + SLACK_M:
            return float(widths[i])
    return 0.0


@compiled
def _fit_live(
    orders: Orders, obstacles: Obstacles, s: Slice, j: int, length: float, first: int, last: int, left: float, hindered: bool
) -> Fit:
    none = Fit(False, 0, 0.0, 0, 0.0, 0.0)
    lines = s.lines
    area_b = lines[SUM_B, last] - lines[SUM_B, first]
    area_a = lines[SUM_A, last] - lines[SUM_A, first]
    narrower, wider = (WIDTH_B, WIDTH_A) if area_b <= area_a else (WIDTH_A, WIDTH_B)
    least = (orders.sizes[j, LEAST_WIDTH] - SLACK_M) / left
    widest = 0.0
    for i in range(first, last + 1):
        if lines[LOW, i] == np.inf or lines[narrower, i] < least:
            return none
        widest = max(widest, lines[wider, i])
    if hindered and live_is_blocked(orders, obstacles, s, j, first, last):
        return none
    green = live_width(orders.kinds[j, WIDTH_RULE], s, first, last, area_b, area_a, widest)
    width = min(green * left, orders.sizes[j, MOST_WIDTH])
    pith = pith_inside(obstacles, s, first, last, np.nan, np.nan)
    slice_volume = _salvaged(orders.rates, s)
    factor, dried = wide_factor(orders.wide[j], width), volume(s, first, last)
    cents = cents_of(orders.sizes[j], orders.rates, length, width, factor, pith, slice_volume, dried, 0.0)
    cup = _cup(orders.kinds[j, CUPS], orders.rates, obstacles.v, obstacles.piths, s, first, last, widest / 2.0)
    return Fit(True, cents, length, first, width, cup)


@compiled
def live_width(rule: int, s: Slice, first: int, last: int, area_b: float, area_a: float, widest: float) -> float:
    """Green width by the product's rule [m]; areas in station spacings."""
    if rule == NARROW:
        return min(area_b, area_a) / (last - first)
    if rule == MEAN:
        return 0.5 * (area_b + area_a) / (last - first)
    if rule == MIDDLE:
        a, b = (first + last) // 2, (first + last + 1) // 2
        total = s.lines[WIDTH_B, a] + s.lines[WIDTH_A, a] + s.lines[WIDTH_B, b] + s.lines[WIDTH_A, b]
        return float(total) / 4.0
    return widest


@compiled
def cents_of(
    sizes: Array, rates: Array, length: float, width: float, factor: float, pith: bool, volume: float, dried: float, edging: float
) -> int:
    """The rounded terms, summed; sizes (15,): of the product. volume: of the whole slice, dried: of what is dried [m3];
    edging [cents]."""
    price = (sizes[PER_PIECE] + (sizes[PER_M] + sizes[PER_M2] * width) * length) * factor
    if pith:
        price *= sizes[PITH_FACTOR]
    loss = sizes[LOSS_PITH] if pith else sizes[LOSS]
    cents = whole_cents(price * (1.0 - loss)) + whole_cents(rates[SALVAGE] * volume * loss)
    cents -= whole_cents(sizes[FINISHING] * length * width)
    cents -= whole_cents(sizes[DAYS] * rates[DRYING] * dried)
    return cents - whole_cents(edging)


@compiled
def wide_factor(wide: Array, width: float) -> float:
    """The factor of the last width reached; wide (·, 2): from width [m], factor."""
    factor = 1.0
    for i in range(len(wide)):
        if width >= wide[i, 0] - SLACK_M:
            factor = wide[i, 1]
    return factor


@compiled
def _cup(cups: int, rates: Array, pith_v: Array, piths: int, s: Slice, first: int, last: int, half_width: float) -> float:
    """Hollow of a flat piece of this half width after drying [m]; 0 where it is not flattened or the pith is not known."""
    if cups == 0:
        return 0.0
    return hollow(differs(rates), half_width, away_from_pith(pith_v, piths, s.mid_v, s.thickness, first, last))


@compiled
def away_from_pith(pith_v: Array, piths: int, mid_v: float, thickness: float, first: int, last: int) -> float:
    """From the mid-plane to the nearest pith in the middle of a window, at least half the thickness; inf without a pith [m].

    pith_v (Z, W): height of every rod at each station, those of the piths first.
    """
    a, b = (first + last) // 2, (first + last + 1) // 2
    away = np.inf
    for k in range(piths):
        away = min(away, abs(0.5 * (pith_v[k, a] + pith_v[k, b]) - mid_v))
    return max(away, thickness / 2.0)


@compiled
def differs(rates: Array) -> float:
    """How much more wood shrinks along the rings than across them, down to the target moisture [share]."""
    return float((rates[TANGENTIAL] - rates[RADIAL]) * rates[DRYNESS])


@compiled
def hollow(difference: float, half_width: float, away: float) -> float:
    """Cup of a piece of this half width whose mid-plane is so far away from the pith [m]; 0 where no pith is known."""
    if away == np.inf:
        return 0.0
    return float(difference * half_width * atan(half_width / away))
