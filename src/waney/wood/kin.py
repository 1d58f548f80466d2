"""What other woods suggest about a wood whose shrinkage no table gives: the spread of its genus, else of hard- or softwoods.

The answer is wide on purpose and says what it stands on. Woods rich in extractives (osage-orange, mulberry, black locust)
lie at its low end.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import hypot
from statistics import mean, quantiles, stdev

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.tables import table
from waney.wood.shrinkage import volumetric_from_gravity
from waney.wood.traits import TREE_SPREAD, Figure, Status, Trait

KIN_NEEDED = 3
"""Species of a genus below which their spread says nothing: ours, a choice."""

COLUMN = {
    Trait.SHRINK_RADIAL: "shrink_radial_pct",
    Trait.SHRINK_TANGENTIAL: "shrink_tangential_pct",
    Trait.SHRINK_VOLUMETRIC: "shrink_volumetric_pct",
}


@dataclass(frozen=True)
class Kin:
    """One wood with a published shrinkage [-] and, where known, green specific gravity [-]."""

    id: str
    genus: str
    group: str
    shrinkage: float
    sg_green: float | None


@cache
def published(trait: Trait) -> tuple[Kin, ...]:
    """Every wood of `species.csv` with a value of its own for this shrinkage."""
    column = COLUMN[trait]
    return tuple(
        Kin(
            row["species_id"],
            row["botanical_name"].split()[0],
            row["group"],
            float(row[column]) / 100.0,
            float(row["sg_green"]) if row["sg_green"] else None,
        )
        for row in table("species")
        if row[column]
    )


def _quantiles(ratios: list[float]) -> tuple[float, float, float, int]:
    twentieths = quantiles(ratios, n=20, method="inclusive")
    return twentieths[0], twentieths[9], twentieths[18], len(ratios)


@cache
def _over_gravity(trait: Trait, group: str, without: str) -> tuple[float, float, float, int]:
    """5, 50, 95 % of shrinkage over specific gravity in a group [-], and how many woods."""
    kin = [k for k in published(trait) if k.group == group and k.id != without]
    return _quantiles([k.shrinkage / k.sg_green for k in kin if k.sg_green is not None])


@cache
def _over_volumetric(trait: Trait, without: str) -> tuple[float, float, float, int]:
    """5, 50, 95 % of a directional over the volumetric shrinkage [-], all woods, and how many."""
    volumetric = {k.id: k.shrinkage for k in published(Trait.SHRINK_VOLUMETRIC)}
    kin = [k for k in published(trait) if k.id in volumetric and k.id != without]
    return _quantiles([k.shrinkage / volumetric[k.id] for k in kin])


def _kin_figure(trait: Trait, likely: float, down: float, up: float, note: str) -> Figure:
    """`down` and `up`: shares of the likely value to the 5 and 95 % points."""
    basis = Basis(Ground.SOURCE, "fpl-gtr-190", f"{Status.KIN}: {note} in Table 4-3 and the like")
    estimate = Estimate(likely, max(likely * (1.0 - down), 0.0), likely * (1.0 + up), basis, hard_min=0.0)
    return Figure(estimate, Status.KIN)


def by_genus(trait: Trait, genus: str, *, without: str = "") -> Figure | None:
    """Mean and spread of the genus, trees about species and species about the mean; None below three species."""
    values = [kin.shrinkage for kin in published(trait) if kin.genus == genus and kin.id != without]
    if len(values) < KIN_NEEDED:
        return None
    likely = mean(values)
    reach = Z_95 * hypot(stdev(values) / likely, TREE_SPREAD[trait])
    return _kin_figure(trait, likely, reach, reach, f"{len(values)} species of {genus}")


def by_group(trait: Trait, group: str, sg_green: Estimate, *, without: str = "") -> Figure:
    """Shrinkage from specific gravity and the spread of their ratio among hardwoods or softwoods.

    The volumetric likely value is 26.5 % · Gb (Wood Handbook Eq 4-12, memory), the others the group's median ratio.
    """
    low, middle, high, count = _over_gravity(trait, group, without)
    sg = sg_green.likely
    likely = volumetric_from_gravity(sg) if trait is Trait.SHRINK_VOLUMETRIC else middle * sg
    down = hypot(1.0 - low / middle, 1.0 - sg_green.low / sg, TREE_SPREAD[trait] * Z_95)
    up = hypot(high / middle - 1.0, sg_green.high / sg - 1.0, TREE_SPREAD[trait] * Z_95)
    return _kin_figure(trait, likely, down, up, f"shrinkage over specific gravity of {count} {group}s")


def by_volumetric(trait: Trait, volumetric: Estimate, *, without: str = "") -> Figure:
    """Radial or tangential shrinkage as its usual share of a volumetric one that is known for this wood."""
    low, middle, high, count = _over_volumetric(trait, without)
    v = volumetric.likely
    down = hypot(1.0 - low / middle, 1.0 - volumetric.low / v)
    up = hypot(high / middle - 1.0, volumetric.high / v - 1.0)
    return _kin_figure(trait, middle * v, down, up, f"share of the volumetric shrinkage in {count} woods")


def _suggested(trait: Trait, figures: Mapping[Trait, Figure], genus: str, group: str) -> Figure | None:
    """What supports this shrinkage best: the wood's own volumetric, its genus, its group with specific gravity, or nothing."""
    volumetric, gravity = figures.get(Trait.SHRINK_VOLUMETRIC), figures.get(Trait.SG_GREEN)
    if volumetric is not None and not volumetric.estimated:
        return by_volumetric(trait, volumetric.value)
    if (kin := by_genus(trait, genus)) is not None or gravity is None:
        return kin
    return by_group(trait, group, gravity.value)


def completed(figures: Mapping[Trait, Figure], genus: str, group: str) -> dict[Trait, Figure]:
    """The figures with every missing shrinkage that other woods support, marked Status.KIN; the rest stays missing."""
    missing = [trait for trait in COLUMN if trait not in figures]
    found = {trait: kin for trait in missing if (kin := _suggested(trait, figures, genus, group)) is not None}
    return {**figures, **found}
