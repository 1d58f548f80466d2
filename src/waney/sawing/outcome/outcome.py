"""Outcome of a plan: what its cuts give, bad, likely and good, when the log is not quite the likely one.

The plan is made for the likely case. Here the same roll, tip, turns and bed heights saw the log of every world (`worlds`), and
every slice is the best that it can still be: a wanted product, uncut or edged, else wood as it comes off; a set whole or not at
all. Costs are counted anew, metal at its chance. Not drawn: how thickness varies from board to board (the settings already leave
wood for it), prices, wages and what the mill can do. A loss is a chance, and every piece counts at its chance.

A product that the plan passed over for a slice, though it would pay more in the likely case (its setting is another, or its
count was full), stays passed over in every world: so the likely case gives the plan's own cents.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.pieces.measures import board_feet
from waney.prices.product import Product
from waney.sawing.bench import Bench
from waney.sawing.kernel.arcs import NONE
from waney.sawing.kernel.path import NEVER
from waney.sawing.moves import EdgeTogether
from waney.sawing.orders import wanted
from waney.sawing.outcome.plan_outcome import Outcome, PlanOutcome, Stays
from waney.sawing.outcome.sawn_again import Again, Script, sawn_again
from waney.sawing.outcome.worlds import World, likely_world
from waney.sawing.plan import EDGING_SAVED, Plan

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Sawn:
    """A plan in one world: cents with all efforts paid, usable dry wood [m3], board feet, and the product of every slice (S,)."""

    cents: int
    usable_m3: float
    board_feet: float
    product: Whole


def outcome_of(plan: Plan, bench: Bench, worlds: Sequence[World]) -> PlanOutcome:
    """Saw a plan in every world. Raises CannotSawAgain, NothingLeft."""
    sawyer = Sawyer.of(plan, bench)
    again = [sawyer.saw(world) for world in worlds]
    sawn = [sawyer.settled(one) for one in again]
    stays = np.mean([one.product == sawyer.planned for one in sawn], axis=0)
    cents = Outcome.of(np.array([one.cents for one in sawn], float))
    return PlanOutcome(
        cents=Outcome(round(cents.bad), round(cents.likely), round(cents.good)),
        usable_m3=Outcome.of(np.array([one.usable_m3 for one in sawn])),
        board_feet=Outcome.of(np.array([one.board_feet for one in sawn])),
        as_planned=tuple(
            Stays(p.piece.name, float(share)) for p, share in zip(plan.pieces, stays, strict=True) if p.worth.product is not None
        ),
        too_wide=float(np.mean([one.widest > bench.mill.widest_cut_m + 1e-9 for one in again])),
        worlds=len(worlds),
    )


@dataclass(frozen=True, eq=False)
class Sawyer:
    """A plan ready to be sawn in any world: planned products (S,), NONE for salvage; sets, by the slices they are made of;
    offered (S, J): what each slice may be; other_cents: what stays as planned: what edging together saves and
    what widths it gives up."""

    bench: Bench
    script: Script
    planned: Whole
    sets: tuple[Whole, ...]
    offered: Whole
    products: tuple[Product, ...]
    other_cents: int

    @classmethod
    def of(cls, plan: Plan, bench: Bench) -> Sawyer:
        """Take a plan apart and see in the likely case what it passed over."""
        products, script = wanted(bench.wants), Script.of(plan)
        number = {product.name: j for j, product in enumerate(products)}
        planned = np.array([number.get(p.worth.product or "", NONE) for p in plan.pieces], np.int64)
        sets = tuple(np.array([i for i, p in enumerate(plan.pieces) if p.set_number == n]) for n in _set_numbers(plan))
        other = sum(term.cents for term in plan.terms if term.what == EDGING_SAVED)
        offered = _may_be(products, planned)
        likely = sawn_again(likely_world(bench), bench.mill, script, offered)
        worth = np.array([p.worth.cents for p in plan.pieces], np.int64)
        offered[(likely.cents > worth[:, None]) & ~_own(products, planned)] = 0
        other += sum(int(worth[i] - likely.cents[i, planned[i]]) for i in _grouped(plan))
        return cls(bench, script, planned, sets, offered, products, other)

    def saw(self, world: World) -> Again:
        """Every slice as everything that it may be, in one world."""
        return sawn_again(world, self.bench.mill, self.script, self.offered)

    def settled(self, again: Again) -> Sawn:
        """What every slice is in the end."""
        every = np.arange(len(self.planned))
        product, cents = self._singles(again)
        for of_it in self.sets:
            as_set = again.cents[of_it, self.planned[of_it]]
            if bool(np.all(as_set != NEVER)) and as_set.sum() >= cents[of_it].sum():
                product[of_it], cents[of_it] = self.planned[of_it], as_set
        is_product = product != NONE
        m2 = (again.width * again.length)[every, product] * is_product
        thick = np.array([p.thickness_m for p in self.products])
        nominal = np.array([board_feet(1.0, 1.0, p.nominal_m, thin_counts_as_inch=True) for p in self.products])
        total = int(cents.sum()) - again.effort + self.other_cents
        return Sawn(total, float((m2 * thick[product]).sum()), float((m2 * nominal[product]).sum()), product)

    def _singles(self, again: Again) -> tuple[Whole, Whole]:
        """Product and cents of every slice taken by itself (S,): the planned product on ties, then the earlier one."""
        cents = np.where(_in_sets(self.products), NEVER, again.cents)
        every = np.arange(len(self.planned))
        best = cents.argmax(axis=1)
        own = (self.planned != NONE) & (cents[every, self.planned] == cents[every, best])
        best = np.where(own, self.planned, best)
        pays = cents[every, best] > again.salvage
        return np.where(pays, best, NONE), np.where(pays, cents[every, best], again.salvage)


def _grouped(plan: Plan) -> list[int]:
    """Places of the pieces that are edged together with others."""
    names = {name for move in plan.moves if isinstance(move, EdgeTogether) for name in move.names}
    return [i for i, p in enumerate(plan.pieces) if p.piece.name in names]


def _set_numbers(plan: Plan) -> list[int]:
    return sorted({p.set_number for p in plan.pieces if p.set_number is not None})


def _in_sets(products: Sequence[Product]) -> NDArray[np.bool_]:
    return np.array([p.set_of > 1 for p in products], bool)


def _own(products: Sequence[Product], planned: Whole) -> NDArray[np.bool_]:
    """Where a slice meets the product that it is planned as, (S, J)."""
    own: NDArray[np.bool_] = planned[:, None] == np.arange(len(products))
    return own


def _may_be(products: Sequence[Product], planned: Whole) -> Whole:
    """Any product; one of sets, and one of which there may be only so many, only where it is planned. (S, J) of 0 and 1."""
    only_planned = _in_sets(products) | np.array([p.at_most is not None for p in products], bool)
    return np.where(only_planned, _own(products, planned), True).astype(np.int64)
