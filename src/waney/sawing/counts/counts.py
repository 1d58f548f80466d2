"""Counts: through-and-through plans in which a product must come at least, or may come at most, so many times.

A chain of slices may no longer take each slice as the best it can be, so every start and product is an arc of its own. For
every lie, whole-cent prices on the counts (Lagrange multipliers) give a bound: the best chain at the adjusted worths, plus
what the counts themselves would pay. Lies are then solved exactly (`count_model`) in the order of falling bounds until
no bound is above the best plan found.

Counted are pieces: a set of two counts two. As in plans without counts, a product is made only where it is worth more than the
same wood on no list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.sawing.bench import Bench, Known, NothingToSaw, Over, after_loading, finished
from waney.sawing.build import SawnLie
from waney.sawing.chosen import ChosenLie, slices_of
from waney.sawing.counts.count_arcs import Chain, CountedLie, counted_lie, most_of
from waney.sawing.counts.count_bounds import Priced, priced
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.through import side_of
from waney.sawing.lie import Lie
from waney.sawing.plan import Plan, Standing
from waney.sawing.wants import Pattern, Wants

Whole = NDArray[np.int64]

MOST_SOLVED = 40
"""Lies solved exactly once a plan is in hand; the rest are answered for by their bounds."""


class CannotBeHad(Problem):
    """The log does not hold as many of a product as are asked for."""


@dataclass(frozen=True, eq=False)
class Tried:
    """One lie of a search with counts: its bound, the most pieces of each product it can give (J,), and the slices judged."""

    lie: Lie
    priced: Priced
    most: Whole
    judged: int


def has_counts(wants: Wants) -> bool:
    """Whether any product is asked for at least, or at most, so many times."""
    return any(p.at_least > 0 or p.at_most is not None for p in wants.products)


def plan_counted(bench: Bench, over: Over = map) -> Plan:
    """The best plan sawn through-and-through from one side that keeps the counts, with its bound.

    Raises NothingToSaw, CannotBeHad.
    """
    tried = tuple(over(lambda lie: _try(bench, lie), bench.lies()))
    if not any(t.priced.bound > NEVER // 2 for t in tried):
        raise NothingToSaw(f"{bench.log.name}: no lie lets this mill saw it {Pattern.THROUGH}.")
    _see_that_each_can_be_had(bench.wants, tried)
    best, bound = _search(bench, tried)
    if best is None:
        raise CannotBeHad(_not_together(bench.wants, tried) if bound == NEVER else _not_found(bench))
    lie, chain = best
    return _built(bench, lie, chain, bound, sum(t.judged for t in tried))


def _lay(bench: Bench, lie: Lie) -> CountedLie:
    first = bench.lay(lie)
    return counted_lie(bench.ask, first, side_of(bench.ask, first.sections, first.rings, first.obstacles))


def _try(bench: Bench, lie: Lie) -> Tried:
    counted = _lay(bench, lie)
    return Tried(lie, priced(counted, bench.wants), most_of(counted), counted.judged)


def _search(bench: Bench, tried: Sequence[Tried]) -> tuple[tuple[Lie, Chain] | None, int]:
    """The best lie and chain that keeps the counts, and what no chain of any lie can pass [cents, loading not taken off]."""
    from waney.sawing.counts.count_model import solved  # HiGHS takes a third of a second to load; most plans have no counts

    order = sorted(tried, key=lambda t: -t.priced.bound)
    held = _met_on_the_way(order)
    cents, left_open = held[1].cents if held else int(NEVER), int(NEVER)
    for number, t in enumerate(order):
        if t.priced.bound <= cents:
            break
        if held is not None and number >= MOST_SOLVED:
            left_open = max(left_open, t.priced.bound)
            break
        found = solved(_lay(bench, t.lie), bench.wants, t.priced, cents)
        left_open = max(left_open, found.bound)
        if found.chain is not None and found.cents > cents:
            held, cents = (t.lie, found.chain), found.cents
    return held, max(cents, left_open)


def _met_on_the_way(tried: Sequence[Tried]) -> tuple[Lie, Chain] | None:
    """The best chain that keeps the counts among those met while the bounds were sought; the first of equals."""
    met = [(t.lie, t.priced.chain) for t in tried if t.priced.chain is not None]
    return max(met, key=lambda m: m[1].cents, default=None)


def _built(bench: Bench, lie: Lie, chain: Chain, bound: int, judged: int) -> Plan:
    counted = _lay(bench, lie)
    slices = slices_of(counted.arcs, list(chain.arcs), bench.set_of)
    sawn = (SawnLie(bench.lay(lie), counted.tables, ChosenLie(slices, chain.start)),)
    known = Known(after_loading(bench, bound), Standing.OPTIMAL if bound == chain.cents else Standing.GAP, judged)
    return finished(bench, Pattern.THROUGH, lie, known, sawn, (), counted.steps)


def _see_that_each_can_be_had(wants: Wants, tried: Sequence[Tried]) -> None:
    most = np.max([t.most for t in tried], axis=0)
    for product, count in zip(wants.products, most, strict=True):
        if count < product.at_least:
            had = "none can be had" if count <= 0 else f"the most that can be had is {count}"
            raise CannotBeHad(
                f"{product.name}: at least {product.at_least} are asked for, but {had} from this log, "
                f"sawn {Pattern.THROUGH} on this grid; ask for fewer, a smaller size, or try more rolls."
            )


def _not_found(bench: Bench) -> str:
    return (
        f"{bench.log.name}: no plan that keeps the counts was found within the work allowed, though there may be one; "
        "ask for fewer, or try other rolls."
    )


def _not_together(wants: Wants, tried: Sequence[Tried]) -> str:
    most = np.max([t.most for t in tried], axis=0)
    each = [f"{p.name} {p.at_least} (alone up to {n})" for p, n in zip(wants.products, most, strict=True) if p.at_least > 0]
    return (
        f"At least {', '.join(each)} cannot be had together, or not with the counts that must not be passed, in one way of "
        "laying this log; ask for fewer of one of them."
    )
