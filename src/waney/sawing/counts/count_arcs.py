"""Count arcs: the arcs of one lie with a choice for every product, so that counts can tell them apart."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.sawing.kernel.arcs import NONE, Arcs, passable, plainly, set_worth
from waney.sawing.kernel.judge import fit_product, salvage_cents
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.kernel.path import NEVER, best_above, chain
from waney.sawing.kernel.records import SET_OF, Ask, Obstacles
from waney.sawing.kernel.tables import Room, Tables, room_for, slice_between
from waney.sawing.kernel.through import Side, best_start
from waney.sawing.lay import Laid

Whole = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class CountedLie:
    """One lie with arcs (P, J + wastes): choice j is product j, then wood on no list by span; counts (C,): pieces of an arc."""

    tables: Tables
    steps: Whole
    arcs: Arcs
    cost: Whole
    top_free: Whole
    counts: Whole

    @property
    def judged(self) -> int:
        """Slices looked at."""
        return self.arcs.judged


@dataclass(frozen=True)
class Chain:
    """A chain of arcs (pass, choice) from a start upwards, its cents (passes paid), and its pieces of each product."""

    start: int
    arcs: tuple[tuple[int, int], ...]
    cents: int
    pieces: tuple[int, ...]


def counted_lie(ask: Ask, laid: Laid, side: Side) -> CountedLie:
    """Judge every start and product of a lie that has been worked out for plans without counts."""
    worth, span = _product_arcs(ask, laid.obstacles, side)
    products = len(side.steps)
    wastes = side.arcs.worth.shape[1] - _first_waste(side)
    product = np.full((len(worth), products + wastes), NONE, np.int64)
    product[:, :products] = np.where(span > 0, np.arange(products), NONE)
    made = passable(Arcs(worth, product[:, :products].copy(), span, 0), ask, side.cost)
    waste = slice(_first_waste(side), None)
    arcs = Arcs(
        np.ascontiguousarray(np.hstack([made.worth, side.arcs.worth[:, waste]])),
        product,
        np.ascontiguousarray(np.hstack([made.span, side.arcs.span[:, waste]])),
        side.arcs.judged + int(np.count_nonzero(side.steps)),
    )
    counts = np.concatenate([ask.orders.kinds[:, SET_OF], np.zeros(wastes, np.int64)])
    return CountedLie(side.tables, side.steps, arcs, side.cost, can_be_first(ask.effort, side.tables), counts)


def _first_waste(side: Side) -> int:
    """Where the choices of wood on no list begin: after the distinct settings and the products in sets."""
    return len(np.unique(side.steps[side.steps > 0])) + len(side.steps)


def _product_arcs(ask: Ask, obstacles: Obstacles, side: Side) -> tuple[Whole, Whole]:
    """Worth and span of every start and product, (P, J) each; span 0 where the slices would not be it."""
    t, steps = side.tables, side.steps
    worth, span = np.zeros((t.passes, len(steps)), np.int64), np.zeros((t.passes, len(steps)), np.int64)
    room = room_for(t)
    for j in range(len(steps)):
        n = int(ask.orders.kinds[j, SET_OF])
        for p in range(t.passes):
            k = int(steps[j, p])
            if k > 0 and p + n * k < t.passes and side.cost[p] != NEVER and side.cost[p + n * k] != NEVER:
                fits, cents = _worth(ask, obstacles, t, p, k, j, room)
                worth[p, j], span[p, j] = cents, n * k if fits else 0
    return worth, span


def _worth(ask: Ask, obstacles: Obstacles, t: Tables, p: int, k: int, j: int, room: Room) -> tuple[bool, int]:
    if ask.orders.kinds[j, SET_OF] > 1:
        fits, cents = set_worth(ask.orders, obstacles, t, p, k, j, plainly(), room)
        return bool(fits), int(cents)
    s = slice_between(t, p, k, room)
    fit = fit_product(ask.orders, obstacles, s, j, False)
    return bool(fit.fits and fit.cents > salvage_cents(ask.orders, s)), int(fit.cents)


def best_chain(lie: CountedLie, worth: Whole) -> Chain | None:
    """The chain that is best at these worths (P, C), with its cents at the lie's own; None when there is none."""
    best, choice, made = best_above(worth, lie.arcs.span, lie.cost, lie.top_free)
    start = int(best_start(best, made))
    return None if best[start] == NEVER else chain_of(lie, start, chain(start, choice, lie.arcs.span))


def chain_of(lie: CountedLie, start: int, arcs: list[tuple[int, int]]) -> Chain:
    """A chain with what it earns, its passes paid, and how many pieces of each product it gives."""
    cents, pieces = -int(lie.cost[start]), [0] * len(lie.steps)
    for p, c in arcs:
        cents += int(lie.arcs.worth[p, c]) - int(lie.cost[p + int(lie.arcs.span[p, c])])
        if c < len(pieces):
            pieces[c] += int(lie.counts[c])
    return Chain(start, tuple(arcs), cents, tuple(pieces))


def most_of(lie: CountedLie) -> Whole:
    """How many pieces of each product one chain can give, (J,), whatever it costs; 0 where nothing can be sawn."""
    free = np.where(lie.cost == NEVER, NEVER, 0)
    most = np.zeros(len(lie.steps), np.int64)
    for j in range(len(most)):
        worth = np.zeros_like(lie.arcs.worth)
        worth[:, j] = lie.counts[j]
        best, _, _ = best_above(worth, lie.arcs.span, free, lie.top_free)
        most[j] = max(int(best.max()), 0)
    return most
