"""Drying stress as an index: what the moisture gradient pulls across the grain, beside what the wood bears. A risk, no promise.

Layers that would shrink by different amounts are held to one width. Each gives elastically, and gives more while its moisture
changes under load (mechano-sorptive strain), which is what later turns the stress round and leaves a board casehardened.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waney.drying.board import Course
from waney.drying.kernel.records import Array
from waney.figures.problem import Problem
from waney.wood.limits import SHRINKAGE_START
from waney.wood.species import Species
from waney.wood.stiffness import Stiffness, across_over_along
from waney.wood.strength import Strength, Taken, strength_across
from waney.wood.traits import Trait

SOFTER = 2.2
"""Share of that elasticity lost for a unit of moisture above 12 % (40 % at fibre saturation): Wood Handbook ch. 5 (memory)."""
SORPTIVE = 60.0
"""Mechano-sorptive strain over elastic strain for a unit of moisture change [-]: 0.15 per MPa in pine of 0.4 GPa across the grain
(memory), carried over to other woods by their elasticity. It caps the stress, so the strain is told as well."""


class NoProfiles(Problem):
    """Stress needs the moistures through the thickness."""


@dataclass(frozen=True)
class Stresses:
    """Stress across the grain after every interval [Pa], (t,): surface and core, tension above zero; by how much the surface
    is kept from shrinking [-], (t,); strength of the wood where it was read; stiffness: stresses are those of the likely one, and
    are as many times as large as it is."""

    days: Array
    surface_pa: Array
    core_pa: Array
    surface_strain: Array
    strength: Strength | None
    stiffness: Stiffness

    @property
    def surface_index(self) -> Taken | None:
        """Most tension of the surface over the wood's strength: above 1 expect surface checks; None without a strength."""
        return self._taken(self.surface_pa)

    @property
    def core_index(self) -> Taken | None:
        """Most tension of the core over the wood's strength: above 1 honeycomb must be expected; None without a strength."""
        return self._taken(self.core_pa)

    def _taken(self, pulled_pa: Array) -> Taken | None:
        if self.strength is None:
            return None
        taken, stiff = self.strength.taken(float(pulled_pa.max())), self.stiffness
        ends = [end * share / stiff.likely for end in (taken.least, taken.most) for share in (stiff.least, stiff.most)]
        return Taken(min(ends), max(ends))

    def between(self, begin: float, end: float) -> Stresses:
        """From day `begin` to day `end`; raises NoProfiles where no interval ends there."""
        there = (self.days > begin) & (self.days <= end)
        if not there.any():
            raise NoProfiles(f"No interval of the drying ends between day {begin:.1f} and day {end:.1f}.")
        pulled = self.surface_pa[there], self.core_pa[there]
        return Stresses(self.days[there], *pulled, self.surface_strain[there], self.strength, self.stiffness)

    @property
    def most_strain(self) -> float:
        """Most that the surface is kept from shrinking by [-]."""
        return float(self.surface_strain.max())

    @property
    def turned_after_days(self) -> float | None:
        """When the surface goes from tension into compression [days]; None if it does not."""
        turned = np.flatnonzero((self.surface_pa[1:] < 0.0) & (self.surface_pa[:-1] >= 0.0))
        return float(self.days[turned[0] + 1]) if turned.size else None


def layers_apart(profiles: Array, volumes: Array, shrinkage: float, across_pa: float) -> tuple[Array, Array]:
    """Stress [Pa] and strain beyond free shrinkage [-] of every layer, (t, n) each, from moistures (t, n); none in the first row.

    volumes: share of the thickness of each layer, (n,); shrinkage: green to oven dry across the board [-]; across_pa: elasticity
    in that direction at 12 %.
    """
    bound = np.minimum(profiles, SHRINKAGE_START)
    stiff = across_pa * (1.0 - SOFTER * (bound - 0.12))
    free = -shrinkage * (1.0 - bound / SHRINKAGE_START)
    free = free - free[0]
    set_strain = np.zeros(profiles.shape[1])
    stress, strain = np.zeros_like(profiles), np.zeros_like(profiles)
    for t in range(1, profiles.shape[0]):
        held = free[t] + set_strain
        weight = volumes * stiff[t]
        # the set of this interval is counted with the stress at its end, so that a long interval cannot overshoot
        moved = SORPTIVE * np.abs(bound[t] - bound[t - 1])
        give = 1.0 + moved
        common = (weight / give) @ held / (weight / give).sum()
        stress[t] = stiff[t] * (common - held) / give
        set_strain = set_strain + moved * stress[t] / stiff[t]
        strain[t] = common - free[t]
    return stress, strain


def stresses(course: Course, wood: Species) -> Stresses:
    """Stress in a flatsawn piece through a course with profiles. Raises NoProfiles; NoFigure without shrinkage or elasticity."""
    if course.profiles.shape[0] == 0:
        raise NoProfiles("Drying stress needs the moistures through the thickness: dry the piece with profiles kept.")
    rows = np.vstack((course.start.moistures, course.profiles))
    shrinkage = wood.needed(Trait.SHRINK_TANGENTIAL).likely
    along, stiffness = wood.needed(Trait.MOE_12).likely, across_over_along(wood.id)
    stress, strain = layers_apart(rows, course.start.nodes.volumes, shrinkage, stiffness.likely * along)
    return Stresses(course.days, stress[1:, 0], stress[1:, -1], strain[1:, 0], strength_across(wood.id), stiffness)
