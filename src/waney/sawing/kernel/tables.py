"""Tables: every chord and ring sample that slices of one lie can need, on the bed scale's grid.

Heights of pass p: p·step. A slice from pass p to p + k has its lower face at p·step + kerf, its mid-plane at
((2p + k)·step + kerf)/2 and its upper face at (p + k)·step; on a flat at p its lower face is at p·step and its mid-plane at
(2p + k)·step/2. So three families of heights hold them all.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.chords import chords_at
from waney.sawing.kernel.grain import GRAIN_ACROSS, GRAIN_STATIONS, grain_at
from waney.sawing.kernel.records import Array, Rings, Sections, Whole
from waney.sawing.kernel.slices import LINES, Cut, Slice, lay_out, whole

NO_GRAIN, MIDS_GRAIN, ALL_GRAIN = 0, 1, 2
"""Which planes get ring samples: none, the mid-planes between passes, those and the mid-planes of slices on a flat."""


class Tables(NamedTuple):
    """One lie on the grid. Halves: heights q·step/2; mids: (q·step + kerf)/2; lowers: p·step + kerf; each (count, W) nm.

    samples (q, 9, 8), c2 (q,): rings at the mids; flat_samples, flat_c2: at the halves (empty unless asked for).
    bark_low, bark_high (P, W) [nm]: chords with bark at every pass; top_m: highest bark.
    """

    step: float
    kerf: float
    spacing: float
    passes: int
    w: Array
    rings: Rings
    halves_low: Whole
    halves_high: Whole
    mids_low: Whole
    mids_high: Whole
    lowers_low: Whole
    lowers_high: Whole
    samples: Array
    c2: Array
    flat_samples: Array
    flat_c2: Array
    bark_low: Whole
    bark_high: Whole
    top_m: float


@compiled
def passes_over(top: float, step: float) -> int:
    """How many passes the tables of a lie hold: 0 up to the first one over the top of the log."""
    return int(np.ceil(top / step)) + 1


@compiled
def tables_of(sections: Sections, rings: Rings, step: float, kerf: float, grain: int) -> Tables:
    """All tables of one lie; passes 0..P-1 reach just over the top of the log."""
    top = sections.bark_v.max()
    passes = passes_over(top, step)
    halves_low, halves_high = chords_at(sections.wood_u, sections.wood_v, 0.0, step / 2.0, 2 * passes)
    mids_low, mids_high = chords_at(sections.wood_u, sections.wood_v, kerf / 2.0, step / 2.0, 2 * passes)
    lowers_low, lowers_high = chords_at(sections.wood_u, sections.wood_v, kerf, step, passes)
    bark_low, bark_high = chords_at(sections.bark_u, sections.bark_v, 0.0, step, passes)
    samples, c2 = np.empty((0, GRAIN_STATIONS, GRAIN_ACROSS)), np.empty(0)
    flat_samples, flat_c2 = samples, c2
    if grain >= MIDS_GRAIN:
        samples, c2 = _grain(rings, sections.w, mids_low, mids_high, kerf / 2.0, step / 2.0)
    if grain >= ALL_GRAIN:
        flat_samples, flat_c2 = _grain(rings, sections.w, halves_low, halves_high, 0.0, step / 2.0)
    return Tables(
        step,
        kerf,
        sections.w[1] - sections.w[0],
        passes,
        sections.w,
        rings,
        halves_low,
        halves_high,
        mids_low,
        mids_high,
        lowers_low,
        lowers_high,
        samples,
        c2,
        flat_samples,
        flat_c2,
        bark_low,
        bark_high,
        top,
    )


@compiled
def _grain(rings: Rings, w: Array, low: Whole, high: Whole, first_m: float, spacing_m: float) -> tuple[Array, Array]:
    samples = np.empty((len(low), GRAIN_STATIONS, GRAIN_ACROSS))
    c2 = np.empty(len(low))
    for q in range(len(low)):
        c2[q] = grain_at(rings, w, low[q], high[q], first_m + q * spacing_m, samples[q])
    return samples, c2


class Room(NamedTuple):
    """Where slices are laid out, one at a time: lines (10, W) and samples (9, 8)."""

    lines: Array
    samples: Array


@compiled
def room_for(t: Tables) -> Room:
    """Room for slices of one lie."""
    return Room(np.empty((LINES, len(t.w))), np.empty((GRAIN_STATIONS, GRAIN_ACROSS)))


@compiled
def slice_between(t: Tables, p: int, k: int, room: Room) -> Slice:
    """The slice between pass p and pass p + k: k·step - kerf thick."""
    q, a = 2 * p + k, 2 * (p + k)
    squared = lay_out(
        room.lines, whole(), t.lowers_low[p], t.lowers_high[p], t.mids_low[q], t.mids_high[q], t.halves_low[a], t.halves_high[a]
    )  # fmt: skip
    mid_v, thickness = (q * t.step + t.kerf) / 2.0, k * t.step - t.kerf
    return Slice(room.lines, mid_v, thickness, t.spacing, t.samples[q], t.c2[q], squared)


@compiled
def slice_on_flat(t: Tables, p: int, k: int, room: Room) -> Slice:
    """The first slice on a flat at height p·step: k·step thick, no kerf below it."""
    b, q, a = 2 * p, 2 * p + k, 2 * (p + k)
    squared = lay_out(
        room.lines, whole(),
        t.halves_low[b], t.halves_high[b], t.halves_low[q], t.halves_high[q], t.halves_low[a], t.halves_high[a]
    )  # fmt: skip
    return Slice(room.lines, q * t.step / 2.0, k * t.step, t.spacing, t.flat_samples[q], t.flat_c2[q], squared)


@compiled
def slice_of_cant(t: Tables, p: int, k: int, room: Room, cut: Cut, with_grain: bool) -> Slice:
    """As `slice_between`, of a log that sawn planes have cut off left and right; its rings are sampled within them."""
    q, a = 2 * p + k, 2 * (p + k)
    squared = lay_out(
        room.lines, cut, t.lowers_low[p], t.lowers_high[p], t.mids_low[q], t.mids_high[q], t.halves_low[a], t.halves_high[a]
    )  # fmt: skip
    mid_v, thickness = (q * t.step + t.kerf) / 2.0, k * t.step - t.kerf
    c2 = 0.5
    if with_grain:
        low, high = np.maximum(t.mids_low[q], cut.low), np.minimum(t.mids_high[q], cut.high)
        c2 = grain_at(t.rings, t.w, low, high, mid_v, room.samples)
    return Slice(room.lines, mid_v, thickness, t.spacing, room.samples, c2, squared)
