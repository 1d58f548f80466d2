"""Heat capacity and conductivity of wood at any moisture. Moisture is a share of oven-dry mass."""

from __future__ import annotations

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import OutOfRange
from waney.wood.limits import SHRINKAGE_START
from waney.wood.vapour import ZERO_C

CAPACITY_C = (7.0, 147.0)
"""Temperatures of the heat capacity equation, 280 to 420 K [°C]."""
CONDUCTIVITY_SPREAD = 0.20
"""Actual conductivity lies within this share of the equation's: Wood Handbook ch. 4."""
DRY_LIMIT, WET_LIMIT = 0.25, 0.40
"""Moisture [-] up to which the handbook's conductivity holds, and from which MacLean's does."""


def dry_heat_capacity(temperature_c: float) -> float:
    """Heat capacity of oven-dry wood [J/(kg K)], 7 to 147 °C. Source: Wood Handbook Eq 4-16a (0.1031 + 0.003867 T, T in K)."""
    if not CAPACITY_C[0] <= temperature_c <= CAPACITY_C[1]:
        raise OutOfRange("Temperature", temperature_c, *CAPACITY_C, "°C", "Wood Handbook Eq 4-16a")
    return 1000.0 * (0.1031 + 0.003867 * (temperature_c + ZERO_C))


def heat_capacity(temperature_c: float, mc: float) -> float:
    """Heat capacity of moist wood, per mass of wood and water together [J/(kg K)].

    Args: temperature_c: 7 to 147 [°C]; mc: 0 or more [-].
    Source: Wood Handbook Eq 4-17 and 4-18. The correction for bound water is dropped above 30 % moisture (memory), so that
        the value steps down there, by 5 % at 20 °C and 17 % at 67 °C: a step of the published equations, not of wood.
    >>> round(heat_capacity(340.0 - 273.15, 0.12) / 1000, 2)      # worked example G1: 1.91 kJ/(kg K)
    1.91
    """
    if mc < 0.0:
        raise OutOfRange("Moisture", mc * 100, 0.0, 300.0, "%", "Wood Handbook Eq 4-17")
    kelvin, x = temperature_c + ZERO_C, 100.0 * mc
    mixed = (dry_heat_capacity(temperature_c) + 4180.0 * mc) / (1.0 + mc)
    bound = 1000.0 * x * (-0.06191 + 2.36e-4 * kelvin - 1.33e-4 * x) if mc < SHRINKAGE_START else 0.0
    return mixed + bound


def conductivity(gravity: float, mc: float) -> Estimate:
    """Heat conductivity across the grain near 24 °C [W/(m K)], 20 % either way.

    Args: gravity: oven-dry mass over volume at this moisture, over 0.3 [-]; mc: 0 or more [-].
    Source: below 25 % moisture Wood Handbook FPL-GTR-282 Eq 4-17; from 40 % MacLean (Steinhagen 1977, memory); between
        them a straight line (ours). 2 to 3 % more for every 10 °C; along the grain 1.5 to 2.8 times as much.
    """
    if not 0.3 <= gravity < 1.54:
        raise OutOfRange("Specific gravity", gravity, 0.3, 1.54, "", "Wood Handbook Eq 4-17")
    if mc < 0.0:
        raise OutOfRange("Moisture", mc * 100, 0.0, 300.0, "%", "Wood Handbook Eq 4-17")
    likely, basis = _conductivity(gravity, mc)
    return Estimate(likely, likely * (1 - CONDUCTIVITY_SPREAD), likely * (1 + CONDUCTIVITY_SPREAD), basis, hard_min=0.0)


def _conductivity(gravity: float, mc: float) -> tuple[float, Basis]:
    if mc < DRY_LIMIT:
        return _handbook(gravity, mc), Basis(Ground.SOURCE, "fpl-gtr-282", "Eq 4-17, within 20 %")
    if mc >= WET_LIMIT:
        return _maclean(gravity, mc), Basis(Ground.SOURCE, "steinhagen-1977", "MacLean, from memory, unchecked")
    share = (mc - DRY_LIMIT) / (WET_LIMIT - DRY_LIMIT)
    between = (1.0 - share) * _handbook(gravity, DRY_LIMIT) + share * _maclean(gravity, WET_LIMIT)
    return between, Basis(Ground.DEFAULT, "", "a straight line between two published ranges, 25 and 40 %")


def _handbook(gravity: float, mc: float) -> float:
    return gravity * (0.1941 + 0.4064 * mc) + 0.01864


def _maclean(gravity: float, mc: float) -> float:
    return gravity * (0.200 + 0.55 * mc) + 0.024


def diffusivity(conductivity_w: float, density_kg_m3: float, capacity_j: float) -> float:
    """Thermal diffusivity [m2/s]: how fast warmth travels; about 1.6e-7 across the grain."""
    return conductivity_w / (density_kg_m3 * capacity_j)
