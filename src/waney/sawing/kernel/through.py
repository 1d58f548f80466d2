"""Through-and-through: all cuts parallel, from one side; or to a chosen depth and, after a half turn, the rest on the flat.

What only calls other compiled functions, a few times a lie, is left uncompiled: machine code holds a copy of all that it
calls, and these four cost a fifth of the time of compiling.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.arcs import Arcs, arcs_of, flatly, passable, plainly
from waney.sawing.kernel.passes import can_be_first, costs_of
from waney.sawing.kernel.path import NEVER, best_above
from waney.sawing.kernel.records import Ask, Effort, Obstacles, Rings, Sections, Whole
from waney.sawing.kernel.settings import settings_of
from waney.sawing.kernel.slices import whole
from waney.sawing.kernel.tables import Tables, tables_of


class Side(NamedTuple):
    """One lie, worked out: its tables, settings (J, P), arcs, passes' cost (P,), and from each pass upwards the best, its first
    arc and its number of passes (P,)."""

    tables: Tables
    steps: Whole
    arcs: Arcs
    cost: Whole
    best: Whole
    choice: Whole
    made: Whole


def side_of(ask: Ask, sections: Sections, rings: Rings, obstacles: Obstacles) -> Side:
    """Judge every slice of one lie and find the best chain from every pass upwards."""
    t = tables_of(sections, rings, ask.step, ask.kerf, False)
    steps = settings_of(ask.orders, obstacles, t, ask.own, ask.variation)
    arcs = arcs_of(ask.orders, obstacles, t, steps, plainly())
    cost = costs_of(ask.effort, obstacles, t, 0, whole())
    arcs = passable(arcs, ask, cost)
    best, choice, made = best_above(arcs.worth, arcs.span, cost, can_be_first(ask.effort, t))
    return Side(t, steps, arcs, cost, best, choice, made)


@compiled
def best_start(best: Whole, made: Whole) -> int:
    """The lowest pass of the best chain; of fewest passes, then the lowest height, on ties."""
    start = 0
    for h in range(len(best)):
        if best[h] > best[start] or (best[h] == best[start] and made[h] < made[start]):
            start = h
    return start


def solve_through(ask: Ask, sections: Sections, rings: Rings, obstacles: Obstacles) -> tuple[int, int]:
    """The most that one lie can earn, sawn from one side, before loading [cents], and how many slices were judged."""
    side = side_of(ask, sections, rings, obstacles)
    return int(side.best.max()), side.arcs.judged


@compiled
def turned_over(sections: Sections, height: float) -> Sections:
    """The same log after a half turn, measured from a plane that stood at this height."""
    return Sections(sections.w, -sections.wood_u, height - sections.wood_v, -sections.bark_u, height - sections.bark_v)


class Halves(NamedTuple):
    """The two lies of a half turn: `over` is measured from pass `depth_base` of `first` downwards, pass h of `over` being
    pass depth_base - h of `first`. flat arcs start on the flat; total (P,): by depth, pass of `first` that makes the flat."""

    first: Side
    over: Side
    flat: Arcs
    depth_base: int
    total: Whole
    flat_choice: Whole


def halves_of(
    ask: Ask, sections: Sections, rings: Rings, obstacles: Obstacles, rings_over: Rings, obstacles_over: Obstacles
) -> Halves:
    """Every depth of a half turn. rings_over, obstacles_over: as `first`, turned over about the height of its last pass."""
    first = side_of(ask, sections, rings, obstacles)
    base = first.tables.passes
    over_sections = turned_over(sections, base * ask.step)
    over = over_side_of(ask, first, over_sections, rings_over, obstacles_over, True)
    flat = arcs_of(ask.orders, obstacles_over, over.tables, _on_flat(over.steps, ask), flatly())
    total, flat_choice = _by_depth(ask, first, over, flat, base)
    return Halves(first, over, flat, base, total, flat_choice)


def over_side_of(ask: Ask, first: Side, sections: Sections, rings: Rings, obstacles: Obstacles, with_flats: bool) -> Side:
    """The lie after a half turn, at the first lie's settings, passes at any height (its bed is a flat that is not chosen yet)."""
    t = tables_of(sections, rings, ask.step, ask.kerf, with_flats)
    steps = fitted(first.steps, t.passes)
    arcs = arcs_of(ask.orders, obstacles, t, steps, plainly())
    cost = costs_of(_any_height(ask.effort), obstacles, t, 0, whole())
    arcs = passable(arcs, ask, cost)
    best, choice, made = best_above(arcs.worth, arcs.span, cost, can_be_first(ask.effort, t))
    return Side(t, steps, arcs, cost, best, choice, made)


@compiled
def fitted(steps: Whole, passes: int) -> Whole:
    """The first lie's settings for every pass of the second (own settings are found again there, so the largest rules)."""
    fitted = np.zeros((len(steps), passes), np.int64)
    for j in range(len(steps)):
        fitted[j, :] = steps[j].max()
    return fitted


@compiled
def _on_flat(steps: Whole, ask: Ask) -> Whole:
    """Steps of the first slice on a flat: no kerf is lost below it."""
    flat = steps.copy()
    spared = int(np.floor(ask.kerf / ask.step + 1e-9))
    for j in range(len(flat)):
        for p in range(flat.shape[1]):
            flat[j, p] = max(flat[j, p] - spared, 0)
    return flat


@compiled
def _any_height(effort: Effort) -> Effort:
    return Effort(
        effort.widest, 0.0, np.inf, 0.0, effort.thickest, effort.cents_per_min, effort.pass_min, effort.turn_min,
        effort.load_min, effort.edge_min, effort.feed_width, effort.feed_speed, effort.wear_per_m2, effort.blade,
        effort.metal_margin,
    )  # fmt: skip


@compiled
def limits_on_flat(effort: Effort, step: float) -> tuple[int, int]:
    """Lowest and highest pass above a flat, in steps."""
    low = int(np.ceil(effort.lowest / step - 1e-9))
    while low * step <= effort.backstop:
        low += 1
    return max(low, 1), int(min(np.floor(effort.highest / step + 1e-9), 1 << 40))


@compiled
def best_over(ask: Ask, over: Side, b: int) -> tuple[Whole, Whole, Whole]:
    """The best chain from every pass of the second lie upwards, when its bed is the flat at pass b."""
    _, highest = limits_on_flat(ask.effort, ask.step)
    if b + highest >= over.tables.passes - 1:
        return over.best, over.choice, over.made
    cost = over.cost.copy()
    cost[b + highest + 1 :] = NEVER
    return best_above(over.arcs.worth, over.arcs.span, cost, can_be_first(ask.effort, over.tables))


@compiled
def _by_depth(ask: Ask, first: Side, over: Side, flat: Arcs, base: int) -> tuple[Whole, Whole]:
    lowest, _ = limits_on_flat(ask.effort, ask.step)
    total = np.full(base, NEVER, np.int64)
    flat_choice = np.full(base, -1, np.int64)
    for depth in range(base):
        b = base - depth
        if first.best[depth] == NEVER or b >= over.tables.passes:
            continue
        fewest = np.int64(0)
        best, _, made = best_over(ask, over, b)
        for c in range(flat.span.shape[1]):
            after = b + flat.span[b, c]
            if flat.span[b, c] >= lowest and after < over.tables.passes and best[after] != NEVER:
                worth = first.best[depth] + flat.worth[b, c] + best[after]
                if worth > total[depth] or (worth == total[depth] and made[after] < fewest):
                    total[depth], flat_choice[depth], fewest = worth, c, made[after]
    return total, flat_choice
