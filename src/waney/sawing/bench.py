"""Bench: a log, a mill and wants set up for a search; what a lie can earn; and how a plan is finished off.

`over` is how the lies are spread: the built-in map, or the map of a pool of threads (the kernels let go of the interpreter's
lock). Results come back in order, so the answer never depends on it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.prices.worth import Term
from waney.sawing.build import SawnLie, bed_placing, effort_terms, load_cents, moves_of, planned_pieces
from waney.sawing.edging.together import edged_together
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.records import SET_OF, Ask
from waney.sawing.lay import Laid, Outline, ask_of, laid, outline_of
from waney.sawing.lie import Lie, lies
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Mill
from waney.sawing.moves import Turn
from waney.sawing.plan import EDGING_SAVED, Grid, Plan, Standing
from waney.sawing.setting_terms import setting_terms
from waney.sawing.wants import Pattern, Wants

Whole = NDArray[np.int64]
Over = Callable[..., Iterable[Any]]
"""A function like the built-in map."""


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
    as_it_lies: Lie | None = None
    """the one lie to look at; None: all of the grid"""

    @classmethod
    def of(cls, log: LogToSaw, mill: Mill, wants: Wants) -> Bench:
        """Set the bench up."""
        return cls(log, mill, wants, outline_of(log.shape), ask_of(log, mill, wants))

    def lies(self) -> tuple[Lie, ...]:
        """All lies of the grid, roll by roll, tip by tip."""
        if self.as_it_lies is not None:
            return (self.as_it_lies,)
        return lies(self.log.shape, self.wants.rolls_deg, self.wants.tips, self.mill.crossbars_m)

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


def best_of(found: Sequence[Found], bench: Bench, pattern: Pattern) -> Found:
    """The lie that earns most, the first of equals. Raises NothingToSaw when none earns anything."""
    best = max(found, key=lambda f: f.cents, default=None)
    if best is None or best.cents <= NEVER // 2:
        raise NothingToSaw(f"{bench.log.name}: no lie lets this mill saw it {pattern}.")
    return best


def after_loading(bench: Bench, cents: int) -> int:
    """Earnings less loading; NEVER stays NEVER."""
    return cents - load_cents(bench.ask.effort) if cents != NEVER else cents


@dataclass(frozen=True)
class Known:
    """What a search knows of its answer: a bound in cents, how it stands, and the slices judged."""

    bound_cents: int
    standing: Standing
    work: int


def known_of(found: Sequence[Found]) -> Known:
    """Every lie was solved to the end: the best of them is the bound."""
    return Known(max(f.cents for f in found), Standing.OPTIMAL, sum(f.judged for f in found))


def finished(
    bench: Bench,
    pattern: Pattern,
    lie: Lie,
    known: Known,
    sawn: Sequence[SawnLie],
    turns: Sequence[Turn],
    steps: Whole,
) -> Plan:
    """The plan of chosen slices in their lies, all efforts paid, flitches edged together. steps (J, P): the settings."""
    first = sawn[0]
    edged = edged_together(planned_pieces(bench.log, bench.wants, sawn), bench.wants, bench.log, bench.ask)
    saved = (Term(EDGING_SAVED, edged.saved_cents),) if edged.moves else ()
    terms = (*effort_terms(bench.ask.effort, sawn), *saved)
    cents = sum(p.worth.cents for p in edged.pieces) + sum(term.cents for term in terms)
    return Plan(
        log=bench.log.name,
        pattern=pattern,
        roll_deg=lie.roll_deg,
        tip=lie.tip,
        tip_m=lie.tip_m,
        lies=tuple(bed_placing(s) for s in sawn),
        moves=(*moves_of(sawn, edged.pieces, lie.roll_on, turns), *edged.moves),
        pieces=edged.pieces,
        settings=setting_terms(bench.ask, first.laid, first.tables, steps, bench.wants),
        terms=terms,
        cents=cents,
        together_cents=edged.gained_cents,
        bound_cents=max(known.bound_cents + edged.gained_cents, cents),
        standing=known.standing,
        grid=bench.grid(first.laid),
        work=known.work,
        seed=0,
    )
