"""Hindrance: what zones, a pith to be boxed out and a wanted grain leave of a slice's width."""

from __future__ import annotations

from math import sqrt

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.grain import GRAIN_STATIONS, LATTICE_M, grain_station, row_at
from waney.sawing.kernel.records import (
    BLOCKED_BY,
    FLAT,
    FLAT_ABOVE,
    GRAIN,
    GRAIN_SHARE,
    QUARTER,
    QUARTER_UP_TO,
    RIFT,
    Array,
    Obstacles,
    Orders,
)
from waney.sawing.kernel.slices import MID_HIGH, MID_LOW, Slice


@compiled
def is_hindered(orders: Orders, obstacles: Obstacles, j: int) -> bool:
    """Whether anything but the edges can limit product j in this log."""
    if orders.kinds[j, GRAIN] >= 0:
        return True
    for z in range(len(obstacles.kind)):
        if obstacles.kind[z] & orders.kinds[j, BLOCKED_BY]:
            return True
    return False


@compiled
def is_hindered_here(orders: Orders, obstacles: Obstacles, s: Slice, j: int) -> bool:
    """The same for one slice: nothing blocks it that stays outside its faces all along."""
    if orders.kinds[j, GRAIN] >= 0:
        return True
    for z in range(len(obstacles.kind)):
        if obstacles.kind[z] & orders.kinds[j, BLOCKED_BY]:
            for i in range(obstacles.first[z], obstacles.last[z] + 1):
                if _reach(obstacles, s, z, i) > 0.0:
                    return True
    return False


@compiled
def _reach(obstacles: Obstacles, s: Slice, z: int, i: int) -> float:
    """Half of the width that obstacle z takes from the slice at station i [m]; 0 when it stays outside."""
    gap = max(0.0, abs(obstacles.v[z, i] - s.mid_v) - s.thickness / 2.0)
    return sqrt(obstacles.radius[z] ** 2 - gap * gap) if gap < obstacles.radius[z] else 0.0


@compiled
def _taken(obstacles: Obstacles, s: Slice, z: int, first: int, last: int) -> tuple[float, float]:
    """From where to where across obstacle z takes wood from a window; from > to when it does not."""
    a, b = np.inf, -np.inf
    for i in range(max(first, obstacles.first[z]), min(last, obstacles.last[z]) + 1):
        reach = _reach(obstacles, s, z, i)
        if reach > 0.0:
            a, b = min(a, obstacles.u[z, i] - reach), max(b, obstacles.u[z, i] + reach)
    return a, b


@compiled
def live_is_blocked(orders: Orders, obstacles: Obstacles, s: Slice, j: int, first: int, last: int) -> bool:
    """Whether a live-edge window holds what product j must not hold, or has too little of the wanted grain."""
    for z in range(len(obstacles.kind)):
        if obstacles.kind[z] & orders.kinds[j, BLOCKED_BY]:
            a, b = _taken(obstacles, s, z, first, last)
            if b > a:
                return True
    return orders.kinds[j, GRAIN] >= 0 and not has_grain(orders, s, j, first, last, -np.inf, np.inf)


@compiled
def free_width(
    orders: Orders, obstacles: Obstacles, s: Slice, j: int, first: int, last: int, low: float, high: float
) -> tuple[float, float]:
    """The widest gap that obstacles leave between two edges; with a wanted grain also the parts beside the pith."""
    most = len(obstacles.kind) + obstacles.piths
    taken = np.empty((most, 2))
    count = 0
    for z in range(len(obstacles.kind)):
        if obstacles.kind[z] & orders.kinds[j, BLOCKED_BY]:
            a, b = _taken(obstacles, s, z, first, last)
            if b > a:
                taken[count] = a, b
                count += 1
    best = _widest_gap(orders, s, j, first, last, low, high, taken[:count])
    if orders.kinds[j, GRAIN] < 0:
        return best
    for k in range(obstacles.piths):
        taken[count] = obstacles.u[k, first : last + 1].min(), obstacles.u[k, first : last + 1].max()
        count += 1
    beside = _widest_gap(orders, s, j, first, last, low, high, taken[:count])
    wider = beside[1] - beside[0] - (best[1] - best[0])
    return beside if wider > 0.0 or (wider == 0.0 and beside[0] < best[0]) else best


@compiled
def _widest_gap(
    orders: Orders, s: Slice, j: int, first: int, last: int, low: float, high: float, taken: Array
) -> tuple[float, float]:
    """The widest gap that counts (has the wanted grain), the lowest on ties; an empty one when none does."""
    order = np.argsort(taken[:, 0])
    best_low, best_high, at = 0.0, 0.0, low
    for i in range(len(taken) + 1):
        end = high if i == len(taken) else min(taken[order[i], 0], high)
        if end - at > best_high - best_low and (orders.kinds[j, GRAIN] < 0 or has_grain(orders, s, j, first, last, at, end)):
            best_low, best_high = at, end
        if i < len(taken):
            at = max(at, taken[order[i], 1])
    return best_low, best_high


@compiled
def has_grain(orders: Orders, s: Slice, j: int, first: int, last: int, low: float, high: float) -> bool:
    """Whether enough of the lattice columns between two stations and two edges have the wanted grain."""
    lattice = s.lattice
    row, part = row_at(lattice, s.mid_v)
    seen, good = 0, 0
    for i in range(GRAIN_STATIONS):
        at = grain_station(i, s.lines.shape[1])
        if first <= at <= last:
            a, b = max(low, s.lines[MID_LOW, at]), min(high, s.lines[MID_HIGH, at])
            for c in range(lattice.c2.shape[2]):
                if a <= lattice.u0 + c * LATTICE_M <= b:
                    lower, upper = lattice.c2[i, row, c], lattice.c2[i, row + 1, c]
                    seen += 1
                    good += _kind(orders, lower + part * (upper - lower)) == orders.kinds[j, GRAIN]
    return seen > 0 and good >= orders.sizes[j, GRAIN_SHARE] * seen - 1e-9


@compiled
def _kind(orders: Orders, c2: float) -> int:
    if c2 > orders.rates[FLAT_ABOVE]:
        return FLAT
    return QUARTER if c2 <= orders.rates[QUARTER_UP_TO] else RIFT


@compiled
def pith_near(obstacles: Obstacles, s: Slice) -> bool:
    """Whether a pith lies between the faces anywhere along the slice."""
    v, mid, half = obstacles.v, s.mid_v, s.thickness / 2.0
    for k in range(obstacles.piths):
        for i in range(v.shape[1]):
            if abs(v[k, i] - mid) <= half:
                return True
    return False


@compiled
def pith_inside(obstacles: Obstacles, s: Slice, first: int, last: int, low: float, high: float) -> bool:
    """Whether a pith lies between the faces and between the edges (nan: the mid-plane's) at any station of the window."""
    u, v, lines = obstacles.u, obstacles.v, s.lines
    mid, half, own = s.mid_v, s.thickness / 2.0, np.isnan(low)
    for k in range(obstacles.piths):
        for i in range(first, last + 1):
            if abs(v[k, i] - mid) <= half:
                a = lines[MID_LOW, i] if own else low
                b = lines[MID_HIGH, i] if own else high
                if a <= u[k, i] <= b:
                    return True
    return False
