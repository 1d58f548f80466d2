"""Worlds: a log and what is wanted from it, at one state of everything that is in doubt.

log....            the doubts of the shape, as `logs.doubts` names them
wood.shrinkage     how this tree shrinks: one draw for both directions, since both rise with its density. That they go hand
                   in hand is our choice, no source: drawn apart, their difference, which makes the cup, would swing too far
drying.days, drying.loss   how long drying takes and what it spoils: one draw for all products, which dry in one yard
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.shape import LogShape
from waney.logs.volume import balance_of
from waney.pieces.shrinking import Shrinking
from waney.prices.rules import DryingAllowance
from waney.sawing.bench import Bench
from waney.sawing.kernel.records import Ask
from waney.sawing.lay import Outline, outline_of
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.orders import orders_of
from waney.sawing.wants import Wants
from waney.wood.species import Species
from waney.wood.traits import Trait

SHRINKAGE, DAYS, LOSS = "wood.shrinkage", "drying.days", "drying.loss"
MOST = 0.3
"""No wood shrinks by more than this share (the limit of `Shrinking`)."""


@dataclass(frozen=True, eq=False)
class World:
    """One state: the log with its shape and shrinkage, the wants with days and losses that are sure; and both as numbers."""

    log: LogToSaw
    wants: Wants
    ask: Ask

    @cached_property
    def outline(self) -> Outline:
        """The surfaces of the log, for all lies."""
        return outline_of(self.log.shape)

    @cached_property
    def centre_z(self) -> float:
        """Where along the log its centre of mass is [m]."""
        return balance_of(self.outline.bark[..., :2], self.log.shape.z_m)[2]

    @classmethod
    def of(cls, bench: Bench, log: LogToSaw, wants: Wants) -> World:
        """The mill and its grid stay as they are."""
        orders = orders_of(wants, log.shrinking, bench.mill.step_m, bench.mill.kerf_m)
        return cls(log, wants, bench.ask._replace(orders=orders))


def likely_world(bench: Bench) -> World:
    """The state that plans are made for: every doubt at its likely value."""
    return World(bench.log, bench.wants, bench.ask)


def worlds(bench: Bench, wood: Species, shapes: Sequence[LogShape], scenarios: Scenarios) -> tuple[World, ...]:
    """One world for each scenario; shapes: those of the log in the same scenarios."""
    shrinking = _shrinkings(bench.log.shrinking, wood, scenarios)
    days, loss = scenarios.column(DAYS), scenarios.column(LOSS)
    return tuple(
        World.of(
            bench,
            replace(bench.log, shape=shape, shrinking=shrinks),
            replace(bench.wants, allowances=_drawn(bench.wants.allowances, float(z_days), float(z_loss))),
        )
        for shape, shrinks, z_days, z_loss in zip(shapes, shrinking, days, loss, strict=True)
    )


def _shrinkings(likely: Shrinking, wood: Species, scenarios: Scenarios) -> tuple[Shrinking, ...]:
    radial = scenarios.values(SHRINKAGE, wood.needed(Trait.SHRINK_RADIAL))
    tangential = scenarios.values(SHRINKAGE, wood.needed(Trait.SHRINK_TANGENTIAL))
    return tuple(
        replace(likely, radial=min(float(r), MOST), tangential=min(float(t), MOST))
        for r, t in zip(radial, tangential, strict=True)
    )


def _drawn(allowances: Mapping[str, DryingAllowance], z_days: float, z_loss: float) -> Mapping[str, DryingAllowance]:
    return {
        name: DryingAllowance(_sure(one.days, z_days), _sure(one.loss, z_loss), _sure(one.loss_with_pith, z_loss))
        for name, one in allowances.items()
    }


def _sure(doubt: Estimate, z: float) -> Estimate:
    return Estimate.known(doubt.at(z), doubt.basis)
