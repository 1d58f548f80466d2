"""Cants: two opposite faces opened, the rest turned a quarter and sawn square to them; the best roll, tip and pair of faces.

After the half turn onto the upper face, a quarter turn clockwise stands the sawn faces upright, the upper face of the first lie
on the side where u = 0. Only cants that hold the line on which the whole log would then rest are looked at, so that they lie
as it would.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.sawing.bench import Bench, Known, NothingToSaw, Over, after_loading, finished
from waney.sawing.build import SawnLie, turn_cents
from waney.sawing.chosen import ChosenLie, slices_of
from waney.sawing.kernel.arcs import arcs_of, within
from waney.sawing.kernel.cant import Pair, Standing, best_pair, cant_cents, cut_between
from waney.sawing.kernel.outlook import Outlook, outlook_of
from waney.sawing.kernel.path import NEVER, chain
from waney.sawing.kernel.tables import tables_of
from waney.sawing.kernel.through import Side, best_start, fitted, limits_on_flat, over_side_of, side_of
from waney.sawing.lay import Laid, laid_at, laid_over
from waney.sawing.lie import Lie, half_turned, quarter_turned, rested
from waney.sawing.moves import Turn
from waney.sawing.plan import Plan
from waney.sawing.plan import Standing as HowKnown
from waney.sawing.wants import Pattern

Whole = NDArray[np.int64]

FIRST_LOOK, SECOND_LOOK = 16, 2400
"""Boxes of face pairs looked into for each lie: to find something good, then to prove it."""
APART, ROUNDS = 9, (8, 16, 1 << 20)
"""Lies are looked into in rounds, side by side, first some far apart; each round knows the best pair of the rounds before."""


@dataclass(frozen=True, eq=False)
class Opened:
    """One lie with its side boards worked out from above and, after a half turn, from below; and the log stood on its bark."""

    lie: Lie
    first: Laid
    above: Side
    over: Laid
    below: Side
    standing: Standing
    outlook: Outlook
    third: Placing
    faces: Whole
    earns_above: Whole
    earns_below: Whole
    least: int


@dataclass(frozen=True)
class Looked:
    """One lie looked into: its best pair of faces, and its bound."""

    index: int
    pair: Pair


@dataclass(frozen=True)
class Searched:
    """The best pair of all lies, what none can pass [cents], and the boxes looked into."""

    best: Looked
    bound: int
    work: int


def plan_cant(bench: Bench, over: Over = map) -> Plan:
    """The best cant plan of the grid, with its bound. Raises NothingToSaw."""
    opened = tuple(over(lambda lie: opened_in(bench, lie), bench.lies()))
    found = _searched(bench, opened, over)
    pair = found.best.pair
    if pair.cents <= NEVER // 2:
        raise NothingToSaw(f"{bench.log.name}: no lie lets this mill open two faces and saw the cant between them.")
    turned = after_loading(bench, found.bound) - turn_cents(bench.ask.effort, 2)
    standing = HowKnown.OPTIMAL if found.bound == pair.cents else HowKnown.GAP
    return _plan(bench, opened[found.best.index], pair, Known(turned, standing, found.work))


def _searched(bench: Bench, opened: Sequence[Opened], over: Over) -> Searched:
    """A first look at some lies for something good, then all of them in rounds, for a proof."""
    waiting = sorted(range(len(opened)), key=lambda i: i % APART)
    looked = list(over(partial(_looked, bench, opened, int(NEVER), FIRST_LOOK, True), waiting[: ROUNDS[0]]))
    best = max(looked, key=lambda each: each.pair.cents)
    bounds = []
    for size in ROUNDS:
        now, waiting = waiting[:size], waiting[size:]
        found = list(over(partial(_looked, bench, opened, best.pair.cents, SECOND_LOOK, False), now))
        best = max([best, *found], key=lambda each: each.pair.cents)
        bounds += [each.pair.bound for each in found]
        looked += found
    return Searched(best, max([best.pair.cents, *bounds]), sum(each.pair.work for each in looked))


def _looked(bench: Bench, opened: Sequence[Opened], to_beat: int, budget: int, deep: bool, index: int) -> Looked:
    o = opened[index]
    pair = best_pair(bench.ask, o.standing, o.outlook, o.faces, o.earns_above, o.earns_below, o.least, to_beat, budget, deep)
    return Looked(index, pair)


def opened_in(bench: Bench, lie: Lie) -> Opened:
    """Work out everything about one lie that does not depend on the pair of faces."""
    ask = bench.ask
    first = bench.lay(lie)
    above = side_of(ask, first.sections, first.rings, first.obstacles)
    base = above.tables.passes
    over = laid_over(bench.log, first, base * ask.step)
    below = over_side_of(ask, above, over.sections, over.rings, over.obstacles, False)
    turned = rested(bench.log.shape, quarter_turned(half_turned(first.to_saw, 0.0)), bench.mill.crossbars_m)
    third = laid_at(bench.log, bench.outline, turned.to_saw)
    t = tables_of(third.sections, third.rings, ask.step, ask.kerf, False)
    standing = Standing(t, third.obstacles, fitted(above.steps, t.passes), 1)
    lowest, highest = limits_on_flat(ask.effort, ask.step)
    faces = _faces(bench, base)
    earns_above = above.best[faces].copy()
    earns_above[(faces * ask.step <= turned.touches_u[1]) | (faces > highest)] = NEVER
    earns_below = _from(below.best, base - faces)
    earns_below[faces * ask.step >= turned.touches_u[0]] = NEVER
    outlook = outlook_of(ask.orders, third.obstacles, t, standing.steps.max(axis=1), faces)
    return Opened(
        lie, first, above, over, below, standing, outlook, turned.to_saw, faces, earns_above, earns_below, max(lowest, 1)
    )  # fmt: skip


def _from(best: Whole, passes: Whole) -> Whole:
    """The best chains from these passes upwards; NEVER over the tables, where a log that lay on blocks is no more."""
    return np.where(passes < len(best), best[np.minimum(passes, len(best) - 1)], NEVER)


def _faces(bench: Bench, passes: int) -> Whole:
    """Passes that may make a face of a cant: the face grid, in bed-scale steps."""
    every = max(1, round((bench.wants.face_step_m or bench.ask.step) / bench.ask.step))
    return np.arange(every, passes, every, dtype=np.int64)


def _plan(bench: Bench, o: Opened, pair: Pair, known: Known) -> Plan:
    """The plan of the best pair. The cant is judged again where it really stands: its upper face at u = 0."""
    base = o.above.tables.passes
    upper = slices_of(o.above.arcs, chain(pair.b, o.above.choice, o.above.arcs.span), bench.set_of)
    sets = len({s.set_number for s in upper if s.set_number is not None})
    lower = slices_of(o.below.arcs, chain(base - pair.a, o.below.choice, o.below.arcs.span), bench.set_of, sets)
    sets += len({s.set_number for s in lower if s.set_number is not None})
    _, best, choice, made, span = cant_cents(bench.ask, o.standing, pair.a, pair.b)
    cut = cut_between(o.standing, pair.a, pair.b)
    arcs = arcs_of(bench.ask.orders, o.standing.obstacles, o.standing.t, o.standing.steps, within(cut))
    start = int(best_start(best, made))
    inner = slices_of(arcs, chain(start, choice, span), bench.set_of, sets)
    third = laid_at(bench.log, bench.outline, o.third)
    sawn = (
        SawnLie(o.first, o.above.tables, ChosenLie(upper, pair.b)),
        SawnLie(o.over, o.below.tables, ChosenLie(lower, base - pair.a), base - pair.b),
        SawnLie(third, o.standing.t, ChosenLie(inner, start), 0, cut, -pair.b * bench.ask.step),
    )
    turns = (Turn(2, True), Turn(1, False))
    return finished(bench, Pattern.CANT, o.lie, known, sawn, turns, o.above.steps)
