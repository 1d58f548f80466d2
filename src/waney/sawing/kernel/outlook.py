"""Outlook: what the slices of any cant of one lie can be worth at most, however far apart its faces stand.

A box holds cants whose sawn planes stand within limits: none reaches past its outer cut, all hold its inner cut. Everything
here is worked out once for a lie; `bound` asks it for many boxes.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import FAR, NM
from waney.sawing.kernel.grain import GRAIN_STATIONS, LATTICE_M, c2_along, grain_station, row_at
from waney.sawing.kernel.hindrance import is_hindered, live_is_blocked, pith_near
from waney.sawing.kernel.judge import away_from_pith, gaps_of, live_width, widest_counted
from waney.sawing.kernel.listed import Prices, prices_of
from waney.sawing.kernel.records import (
    EDGED,
    GRAIN,
    SALVAGE,
    WIDTH_RULE,
    Array,
    Obstacles,
    Orders,
    Whole,
)
from waney.sawing.kernel.records import WIDEST as WIDEST_PLACE
from waney.sawing.kernel.slices import (
    AFTER_HIGH,
    AFTER_LOW,
    BEFORE_HIGH,
    BEFORE_LOW,
    HIGH,
    LOW,
    MID_HIGH,
    MID_LOW,
    SUM_A,
    SUM_B,
    WIDTH_A,
    WIDTH_B,
    Slice,
    run_along,
    whole_volume,
)
from waney.sawing.kernel.tables import Tables, planes_between, room_for, slice_between

# columns of Outlook.windows: metres
LEAST_LOW, MOST_HIGH, WIDEST, MOST_LOW, LEAST_HIGH, AWAY, PITH_U = 0, 1, 2, 3, 4, 5, 6
"""over the windows of one length: the lowest low and the highest high edge, the widest window, the highest low and the lowest
high edge, the farthest that the nearest pith is from the mid-plane, and where a pith runs through every window (nan: none)"""
NARROW = 7
"""live edges: the widest narrowest place of any window; the highest low and the lowest high edge are then those half way along,
where all windows share that station"""
COLUMNS = 8


class Outlook(NamedTuple):
    """What slices can give, by product and start, by plane and face.

    steps (J,); windows (J, P, I, 8) by the columns above; near (J, P): a pith between the faces somewhere; hindered (J,): more
    than edges limit the product; squared (J, P, 2): sawn planes further out than these [m] leave bark on an edge; volume (J, P)
    [m3]. c2, run (R, F): c2 and chords summed over the ring stations up to each face [m]. cap: cents a step of
    salvage.
    """

    steps: Whole
    windows: Array
    near: Whole
    hindered: Whole
    squared: Array
    volume: Array
    c2: Array
    run: Array
    bark: Array
    prices: Prices
    cap: int


@compiled
def outlook_of(orders: Orders, obstacles: Obstacles, t: Tables, steps: Whole, faces: Whole) -> Outlook:
    """Look at every slice that could come from a cant. steps (J,): the settings; faces (F,): passes of the first lie."""
    products, lengths = len(steps), orders.lengths.shape[1]
    windows = np.full((products, t.passes, lengths, COLUMNS), np.nan)
    near = np.zeros((products, t.passes), np.int64)
    hindered = np.zeros(products, np.int64)
    squared = np.zeros((products, t.passes, 2))
    volume = np.zeros((products, t.passes))
    c2, run = np.zeros((len(faces), 2 * t.passes)), np.zeros((len(faces), 2 * t.passes))
    filled = np.zeros(2 * t.passes, np.int64)
    room = room_for(t)
    for j in range(products):
        k = steps[j]
        hindered[j] = is_hindered(orders, obstacles, j)
        for p in range(t.passes - k if k > 0 else 0):
            s = slice_between(t, p, k, room)
            for i in range(lengths):
                if not np.isnan(orders.lengths[j, i]) and orders.kinds[j, EDGED] == 1:
                    _look_along(orders, obstacles, s, j, i, windows[j, p, i])
                elif not np.isnan(orders.lengths[j, i]):
                    _look_along_live(orders, obstacles, s, j, i, windows[j, p, i])
            near[j, p] = pith_near(obstacles, s)
            squared[j, p, 0], squared[j, p, 1] = _squared_within(t, p, k)
            volume[j, p] = whole_volume(s)
            q = 2 * p + k
            if not filled[q]:
                _sum_to_faces(t, 2 * t.passes + q, s.mid_v, faces, c2[:, q], run[:, q])
                filled[q] = 1
    cap = 0
    if orders.rates[SALVAGE] != 0.0:
        wide = (faces[-1] - faces[0]) * t.step
        cap = int(orders.rates[SALVAGE] * wide * t.step * t.spacing * t.edges.shape[2]) + 1
    return Outlook(steps, windows, near, hindered, squared, volume, c2, run, _widest_bark(t), prices_of(orders), cap)


@compiled
def _widest_bark(t: Tables) -> Array:
    """Where the widest chord with bark of each pass begins and ends, (P, 2) [m]; no wood: nothing."""
    found = np.zeros((t.passes, 2))
    for p in range(t.passes):
        for i in range(t.bark.shape[2]):
            low, high = t.bark[p, 0, i] * NM, t.bark[p, 1, i] * NM
            if high - low > found[p, 1] - found[p, 0]:
                found[p] = low, high
    return found


@compiled
def _look_along(orders: Orders, obstacles: Obstacles, s: Slice, j: int, i: int, found: Array) -> None:
    """Fill one row of windows: all windows of one length."""
    stations = s.lines.shape[1]
    n = gaps_of(orders, s, j, orders.lengths[j, i])
    if n >= stations:
        return
    run_along(s.lines, n)
    lines = s.lines
    found[WIDEST] = -np.inf
    for first in range(stations - n):
        low = max(lines[AFTER_LOW, first], lines[BEFORE_LOW, first + n])
        high = min(lines[AFTER_HIGH, first], lines[BEFORE_HIGH, first + n])
        if high <= low:
            continue
        away = away_from_pith(obstacles, s, first, first + n)
        if found[WIDEST] == -np.inf:
            found[LEAST_LOW], found[MOST_HIGH], found[MOST_LOW], found[LEAST_HIGH] = low, high, low, high
            found[AWAY] = away
        found[LEAST_LOW], found[MOST_HIGH] = min(found[LEAST_LOW], low), max(found[MOST_HIGH], high)
        found[MOST_LOW], found[LEAST_HIGH] = max(found[MOST_LOW], low), min(found[LEAST_HIGH], high)
        found[WIDEST], found[AWAY] = max(found[WIDEST], high - low), max(found[AWAY], away)
    _note_pith(obstacles, s, n, found)


@compiled
def _look_along_live(orders: Orders, obstacles: Obstacles, s: Slice, j: int, i: int, found: Array) -> None:
    """The same for live edges: widths by the product's rule."""
    stations, lines = s.lines.shape[1], s.lines
    n = gaps_of(orders, s, j, orders.lengths[j, i])
    found[WIDEST] = found[NARROW] = found[AWAY] = -np.inf
    middle = (stations - 1) // 2
    if stations - 1 - n <= middle <= n:
        found[MOST_LOW], found[LEAST_HIGH] = lines[LOW, middle], lines[HIGH, middle]
    for first in range(stations - n):
        narrow, widest, sound = np.inf, 0.0, True
        area_b = lines[SUM_B, first + n] - lines[SUM_B, first]
        area_a = lines[SUM_A, first + n] - lines[SUM_A, first]
        for at in range(first, first + n + 1):
            sound = sound and lines[LOW, at] < np.inf
            narrow = min(narrow, max(lines[WIDTH_B, at], lines[WIDTH_A, at]))
            widest = max(widest, min(lines[WIDTH_B, at], lines[WIDTH_A, at]))
        # what blocks a live edge blocks it wherever across it lies; its grain depends on the cut and is let pass
        if sound and (orders.kinds[j, GRAIN] >= 0 or not live_is_blocked(orders, obstacles, s, j, first, first + n)):
            width = live_width(orders.kinds[j, WIDTH_RULE], s, first, first + n, area_b, area_a, widest)
            if orders.kinds[j, WIDTH_RULE] == WIDEST_PLACE:
                width = widest_counted(orders, s, j)
            found[WIDEST], found[NARROW] = max(found[WIDEST], width), max(found[NARROW], narrow)
            found[AWAY] = max(found[AWAY], away_from_pith(obstacles, s, first, first + n))
    _note_pith(obstacles, s, n, found)


@compiled
def _note_pith(obstacles: Obstacles, s: Slice, n: int, found: Array) -> None:
    """Where across a pith runs between the faces, inside the wood, at a station that all windows of n gaps share."""
    lines = s.lines
    for k in range(obstacles.piths):
        for at in range(lines.shape[1] - 1 - n, n + 1):
            u = obstacles.u[k, at]
            inside = lines[MID_LOW, at] <= u <= lines[MID_HIGH, at]
            if np.isnan(found[PITH_U]) and inside and abs(obstacles.v[k, at] - s.mid_v) <= s.thickness / 2.0:
                found[PITH_U] = u


@compiled
def _squared_within(t: Tables, p: int, k: int) -> tuple[float, float]:
    """The highest low and the lowest high edge of the three planes, at stations where all of them have wood [m]."""
    below, mid, above = planes_between(t.passes, p, k)
    low, high = -FAR, FAR
    for i in range(t.edges.shape[2]):
        l = max(t.edges[below, 0, i], t.edges[mid, 0, i], t.edges[above, 0, i])  # noqa: E741
        h = min(t.edges[below, 1, i], t.edges[mid, 1, i], t.edges[above, 1, i])
        if l < FAR and h > -FAR:
            low, high = max(low, l), min(high, h)
    return low * NM, high * NM


@compiled
def _sum_to_faces(t: Tables, plane: int, v: float, faces: Whole, c2: Array, run: Array) -> None:
    """Fill c2 and run (F,) of one mid-plane."""
    row, part = row_at(t.lattice, v)
    squares, sums, u0 = t.lattice.c2, t.lattice.sums, t.lattice.u0
    for i in range(GRAIN_STATIONS):
        s = grain_station(i, t.edges.shape[2])
        low, high = t.edges[plane, 0, s] * NM, t.edges[plane, 1, s] * NM
        for f in range(len(faces) if high > low else 0):
            to = min(faces[f] * t.step, high)
            if to > low:
                c2[f] += LATTICE_M * c2_along(squares, sums, i, row, part, (low - u0) / LATTICE_M, (to - u0) / LATTICE_M)
                run[f] += to - low
