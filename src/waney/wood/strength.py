"""What a wood bears in tension across the grain, where a drying surface checks, and how much of that a pull takes up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from waney.figures.estimate import Basis
from waney.figures.sources import cited
from waney.figures.tables import Row, table

PSI, MPA = 6894.757, 1e6
"""One of each [Pa]."""
HALF_OF_DRY = 0.5
"""Least that green wood bears over dry [-], for woods of which green was not read: by the weaker plane so it is in 27 of the 29
readings of table tension_across that have both (docs/methods/drying-stress.md). Ours, a choice."""


@dataclass(frozen=True)
class Taken:
    """A tension over what the wood bears [-], least and most by what was read of it; pressed wood is below zero."""

    least: float
    most: float

    @property
    def said(self) -> str:
        """'0.63', '0.50 to 1.01'."""
        ends = f"{self.least:.2f}", f"{self.most:.2f}"
        return ends[0] if ends[0] == ends[1] else " to ".join(ends)


@dataclass(frozen=True)
class Strength:
    """Tension across the grain that a wood bears as it dries, least and most [Pa]; green: whether it was read of green wood."""

    least_pa: float
    most_pa: float
    green: bool
    basis: Basis

    def taken(self, pull_pa: float) -> Taken:
        """How much of it a tension [Pa] takes up."""
        return Taken(*sorted((pull_pa / self.least_pa, pull_pa / self.most_pa)))

    @property
    def of_what(self) -> str:
        """'what green wood bears'; what else was read where that was not."""
        return "what green wood bears" if self.green else "what this wood bears (a figure of dry wood; green it may be half)"


@cache
def strength_across(species_id: str) -> Strength | None:
    """Of a wood; None where nothing was read.

    At most what green wood bears as printed, because a surface is green when it is pulled first: the Wood Handbook before Record
    (1914, there the mean of both planes). At least the lowest that was read: the weaker plane, or dry wood where that bears less,
    because the surface is near 12 % or drier when it is pulled most. Of dry wood alone: from HALF_OF_DRY of it on.

    >>> round(strength_across("oak_northern_red").least_pa / PSI)
    750
    """
    rows = [row for row in table("tension_across") if species_id in row["species_ids"].split()]
    dry = [dry_pa(row) for row in rows if row["dry_psi"] or row["dry_mpa"]]
    green = next((row for row in rows if row["green_psi"] or row["radial_psi"]), None)
    if green is not None:
        planes = green_planes_pa(green)
        return Strength(min((*planes, *dry)), sum(planes) / len(planes), True, cited(green["source"]))
    if not dry:
        return None
    return Strength(HALF_OF_DRY * min(dry), min(dry), False, cited(rows[0]["source"], "read at 12 % only"))


def green_planes_pa(row: Row) -> tuple[float, ...]:
    """What a row of the table says of green wood [Pa]: one figure for both planes, or one for each."""
    return tuple(float(row[name]) * PSI for name in ("green_psi", "radial_psi", "tangential_psi") if row[name])


def dry_pa(row: Row) -> float:
    """What a row of the table that has it says of wood at 12 % [Pa]."""
    return float(row["dry_psi"]) * PSI if row["dry_psi"] else float(row["dry_mpa"]) * MPA
