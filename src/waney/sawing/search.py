"""Search: every roll and tip tried, the best lie kept, and a plan built from it.

`over` is how the lies are spread: the built-in map, or the map of a pool of threads (the kernels let go of the interpreter's
lock). Results come back in order, so the answer never depends on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.sawing.build import SawnLie, bed_placing, effort_terms, load_cents, moves_of, planned_pieces, turn_cents
from waney.sawing.chosen import ChosenLie, ChosenSlice, slices_of
from waney.sawing.kernel.path import NEVER, chain
from waney.sawing.kernel.records import SET_OF, Ask
from waney.sawing.kernel.tables import passes_over
from waney.sawing.kernel.through import Halves, best_over, best_start, halves_of, side_of, solve_through
from waney.sawing.lay import Laid, Outline, ask_of, laid, laid_over, outline_of
from waney.sawing.lie import Lie, lies
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Mill
from waney.sawing.moves import RollOn, Turn
from waney.sawing.plan import Grid, Plan, Standing
from waney.sawing.setting_terms import setting_terms
from waney.sawing.wants import Pattern, Wants

Whole = NDArray[np.int64]
A = TypeVar("A")
B = TypeVar("B")
Over = Callable[[Callable[[A], B], Iterable[A]], Iterable[B]]


class NothingToSaw(Problem):
    """No lie of this log lets the mill make a single pass that pays."""


@dataclass(frozen=True)
class Found:
    """What one lie can earn at most, all efforts paid [cents], and how many slices were judged for it."""

    lie: Lie
    cents: int
    judged: int


@dataclass(frozen=True, eq=False)
class Bench:
    """A log, a mill and wants, with everything that is the same in every lie."""

    log: LogToSaw
    mill: Mill
    wants: Wants
    outline: Outline
    ask: Ask

    @classmethod
    def of(cls, log: LogToSaw, mill: Mill, wants: Wants) -> Bench:
        """Set the bench up."""
        return cls(log, mill, wants, outline_of(log.shape), ask_of(log, mill, wants))

    def lies(self) -> tuple[Lie, ...]:
        """All lies of the grid, roll by roll, tip by tip."""
        shape, crossbars = self.log.shape, self.mill.crossbars_m
        return tuple(lie for roll in self.wants.rolls_deg for lie in lies(shape, roll, self.wants.tips, crossbars))

    def lay(self, lie: Lie) -> Laid:
        """The log in one lie."""
        return laid(self.log, self.outline, lie)

    @property
    def set_of(self) -> Whole:
        """Slices in a set, for every product (J,)."""
        found: Whole = self.ask.orders.kinds[:, SET_OF]
        return found

    def grid(self, laid_log: Laid) -> Grid:
        """Where the search looked."""
        step, wants = self.mill.step_m, self.wants
        return Grid(step, wants.face_step_m or step, wants.rolls_deg, wants.tips, len(laid_log.sections.w))


def plan_through(bench: Bench, over: Over[Lie, Found] = map) -> Plan:
    """The best plan sawn through-and-through from one side. Raises NothingToSaw."""
    found = tuple(over(lambda lie: _through_in(bench, lie), bench.lies()))
    best = _best(found, bench, Pattern.THROUGH)
    first = bench.lay(best.lie)
    side = side_of(bench.ask, first.sections, first.rings, first.obstacles, False)
    start = best_start(side.best)
    slices = slices_of(side.arcs, chain(start, side.choice, side.arcs.span), bench.set_of)
    return _plan(bench, Pattern.THROUGH, best, found, (SawnLie(first, side.tables, ChosenLie(slices, start)),), (), side.steps)


def plan_half_turn(bench: Bench, over: Over[Lie, Found] = map) -> Plan:
    """The best plan that saws to a chosen depth, turns the log over onto the flat, and saws the rest. Raises NothingToSaw."""
    found = tuple(over(lambda lie: _half_turn_in(bench, lie), bench.lies()))
    best = _best(found, bench, Pattern.HALF_TURN)
    first = bench.lay(best.lie)
    halves, over_laid = _halves(bench, first)
    depth = int(halves.total.argmax())
    upper = slices_of(halves.first.arcs, chain(depth, halves.first.choice, halves.first.arcs.span), bench.set_of)
    base = halves.depth_base - depth
    sets = len({s.set_number for s in upper if s.set_number is not None})
    sawn = (
        SawnLie(first, halves.first.tables, ChosenLie(upper, depth)),
        SawnLie(over_laid, halves.over.tables, ChosenLie(_slices_on_flat(bench, halves, depth, base, sets)), base),
    )
    return _plan(bench, Pattern.HALF_TURN, best, found, sawn, (Turn(2, True),), halves.first.steps)


PATTERNS: dict[Pattern, Callable[[Bench, Over[Lie, Found]], Plan]] = {
    Pattern.THROUGH: plan_through,
    Pattern.HALF_TURN: plan_half_turn,
}


def plans(bench: Bench, patterns: Sequence[Pattern], over: Over[Lie, Found] = map) -> tuple[Plan, ...]:
    """The best plan of each pattern, the one that leaves most money first. Raises NothingToSaw when there is none at all."""
    found: list[Plan] = []
    for pattern in patterns:
        try:
            found.append(PATTERNS[pattern](bench, over))
        except NothingToSaw:
            continue
    if not found:
        raise NothingToSaw(f"{bench.log.name}: this mill cannot make one pass through it that gives a wanted piece.")
    return tuple(sorted(found, key=lambda plan: -plan.cents))


def _through_in(bench: Bench, lie: Lie) -> Found:
    first = bench.lay(lie)
    cents, judged = solve_through(bench.ask, first.sections, first.rings, first.obstacles)
    return Found(lie, _after_loading(bench, cents), judged)


def _half_turn_in(bench: Bench, lie: Lie) -> Found:
    halves, _ = _halves(bench, bench.lay(lie))
    judged = halves.first.arcs.judged + halves.over.arcs.judged + halves.flat.judged
    most = int(halves.total.max())
    after = most - turn_cents(bench.ask.effort) if most != NEVER else most
    return Found(lie, _after_loading(bench, after), judged)


def _after_loading(bench: Bench, cents: int) -> int:
    return cents - load_cents(bench.ask.effort) if cents != NEVER else cents


def _halves(bench: Bench, first: Laid) -> tuple[Halves, Laid]:
    """Both lies of a half turn; the second is measured from the pass just over the top of the log."""
    step = bench.ask.step
    base = passes_over(float(first.sections.bark_v.max()), step)
    over_laid = laid_over(bench.log, first, base * step)
    return halves_of(bench.ask, first.sections, first.rings, first.obstacles, over_laid.rings, over_laid.obstacles), over_laid


def _slices_on_flat(bench: Bench, halves: Halves, depth: int, base: int, sets: int) -> tuple[ChosenSlice, ...]:
    """The slices of the second lie: the first on the flat, then the best chain that the blade can reach."""
    c = int(halves.flat_choice[depth])
    on_flat = slices_of(halves.flat, [(base, c)], bench.set_of, sets, on_flat=True)
    _, choice = best_over(bench.ask, halves.over, base)
    arcs = chain(base + int(halves.flat.span[base, c]), choice, halves.over.arcs.span)
    return (*on_flat, *slices_of(halves.over.arcs, arcs, bench.set_of, sets + 1))


def _plan(
    bench: Bench,
    pattern: Pattern,
    best: Found,
    found: Sequence[Found],
    sawn: Sequence[SawnLie],
    turns: Sequence[Turn],
    steps: Whole,
) -> Plan:
    lie, first = best.lie, sawn[0]
    pieces = planned_pieces(bench.log, bench.wants, sawn)
    terms = effort_terms(bench.ask.effort, sawn)
    cents = sum(p.worth.cents for p in pieces) + sum(term.cents for term in terms)
    return Plan(
        log=bench.log.name,
        pattern=pattern,
        roll_deg=lie.roll_deg,
        tip=lie.tip,
        tip_m=lie.tip_m,
        lies=tuple(bed_placing(s) for s in sawn),
        moves=moves_of(sawn, pieces, RollOn(lie.roll_deg, lie.tip, lie.tip_m), turns),
        pieces=pieces,
        settings=setting_terms(bench.ask, first.laid, first.tables, steps, bench.wants),
        terms=terms,
        cents=cents,
        bound_cents=max(f.cents for f in found),
        standing=Standing.OPTIMAL,
        grid=bench.grid(first.laid),
        work=sum(f.judged for f in found),
        seed=0,
    )


def _best(found: Sequence[Found], bench: Bench, pattern: Pattern) -> Found:
    best = max(found, key=lambda f: f.cents, default=None)
    if best is None or best.cents <= NEVER // 2:
        raise NothingToSaw(f"{bench.log.name}: no lie lets this mill saw it {pattern}.")
    return best
