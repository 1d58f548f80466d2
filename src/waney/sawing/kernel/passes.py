"""Passes: which heights the mill can saw a lie at, and what each pass costs, in whole cents."""

from __future__ import annotations

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import NM, widest_within
from waney.sawing.kernel.judge import whole_cents
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import METAL_BIT, Effort, Obstacles, Whole
from waney.sawing.kernel.slices import Cut
from waney.sawing.kernel.tables import Tables


@compiled
def pass_cents(effort: Effort, width: float, length: float) -> int:
    """Time and blade wear of one pass through wood of this width and length."""
    return whole_cents(pass_cost(effort, width, length))


@compiled
def pass_cost(effort: Effort, width: float, length: float) -> float:
    """The same, not rounded."""
    return _charged(effort, pass_minutes(effort, width, length), width, length)


@compiled
def pass_minutes(effort: Effort, width: float, length: float) -> float:
    """How long one pass through wood of this width and length takes."""
    if len(effort.feed_width) == 0:
        return effort.pass_min
    return effort.pass_min + length / np.interp(width, effort.feed_width, effort.feed_speed)


@compiled
def _charged(effort: Effort, minutes: float, width: float, length: float) -> float:
    return float(minutes * effort.cents_per_min + width * length * effort.wear_per_m2)


@compiled
def least_pass_cents(effort: Effort, width: float, length: float) -> int:
    """No pass through wood at least this wide costs less: at the fastest feed of any such width."""
    minutes = effort.pass_min
    if len(effort.feed_width) > 0:
        speed = np.interp(width, effort.feed_width, effort.feed_speed)
        for i in range(len(effort.feed_width)):
            if effort.feed_width[i] >= width:
                speed = max(speed, effort.feed_speed[i])
        minutes += length / speed
    return whole_cents(_charged(effort, minutes, width, length))


@compiled
def metal_cents(effort: Effort, obstacles: Obstacles, low: float, high: float, cut: Cut) -> int:
    """Chance of metal times the blade, for a band from low to high [m above the bed] between sawn planes left and right."""
    expected = 0.0
    for z in range(obstacles.piths, len(obstacles.kind)):
        if obstacles.kind[z] == METAL_BIT:
            reach = obstacles.radius[z] + effort.metal_margin
            for i in range(obstacles.first[z], obstacles.last[z] + 1):
                u, radius = obstacles.u[z, i], obstacles.radius[z]
                between = u + radius > cut.low * NM and u - radius < cut.high * NM
                if between and low - reach <= obstacles.v[z, i] <= high + reach:
                    expected += obstacles.chance[z] * effort.blade
                    break
    return whole_cents(expected)


@compiled
def costs_of(effort: Effort, obstacles: Obstacles, t: Tables, base: int, cut: Cut) -> Whole:
    """Cents of every pass (P,), NEVER where the mill cannot make it. Heights count from pass `base`."""
    cost = np.full(t.passes, NEVER, np.int64)
    length = t.spacing * (t.edges.shape[2] - 1)
    for p in range(base + 1, t.passes):
        height = (p - base) * t.step
        width = widest_within(t.bark, p, cut.low, cut.high) * NM
        if within_reach(effort, height) and 0.0 < width <= effort.widest + 1e-9:
            metal = metal_cents(effort, obstacles, p * t.step, p * t.step + t.kerf, cut)
            cost[p] = pass_cents(effort, width, length) + metal
    return cost


@compiled
def within_reach(effort: Effort, height: float) -> bool:
    """Whether the blade can stand at a height above the bed [m], over the lowest stand of the backstops."""
    return effort.lowest - 1e-9 <= height <= effort.highest + 1e-9 and height > effort.backstop


@compiled
def can_be_first(effort: Effort, t: Tables) -> Whole:
    """Whether all that lies above a pass clears the head in one piece, (P,) of 0 and 1."""
    free = np.zeros(t.passes, np.int64)
    for p in range(t.passes):
        free[p] = t.top_m - p * t.step - t.kerf <= effort.thickest + 1e-9
    return free
