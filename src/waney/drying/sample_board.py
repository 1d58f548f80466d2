"""Sample board: two moisture sections from its ends give its moisture and oven-dry weight; every later weight gives moisture.

Source of the procedure: fpl-ah-188, chapter 6 (memory); the same steps stand in a drying specialist's public notes (seen).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, sqrt
from statistics import fmean, stdev

from waney.drying.weighing import Weight, at_moisture
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.wood.density import dry_mass_of, moisture_of

SECTION_SPREAD = 0.03
"""Standard error of one section as a measure of the whole board, share of its moisture: common practice, no source."""
FEW_SECTIONS = 2
BASIS = Basis(Ground.READING, "sample board", "moisture sections, oven-dry method")


class BadSampleBoard(Problem):
    """Sections or weights that do not make a sample board."""


@dataclass(frozen=True)
class Section:
    """A slice along the grain of an inch or so: its weight when cut and after the oven, to constant weight [kg]."""

    wet_kg: float
    dry_kg: float

    @property
    def mc(self) -> float:
        """Moisture when cut [-]. Raises BadWeights for an oven-dry weight above the wet one."""
        return moisture_of(self.wet_kg, self.dry_kg)


@dataclass(frozen=True)
class SampleBoard:
    """A board between two sections, weighed at once after they were cut."""

    first: Weight
    sections: tuple[Section, ...]

    def __post_init__(self) -> None:
        if len(self.sections) < FEW_SECTIONS:
            raise BadSampleBoard("A sample board needs two moisture sections, one from each end: one may be pith, sap or a knot.")
        _ = self.mc

    @property
    def mc(self) -> float:
        """Moisture when the sections were cut: their mean [-]."""
        return fmean(section.mc for section in self.sections)

    @property
    def mc_error(self) -> float:
        """Standard error of that [-]: by how far the sections differ, never less than a section's own."""
        mcs = [section.mc for section in self.sections]
        return max(stdev(mcs), SECTION_SPREAD * fmean(mcs)) / sqrt(len(mcs))

    @property
    def start(self) -> Estimate:
        """That moisture with its range [-]."""
        reach = Z_95 * self.mc_error
        return Estimate(self.mc, max(self.mc - reach, 0.0), self.mc + reach, BASIS, 0.0)

    @property
    def dry_kg(self) -> float:
        """Oven-dry weight of the board [kg]: W / (1 + M)."""
        return dry_mass_of(self.first.kg, self.mc)

    @property
    def dry_share_error(self) -> float:
        """Standard error of the oven-dry weight, share of it."""
        return hypot(self.first.error_kg / self.first.kg, self.mc_error / (1.0 + self.mc))

    @property
    def dry(self) -> Estimate:
        """Oven-dry weight with its range [kg]."""
        reach = Z_95 * self.dry_share_error * self.dry_kg
        return Estimate(self.dry_kg, self.dry_kg - reach, self.dry_kg + reach, BASIS, 0.0)

    def moisture(self, now: Weight) -> Estimate:
        """Moisture at a later weight [-]: W / dry - 1. Raises BadWeights below the oven-dry weight."""
        mc = moisture_of(now.kg, self.dry_kg)
        reach = Z_95 * (1.0 + mc) * hypot(now.error_kg / now.kg, self.dry_share_error)
        return Estimate(mc, max(mc - reach, 0.0), mc + reach, BASIS, 0.0)

    def target_kg(self, mc: float) -> Estimate:
        """What the board weighs at `mc` [kg]: the figure for its tag."""
        return at_moisture(self.dry, mc)


def wettest_and_driest(boards: Sequence[Estimate]) -> tuple[int, int]:
    """Numbers of the wettest and the driest of some sample boards, by their moistures now; the wetter half sets the pace of a
    kiln's steps and the driest begins its equalising (fpl-ah-188, memory)."""
    order = sorted(range(len(boards)), key=lambda i: boards[i].likely)
    return order[-1], order[0]
