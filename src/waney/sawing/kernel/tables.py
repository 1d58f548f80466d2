"""Tables: every chord that slices of one lie can need, on the bed scale's grid, and the lattice of its rings.

Heights of pass p: p·step. A slice from pass p to p + k has its lower face at p·step + kerf, its mid-plane at
((2p + k)·step + kerf)/2 and its upper face at (p + k)·step; on a flat at p its lower face is at p·step and its mid-plane at
(2p + k)·step/2.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import FAR, chords_at
from waney.sawing.kernel.grain import Lattice, lattice_of, mean_c2
from waney.sawing.kernel.records import EDGED, GRAIN, SALVAGE, Array, Orders, Rings, Sections, Whole
from waney.sawing.kernel.slices import LINES, Cut, Slice, lay_out, whole


class Tables(NamedTuple):
    """One lie on the grid.

    edges (6P or 4P, 2, W) [nm]: low and high edges of every plane; its rows, for P passes: upper faces at p·step (row p), lower
    faces at p·step + kerf (P + p), mid-planes at (q·step + kerf)/2 (2P + q), and mid-planes of slices on a flat at q·step/2
    (4P + q) when asked for. c2 (2P,): mean c2 of the mid-planes. bark (P, 2, W) [nm]: chords with bark at every pass; top_m:
    highest bark.
    """

    step: float
    kerf: float
    spacing: float
    passes: int
    edges: Whole
    lattice: Lattice
    c2: Array
    bark: Whole
    top_m: float


@compiled
def passes_over(top: float, step: float) -> int:
    """How many passes the tables of a lie hold: 0 up to the first one over the top of the log."""
    return int(np.ceil(top / step)) + 1


@compiled
def tables_of(sections: Sections, rings: Rings, step: float, kerf: float, with_flats: bool) -> Tables:
    """All tables of one lie; passes 0..P-1 reach just over the top of the log. with_flats: slices on a flat will be asked for."""
    top = sections.bark_v.max()
    count = passes_over(top, step)
    edges = _planes(sections, step, kerf, count, with_flats)
    bark = np.empty((count, 2, len(sections.w)), np.int64)
    chords_at(sections.bark_u, sections.bark_v, 0.0, step, bark)
    lattice = lattice_of(rings, sections)
    c2 = np.empty(2 * count)
    for q in range(2 * count):
        c2[q] = mean_c2(lattice, edges, 2 * count + q, (q * step + kerf) / 2.0, -FAR, FAR)
    return Tables(step, kerf, sections.w[1] - sections.w[0], count, edges, lattice, c2, bark, top)


@compiled
def _planes(sections: Sections, step: float, kerf: float, count: int, with_flats: bool) -> Whole:
    """The rows of Tables.edges. Where the kerf is a whole number of steps all planes lie on half steps: each is cut once."""
    u, v = sections.wood_u, sections.wood_v
    edges = np.empty((6 * count if with_flats else 4 * count, 2, len(sections.w)), np.int64)
    lost = round(kerf / step)
    if abs(lost * step - kerf) > 1e-12:
        chords_at(u, v, 0.0, step, edges[:count])
        chords_at(u, v, kerf, step, edges[count : 2 * count])
        chords_at(u, v, kerf / 2.0, step / 2.0, edges[2 * count : 4 * count])
        chords_at(u, v, 0.0, step / 2.0, edges[4 * count :])
        return edges
    halves = np.empty((2 * (count + lost), 2, len(sections.w)), np.int64)
    chords_at(u, v, 0.0, step / 2.0, halves)
    edges[:count] = halves[: 2 * count : 2]
    edges[count : 2 * count] = halves[2 * lost : 2 * (count + lost) : 2]
    edges[2 * count : 4 * count] = halves[lost : lost + 2 * count]
    if with_flats:
        edges[4 * count :] = halves[: 2 * count]
    return edges


@compiled
def planes_between(passes: int, p: int, k: int) -> tuple[int, int, int]:
    """Rows of the lower face, mid-plane and upper face of the slice between pass p and pass p + k."""
    return passes + p, 2 * passes + 2 * p + k, p + k


@compiled
def planes_on_flat(passes: int, p: int, k: int) -> tuple[int, int, int]:
    """The same of the first slice on a flat at pass p."""
    return p, 4 * passes + 2 * p + k, p + k


class Room(NamedTuple):
    """Where slices are laid out, one at a time: lines (14, W), and whether their faces are wanted besides their edges.

    It begins as nan, so that what reads a line that nobody laid out is wrong in the same way every time.
    """

    lines: Array
    faces: bool


@compiled
def room_for(t: Tables) -> Room:
    """Room for slices of one lie, with their faces."""
    return Room(np.full((LINES, t.edges.shape[2]), np.nan), True)


@compiled
def room_for_orders(t: Tables, orders: Orders) -> Room:
    """Room for slices of one lie; without faces where no product and no salvage asks for them."""
    faces = orders.rates[SALVAGE] != 0.0
    for j in range(len(orders.kinds)):
        faces = faces or orders.kinds[j, EDGED] == 0 or orders.kinds[j, GRAIN] >= 0
    return Room(np.full((LINES, t.edges.shape[2]), np.nan), faces)


@compiled
def slice_between(t: Tables, p: int, k: int, room: Room) -> Slice:
    """The slice between pass p and pass p + k: k·step - kerf thick."""
    below, mid, above = planes_between(t.passes, p, k)
    lay_out(room.lines, room.faces, whole(), t.edges, below, mid, above)
    q = 2 * p + k
    return Slice(room.lines, (q * t.step + t.kerf) / 2.0, k * t.step - t.kerf, t.spacing, t.lattice, t.c2[q], False)


@compiled
def slice_of_cant(t: Tables, p: int, k: int, room: Room, cut: Cut) -> Slice:
    """As `slice_between`, of a log that sawn planes have cut off left and right."""
    below, mid, above = planes_between(t.passes, p, k)
    squared = lay_out(room.lines, room.faces, cut, t.edges, below, mid, above)
    mid_v = ((2 * p + k) * t.step + t.kerf) / 2.0
    c2 = mean_c2(t.lattice, t.edges, mid, mid_v, cut.low, cut.high)
    return Slice(room.lines, mid_v, k * t.step - t.kerf, t.spacing, t.lattice, c2, squared)


@compiled
def slice_on_flat(t: Tables, p: int, k: int, room: Room) -> Slice:
    """The first slice on a flat at height p·step: k·step thick, no kerf below it."""
    below, mid, above = planes_on_flat(t.passes, p, k)
    lay_out(room.lines, room.faces, whole(), t.edges, below, mid, above)
    mid_v = (2 * p + k) * t.step / 2.0
    c2 = mean_c2(t.lattice, t.edges, mid, mid_v, -FAR, FAR)
    return Slice(room.lines, mid_v, k * t.step, t.spacing, t.lattice, c2, False)
