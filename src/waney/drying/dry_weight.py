"""Oven-dry weight of a piece before anything was read of it: by its sizes and its wood's gravity. And what is called air-dry."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, hypot

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.wood.density import dry_mass
from waney.wood.species import Species
from waney.wood.traits import Trait

AIR_DRY = 0.20
"""To which moisture wood outdoors is brought where nobody told another [-]: published air-drying times end there
(fpl-gtr-117)."""
SIZE_SPREAD = 0.06
"""Standard deviation of the logarithm of a piece's oven-dry weight from its sizes and its wood's gravity, beside the
gravity's own doubt; ours, a choice."""


@dataclass(frozen=True)
class DryWeight:
    """What is known of the oven-dry weight beforehand: its likely value [kg] and the standard deviation of its logarithm."""

    kg: float
    spread: float

    @property
    def estimate(self) -> Estimate:
        """Its 5, 50 and 95 % points [kg]."""
        wide = exp(Z_95 * self.spread)
        return Estimate(self.kg, self.kg / wide, self.kg * wide, Basis(Ground.DEFAULT, "", "sizes and gravity"), 0.0)


def dry_by_sizes(wood: Species, green_m3: float) -> DryWeight:
    """From the green volume of a piece [m3]. Raises NoFigure for a wood without gravity."""
    gravity = wood.needed(Trait.SG_GREEN)
    spread = hypot(gravity.width / (2.0 * Z_95) / gravity.likely, SIZE_SPREAD)
    return DryWeight(dry_mass(green_m3, gravity.likely), spread)
