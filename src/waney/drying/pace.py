"""Pace: the four shared numbers of the drying model, and what one species does differently."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import exp

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.tables import table
from waney.wood.species import Species

MODEL = Basis(Ground.SOURCE, "fpl-gtr-117", "drying model, fitted to published times, most of them from memory")
"""What every answer of the model stands on."""
UNKNOWN_SPREAD = 0.35
"""Spread of the logarithm of a factor for a wood without a row: wider than the prior of the fit, as printed times scatter."""


class BadPace(Problem):
    """A number of the model that no wood could have."""


@dataclass(frozen=True)
class Pace:
    """level, density_slope: D = level · (G/0.5)^density_slope · the published law [-, -]; free: D above saturation over D at
    saturation [-]; film: factor on the film outdoors [-], near 1 at the speed that is taken for the
    open (`drying.outdoors.SPEED`); none in a kiln, whose air speed is known."""

    level: float = 1.0
    density_slope: float = 0.0
    free: float = 4.0
    film: float = 1.0

    def __post_init__(self) -> None:
        if min(self.level, self.free, self.film) <= 0.0:
            raise BadPace(f"{self} has a factor that is not above zero: every factor of the drying model must be.")

    def factor(self, sg_green: float) -> float:
        """What level and density slope make of the published coefficient [-]."""
        return float(self.level * (sg_green / 0.5) ** self.density_slope)


@cache
def shared() -> dict[str, Estimate]:
    """The four numbers with their ranges, as fitted to published times (docs/methods/drying-times.md)."""
    return {
        row["name"]: Estimate(float(row["likely"]), float(row["low"]), float(row["high"]), MODEL) for row in table("drying_pace")
    }


def likely_pace() -> Pace:
    """The four numbers at their likely values."""
    found = {name: estimate.likely for name, estimate in shared().items()}
    return Pace(**found)


def species_factor(wood: Species) -> Estimate:
    """A species' own factor on D beside what its density says [-]; 1, as wide as the prior, where no times are printed."""
    row = next((row for row in table("drying_factors") if row["species_id"] == wood.id), None)
    likely, spread = (float(row["factor"]), float(row["spread"])) if row else (1.0, UNKNOWN_SPREAD)
    basis = (
        Basis(Ground.SOURCE, "fpl-gtr-117", "fitted to this wood's published drying times")
        if row
        else Basis(Ground.DEFAULT, "", "no drying times are printed for this wood: density alone, with the spread between woods")
    )
    return Estimate(likely, likely * exp(-Z_95 * spread), likely * exp(Z_95 * spread), basis, hard_min=0.0)
