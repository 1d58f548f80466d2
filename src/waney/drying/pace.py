"""Pace: the four shared numbers of the drying model, and what one species does differently."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.problem import Problem


class BadPace(Problem):
    """A number of the model that no wood could have."""


@dataclass(frozen=True)
class Pace:
    """level, density_slope: D = level · (G/0.5)^density_slope · the published law [-, -]; free: D above saturation over D at
    saturation [-]; film: factor on the vapour film of the air's published one [-]."""

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
