"""How one wood shrinks between green and the moisture content it will be used at."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.problem import OutOfRange
from waney.wood.shrinkage import shrunk_share


@dataclass(frozen=True)
class Shrinking:
    """Shrinkage green to oven-dry, as a share of the green size, and the MC that the wood is dried to.

    radial, tangential: 0..0.3; target_mc: fraction of oven-dry mass, 0 to 1.5. Raises OutOfRange outside these.
    One law for every size: size(M) = green size · (1 - S·f), f = 1 - M/0.30 below 0.30 and 0 above.
    Source: fpl-gtr-282, Eq 4-9.
    """

    radial: float
    tangential: float
    target_mc: float

    def __post_init__(self) -> None:
        for what, value in (("radial shrinkage", self.radial), ("tangential shrinkage", self.tangential)):
            if not 0.0 <= value <= 0.3:
                raise OutOfRange(what, value, 0.0, 0.3, "of the green size", "the shrinkage law")
        if not 0.0 <= self.target_mc <= 1.5:
            raise OutOfRange("moisture content", self.target_mc, 0.0, 1.5, "of oven-dry mass", "the shrinkage law")

    @property
    def dryness(self) -> float:
        """f: share of the whole shrinkage that has happened at the target MC, 0..1."""
        return shrunk_share(1.0, self.target_mc)

    def through(self, c2: float) -> float:
        """S_t, whole shrinkage through the thickness; c2 = mean cos² of the angle between radial and face normal."""
        return self.radial * c2 + self.tangential * (1.0 - c2)

    def across(self, c2: float) -> float:
        """S_w, whole shrinkage across the width; c2 as in `through`."""
        return self.radial * (1.0 - c2) + self.tangential * c2

    def thickness_left(self, c2: float) -> float:
        """Dry thickness as a share of the green one."""
        return 1.0 - self.through(c2) * self.dryness

    def width_left(self, c2: float) -> float:
        """Dry width as a share of the green one."""
        return 1.0 - self.across(c2) * self.dryness
