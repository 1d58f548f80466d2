"""Plan outcome: what a plan gives over all worlds, as it is kept with the plan."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

BAD, LIKELY, GOOD = 0.05, 0.5, 0.95


@dataclass(frozen=True)
class Outcome:
    """The 5, 50 and 95 % points of one figure over all worlds."""

    bad: float
    likely: float
    good: float

    @classmethod
    def of(cls, results: Array) -> Outcome:
        """From the figure in every world, (n,)."""
        bad, likely, good = (float(np.quantile(results, q)) for q in (BAD, LIKELY, GOOD))
        return cls(bad, likely, good)


@dataclass(frozen=True)
class Stays:
    """In what share of the worlds a piece is still the product that it was planned as."""

    name: str
    share: float


@dataclass(frozen=True)
class PlanOutcome:
    """What a plan gives over all worlds."""

    cents: Outcome
    """all efforts paid, whole cents"""
    usable_m3: Outcome
    """dry volume of the finished pieces"""
    board_feet: Outcome
    """nominal, of the pieces that are products"""
    as_planned: tuple[Stays, ...]
    """every piece that is a product, in the plan's order"""
    too_wide: float
    """share of the worlds in which a pass is wider than the mill can cut; its money is counted as if it could"""
    worlds: int

    def share_of(self, name: str) -> float | None:
        """How sure a piece is; None for what is no product."""
        return next((piece.share for piece in self.as_planned if piece.name == name), None)
