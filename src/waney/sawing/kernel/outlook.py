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
from waney.sawing.kernel.hindrance import is_hindered_here, live_is_blocked, pith_near
from waney.sawing.kernel.judge import away_from_pith, gaps_of, live_width, widest_counted
from waney.sawing.kernel.listed import Prices, prices_of
from waney.sawing.kernel.records import (
    EDGED,
    GRAIN,
    MIDDLE,
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
NARROW, NARROW_LOW, NARROW_HIGH, EVER_LOW, EVER_HIGH = 7, 8, 9, 10, 11
"""live edges: the widest narrowest place of any window, the lowest that a window's farthest low edge is and the highest that its
nearest high edge is (of the narrower face), and the highest low and the lowest high edge of any plane anywhere. LEAST_LOW and
MOST_HIGH are then edges in the mean, as the width rule takes it; MOST_LOW and LEAST_HIGH those half way along, where all windows
share that station"""
COLUMNS = 12
OUTER_LOW, OUTER_HIGH, FACES_LOW, FACES_HIGH, NESTED = 0, 1, 2, 3, 4
"""Rows of the edges of both faces of a slice, station by station: the outermost, and in the mean of both [m]; and which face lies
within the other: 1 the lower, 2 the upper, 0 neither."""


class Outlook(NamedTuple):
    """What slices can give, by product and start, by plane and face.

    steps (J,); windows (J, P, I, 12) by the columns above; near (J, P): a pith between the faces somewhere; hindered (J, P): more
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
    hindered = np.zeros((products, t.passes), np.int64)
    squared = np.zeros((products, t.passes, 2))
    volume = np.zeros((products, t.passes))
    c2, run = np.zeros((len(faces), 2 * t.passes)), np.zeros((len(faces), 2 * t.passes))
    filled = np.zeros(2 * t.passes, np.int64)
    room, edges = room_for(t), np.empty((5, t.edges.shape[2]))
    for j in range(products):
        k = steps[j]
        for p in range(t.passes - k if k > 0 else 0):
            s = slice_between(t, p, k, room)
            _edges_of_faces(t, p, k, edges)
            for i in range(lengths):
                if not np.isnan(orders.lengths[j, i]) and orders.kinds[j, EDGED] == 1:
                    _look_along(orders, obstacles, s, j, i, windows[j, p, i])
                elif not np.isnan(orders.lengths[j, i]):
                    _look_along_live(orders, obstacles, s, edges, j, i, windows[j, p, i])
            near[j, p] = pith_near(obstacles, s)
            hindered[j, p] = is_hindered_here(orders, obstacles, s, j)
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
        away = away_from_pith(obstacles.v, obstacles.piths, s.mid_v, s.thickness, first, first + n)
        if found[WIDEST] == -np.inf:
            found[LEAST_LOW], found[MOST_HIGH], found[MOST_LOW], found[LEAST_HIGH] = low, high, low, high
            found[AWAY] = away
        found[LEAST_LOW], found[MOST_HIGH] = min(found[LEAST_LOW], low), max(found[MOST_HIGH], high)
        found[MOST_LOW], found[LEAST_HIGH] = max(found[MOST_LOW], low), min(found[LEAST_HIGH], high)
        found[WIDEST], found[AWAY] = max(found[WIDEST], high - low), max(found[AWAY], away)
    _note_pith(obstacles, s, n, found)


@compiled
def _look_along_live(orders: Orders, obstacles: Obstacles, s: Slice, edges: Array, j: int, i: int, found: Array) -> None:
    """The same for live edges: widths by the product's rule."""
    stations, lines = s.lines.shape[1], s.lines
    n = gaps_of(orders, s, j, orders.lengths[j, i])
    found[WIDEST] = found[NARROW] = found[AWAY] = found[NARROW_HIGH] = found[MOST_HIGH] = found[EVER_LOW] = -np.inf
    found[NARROW_LOW] = found[LEAST_LOW] = found[EVER_HIGH] = np.inf
    middle = (stations - 1) // 2
    if stations - 1 - n <= middle <= n:
        found[MOST_LOW], found[LEAST_HIGH] = lines[LOW, middle], lines[HIGH, middle]
    for first in range(stations - n):
        widest, sound = 0.0, True
        area_b = lines[SUM_B, first + n] - lines[SUM_B, first]
        area_a = lines[SUM_A, first + n] - lines[SUM_A, first]
        for at in range(first, first + n + 1):
            sound = sound and lines[LOW, at] < np.inf
            widest = max(widest, min(lines[WIDTH_B, at], lines[WIDTH_A, at]))
        # what blocks a live edge blocks it wherever across it lies; its grain depends on the cut and is let pass
        if sound and (orders.kinds[j, GRAIN] >= 0 or not live_is_blocked(orders, obstacles, s, j, first, first + n)):
            width = live_width(orders.kinds[j, WIDTH_RULE], s, first, first + n, area_b, area_a, widest)
            if orders.kinds[j, WIDTH_RULE] == WIDEST_PLACE:
                width = widest_counted(orders, s, j)
            low, high = _mean_edges(orders.kinds[j, WIDTH_RULE], edges, first, first + n)
            found[LEAST_LOW], found[MOST_HIGH] = min(found[LEAST_LOW], low), max(found[MOST_HIGH], high)
            narrow, farthest, nearest = _narrower_face(s, edges, first, first + n)
            found[NARROW_LOW], found[NARROW_HIGH] = min(found[NARROW_LOW], farthest), max(found[NARROW_HIGH], nearest)
            found[WIDEST], found[NARROW] = max(found[WIDEST], width), max(found[NARROW], narrow)
            found[AWAY] = max(found[AWAY], away_from_pith(obstacles.v, obstacles.piths, s.mid_v, s.thickness, first, first + n))
            for at in range(first, first + n + 1):
                found[EVER_LOW] = max(found[EVER_LOW], lines[LOW, at], lines[MID_LOW, at])
                found[EVER_HIGH] = min(found[EVER_HIGH], lines[HIGH, at], lines[MID_HIGH, at])
    _note_pith(obstacles, s, n, found)


@compiled
def _narrower_face(s: Slice, edges: Array, first: int, last: int) -> tuple[float, float, float]:
    """The narrowest place of the narrower face, its farthest low and its nearest high edge. A face that lies within the other all
    along is the narrower one however a cut stands; else either may be."""
    nested = edges[NESTED, first]
    for at in range(first, last + 1):
        if edges[NESTED, at] != nested:
            nested = 0.0
    narrow, low, high = np.inf, -np.inf, np.inf
    for at in range(first, last + 1):
        if nested > 0.0:
            b, a = s.lines[LOW, at], s.lines[HIGH, at]
            narrow, low, high = min(narrow, a - b), max(low, b), min(high, a)
        else:
            narrow = min(narrow, max(s.lines[WIDTH_B, at], s.lines[WIDTH_A, at]))
            low, high = max(low, edges[OUTER_LOW, at]), min(high, edges[OUTER_HIGH, at])
    return narrow, low, high


@compiled
def _edges_of_faces(t: Tables, p: int, k: int, edges: Array) -> None:
    """Fill edges (5, W) by the rows above."""
    below, _, above = planes_between(t.passes, p, k)
    for i in range(t.edges.shape[2]):
        b0, b1 = t.edges[below, 0, i] * NM, t.edges[below, 1, i] * NM
        a0, a1 = t.edges[above, 0, i] * NM, t.edges[above, 1, i] * NM
        edges[OUTER_LOW, i], edges[OUTER_HIGH, i] = min(b0, a0), max(b1, a1)
        edges[FACES_LOW, i], edges[FACES_HIGH, i] = 0.5 * (b0 + a0), 0.5 * (b1 + a1)
        edges[NESTED, i] = 1.0 if b0 >= a0 and b1 <= a1 else 2.0 if a0 >= b0 and a1 <= b1 else 0.0


@compiled
def _mean_edges(rule: int, edges: Array, first: int, last: int) -> tuple[float, float]:
    """Edges of both faces where the width rule looks, in the mean: however a cut stands, no width is over what it leaves
    between them."""
    if rule == WIDEST_PLACE:
        return edges[OUTER_LOW, first : last + 1].min(), edges[OUTER_HIGH, first : last + 1].max()
    low, high = edges[FACES_LOW], edges[FACES_HIGH]
    if rule == MIDDLE:
        a, b = (first + last) // 2, (first + last + 1) // 2
        return 0.5 * (low[a] + low[b]), 0.5 * (high[a] + high[b])
    mean_low = 0.5 * (low[first] + low[last]) + low[first + 1 : last].sum()
    mean_high = 0.5 * (high[first] + high[last]) + high[first + 1 : last].sum()
    return mean_low / (last - first), mean_high / (last - first)


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
