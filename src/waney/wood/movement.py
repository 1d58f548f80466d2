"""How far a wood moves between two moistures, with its range, and the handbook's change coefficient beside it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.shrinkage import COEFFICIENT_HIGH, COEFFICIENT_LOW, by_ring_angle, moved, moved_by_coefficient
from waney.wood.species import Species
from waney.wood.traits import Trait

RADIAL, TANGENTIAL = "wood.shrink_radial", "wood.shrink_tangential"
"""Names of the doubts in a wood's shrinkage, for `figures.scenarios`."""


@dataclass(frozen=True)
class Movement:
    """Change of a size [m], growing positive; and what the change coefficients say, None where they do not hold."""

    change_m: Estimate
    by_coefficient_m: float | None


def shrinkage_doubts(wood: Species) -> Mapping[str, Estimate]:
    """Radial and tangential shrinkage [-]; raises NoFigure, a sentence that asks, when either is missing."""
    return {RADIAL: wood.needed(Trait.SHRINK_RADIAL), TANGENTIAL: wood.needed(Trait.SHRINK_TANGENTIAL)}


def _change(values: Mapping[str, float], size_m: float, angle_rad: float, from_mc: float, to_mc: float) -> float:
    shrinkage = by_ring_angle(values[RADIAL], values[TANGENTIAL], angle_rad)
    return moved(size_m, shrinkage, from_mc, to_mc) - size_m


def _by_coefficient(wood: Species, size_m: float, angle_rad: float, from_mc: float, to_mc: float) -> float | None:
    radial, tangential = wood.value(Trait.CHANGE_RADIAL), wood.value(Trait.CHANGE_TANGENTIAL)
    holds = all(COEFFICIENT_LOW <= mc <= COEFFICIENT_HIGH for mc in (from_mc, to_mc))
    if radial is None or tangential is None or not holds:
        return None
    coefficient = by_ring_angle(radial.likely, tangential.likely, angle_rad)
    return moved_by_coefficient(size_m, coefficient, from_mc, to_mc) - size_m


def movement(wood: Species, size_m: float, angle_rad: float, from_mc: float, to_mc: float, scenarios: Scenarios) -> Movement:
    """Change of what measures `size_m` at `from_mc` [m] when it goes to `to_mc`.

    Args: angle_rad: between the measured direction and the radial (0: across a quartersawn width; pi/2: across a flatsawn one).
    Raises NoFigure when no shrinkage is known or supported.
    """
    doubts = shrinkage_doubts(wood)
    changes = np.array([_change(values, size_m, angle_rad, from_mc, to_mc) for values in scenarios.draws(doubts)])
    middle = _change(likely(doubts), size_m, angle_rad, from_mc, to_mc)
    change = summed_up(changes, middle, doubts[TANGENTIAL].basis)
    return Movement(change, _by_coefficient(wood, size_m, angle_rad, from_mc, to_mc))
