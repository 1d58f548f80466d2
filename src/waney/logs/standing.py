"""A standing tree: how much stem wood its diameter at 4 1/2 ft and its height promise.

volume = form · area at 4 1/2 ft · height; `form` is how full the stem is beside a cylinder: 1/3 a cone, 1/2 a paraboloid.

tree.diameter, tree.height [m]   the two readings
tree.form [-]                    the form factor
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import exp, log, sqrt
from statistics import fmean, stdev

import numpy as np
from scipy.stats import t as student

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.figures.tables import table
from waney.logs.volume import circle_area

BREAST_HEIGHT_M = 1.3716
"""4 1/2 ft above the ground on the uphill side."""
DIAMETER_ERROR_M, HEIGHT_ERROR = 0.004, 0.07
"""Half of the 90 % range of a taped diameter, and of a sighted height as a share of it. Common practice, no source."""
ANY_FORM = (0.39, 0.29, 0.50)
"""Form of any species: 10 eucalypts and 31 cherries (shipped) and 20 sweetgums lie within 0.31 to 0.51, with means 0.41, 0.38 and
0.38; drawn wider for open-grown trees: common practice, no source."""


class BadTree(Problem):
    """Readings that no standing tree has."""


@dataclass(frozen=True)
class MeasuredTree:
    """A felled tree whose volume is known."""

    diameter_m: float
    height_m: float
    volume_m3: float

    @property
    def form(self) -> float:
        """Volume over that of the cylinder of its diameter and height [-]."""
        return self.volume_m3 / (circle_area(self.diameter_m) * self.height_m)


@dataclass(frozen=True)
class StandingTree:
    """What was read on a standing tree. Raises BadTree unless it is taller than breast height and has a diameter."""

    diameter_m: Estimate
    """over bark at 4 1/2 ft"""
    height_m: Estimate
    """whole height"""
    species: str = ""
    """a species id of `wood.species`, or "" when not known"""

    def __post_init__(self) -> None:
        if self.diameter_m.low <= 0.0 or self.height_m.low <= BREAST_HEIGHT_M:
            raise BadTree("A standing tree needs a diameter above zero and a height above 4 1/2 ft (1.37 m).")


def tree_read(diameter_m: float, height_m: float, species: str = "") -> StandingTree:
    """A tree read with a diameter tape and a sighted height, with the usual errors of both."""
    taped = Basis(Ground.READING, "diameter tape")
    sighted = Basis(Ground.READING, "height sight")
    diameter = Estimate(diameter_m, diameter_m - DIAMETER_ERROR_M, diameter_m + DIAMETER_ERROR_M, taped)
    height = Estimate(height_m, height_m * (1.0 - HEIGHT_ERROR), height_m * (1.0 + HEIGHT_ERROR), sighted)
    return StandingTree(diameter, height, species)


def tree_volume(tree: StandingTree, form: Estimate, scenarios: Scenarios) -> Estimate:
    """Stem wood of a standing tree [m3], branches not counted; `form` as `form_of_species` gives it."""
    doubts = {"tree.diameter": tree.diameter_m, "tree.height": tree.height_m, "tree.form": form}
    volumes = np.array([_volume(values) for values in scenarios.draws(doubts)])
    return summed_up(volumes, _volume(likely(doubts)), form.basis)


def _volume(values: Mapping[str, float]) -> float:
    return values["tree.form"] * circle_area(values["tree.diameter"]) * values["tree.height"]


def form_of_species(species: str) -> Estimate:
    """Form factor [-]: from measured trees where there are any, else that of any species."""
    if species == "cherry_black":
        return form_of_trees(_cherries(), Basis(Ground.SOURCE, "black-cherry-1976", "31 trees of 8 to 21 in and 63 to 87 ft"))
    basis = Basis(Ground.DEFAULT, "", "form of 61 cherries, eucalypts and sweetgums, drawn wider")
    return Estimate(*ANY_FORM, basis, hard_min=0.15, hard_max=0.75)


def form_of_trees(trees: Sequence[MeasuredTree], basis: Basis) -> Estimate:
    """Form factor of one more tree like these, at least 3: logs of their forms taken as normal, Student's t for their number."""
    logs = [log(tree.form) for tree in trees]
    n, mean = len(logs), fmean(logs)
    spread = float(student.ppf(0.95, n - 1)) * stdev(logs) * sqrt(1.0 + 1.0 / n)
    return Estimate(exp(mean), exp(mean - spread), exp(mean + spread), basis, hard_min=0.15, hard_max=0.75)


@cache
def _cherries() -> tuple[MeasuredTree, ...]:
    inch, foot = 0.0254, 0.3048
    return tuple(
        MeasuredTree(float(row["dbh_in"]) * inch, float(row["height_ft"]) * foot, float(row["volume_ft3"]) * foot**3)
        for row in table("black_cherry")
    )
