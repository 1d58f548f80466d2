"""Specific gravity, density and weight at any moisture; how much water wood can hold.

Specific gravity G is oven-dry mass over volume, relative to water; Gb counts the green volume.
Moisture is a share of oven-dry mass.
"""

from __future__ import annotations

from waney.figures.problem import OutOfRange, Problem
from waney.wood.shrinkage import shrunk_share

WATER = 1000.0
"""Density of water that specific gravity refers to [kg/m3]."""
CELL_WALL_SG = 1.54
"""Specific gravity of the cell wall itself [-]: Wood Handbook FPL-GTR-282 Eq 4-3."""


class BadWeights(Problem):
    """Two weights that cannot be of the same wood."""


def _checked_gravity(sg_green: float) -> float:
    if not 0.0 < sg_green < CELL_WALL_SG:
        raise OutOfRange("Specific gravity", sg_green, 0.0, CELL_WALL_SG, "", "The cell wall itself")
    return sg_green


def gravity_at(sg_green: float, volumetric: float, mc: float) -> float:
    """Specific gravity on the volume at moisture `mc` [-]: Gx = Gb / (1 - Sx).

    Source: Wood Handbook FPL-GTR-282 Eq 4-11 and 4-13; `volumetric` is the green to oven-dry shrinkage [-].
    """
    return _checked_gravity(sg_green) / (1.0 - shrunk_share(volumetric, mc))


def density_at(sg_green: float, volumetric: float, mc: float) -> float:
    """Density with its water at moisture `mc` [kg/m3]: 1000 Gx (1 + M). Source: Wood Handbook Eq 4-14."""
    return WATER * gravity_at(sg_green, volumetric, mc) * (1.0 + mc)


def dry_mass(green_volume_m3: float, sg_green: float) -> float:
    """Oven-dry mass of a green volume [kg]."""
    return WATER * _checked_gravity(sg_green) * green_volume_m3


def mass_at(green_volume_m3: float, sg_green: float, mc: float) -> float:
    """Mass at moisture `mc` of wood that filled `green_volume_m3` when green [kg]: dry mass and water, nothing else.

    >>> round(mass_at(1.0, 0.36, 0.0) * 2.20462 / 35.3147, 1)      # 22.46 lb/ft3 printed for Gb 0.36
    22.5
    """
    return dry_mass(green_volume_m3, sg_green) * (1.0 + mc)


def log_mass(
    wood_m3: float, sg_green: float, mc: float, bark_m3: float = 0.0, bark_sg: float = 0.0, bark_mc: float = 0.0
) -> float:
    """Mass of a green log [kg]: wood inside bark, and bark (0 m3 when debarked). Volumes are green.

    Source: the sum used by the USDA Forest Service log tables; worked examples A7 and A8.
    """
    bark = WATER * bark_sg * bark_m3 * (1.0 + bark_mc)
    return mass_at(wood_m3, sg_green, mc) + bark


def most_moisture(sg_green: float) -> float:
    """Moisture [-] with every cavity full: (1.54 - Gb) / (1.54 Gb). Source: Wood Handbook FPL-GTR-282 Eq 4-3.

    A published mean can lie above it (redwood sapwood, 210 %): it is the mean of lighter wood than the mean Gb.
    """
    return (CELL_WALL_SG - _checked_gravity(sg_green)) / (CELL_WALL_SG * sg_green)


def moisture_of(mass_kg: float, dry_kg: float) -> float:
    """Moisture [-] of wood that weighs `mass_kg` now and `dry_kg` oven dry. Source: the definition (oven-dry method)."""
    if not 0.0 < dry_kg <= mass_kg:
        raise BadWeights(f"Oven dry {dry_kg:g} kg cannot be more than the weight now, {mass_kg:g} kg, nor zero: weigh again.")
    return mass_kg / dry_kg - 1.0


def dry_mass_of(mass_kg: float, mc: float) -> float:
    """Oven-dry mass [kg] of wood that weighs `mass_kg` at moisture `mc`. Source: kiln sample practice, worked example A9."""
    return mass_kg / (1.0 + mc)
