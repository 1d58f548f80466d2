"""How fast water moves in wood: across the grain from the cell wall and the vapour in the cavities, along the grain, in air.

G is basic gravity (oven-dry mass over green volume). Moisture M is a share; the source's formulas take it in per cent.
D_v, vapour in a cavity counted on the wood's moisture, is not D_a, vapour in air: it is about ten thousand times smaller.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import OutOfRange
from waney.wood.density import CELL_WALL_SG, WATER
from waney.wood.sorption import saturation_moisture, sorption_slope
from waney.wood.vapour import STANDARD_PRESSURE, ZERO_C, saturation_pressure

Array = NDArray[np.float64]

GAS = 8.314
"""Gas constant [J/(mol K)]."""
WATER_MOLAR = 0.018015
"""Molar mass of water [kg/mol]."""
PERMEABILITY_M2 = {
    "permeable": (1e-13, 1e-12, 1e-11),
    "moderate": (1e-15, 1e-14, 1e-13),
    "refractory": (1e-18, 1e-17, 1e-16),
}
"""Permeability to gas along the grain: least, likely, most [m2]. siau-1984 (memory): hardwood sapwood with open vessels near
1e-12 to 1e-10, softwood sapwood near 1e-12, heartwood hundreds of times less, white oak heartwood with its tyloses near 1e-17."""


def vapour_in_air(temperature_c: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Diffusion coefficient D_a of water vapour in air [m2/s]: 2.2e-5 (101325/P)(T/273)^1.75.

    Source: siau-1984 (memory). Inversely proportional to the total pressure.
    >>> 2.5e-5 < vapour_in_air(25.0) < 2.6e-5
    True
    """
    return float(2.2e-5 * (STANDARD_PRESSURE / pressure_pa) * ((temperature_c + ZERO_C) / 273.0) ** 1.75)


def cell_wall_diffusion(moistures: Array, temperature_c: float) -> Array:
    """Bound water across the cell wall [m2/s], any shape: 7e-6 exp(-(38500 - 290 M)/(R T)), M in per cent.

    Source: siau-1984 after Stamm (memory).
    """
    kelvin = temperature_c + ZERO_C
    return np.asarray(7e-6 * np.exp(-(38500.0 - 290.0 * 100.0 * moistures) / (GAS * kelvin)))


def wall_density(moistures: Array) -> Array:
    """Dry mass per volume of moist cell wall [kg/m3]: 1540 / (1 + 1.54 M). Water in the wall counted at 1000 kg/m3."""
    return WATER * CELL_WALL_SG / (1.0 + CELL_WALL_SG * moistures)


def cavity_diffusion(moistures: Array, temperature_c: float, pressure_pa: float = STANDARD_PRESSURE) -> Array:
    """Vapour in the cavities on the gradient of moisture, D_v [m2/s], any shape; 0 above saturation.

    D_v = M_w D_a p_sat / (rho_wall R T) · dh/dM. Source: siau-1984 (memory; the units were worked through).
    """
    kelvin = temperature_c + ZERO_C
    vapour = WATER_MOLAR * vapour_in_air(temperature_c, pressure_pa) * saturation_pressure(temperature_c)
    return np.asarray(vapour / (wall_density(moistures) * GAS * kelvin) * sorption_slope(moistures, temperature_c))


def porosity(sg_green: float, moistures: Array) -> Array:
    """Share of the volume that is cavity [-]: 1 - G (0.653 + M). Source: siau-1984 (memory: 0.653 + 0.01 M, M in per cent)."""
    return 1.0 - sg_green * (0.653 + moistures)


def across_grain(moistures: Array, temperature_c: float, sg_green: float, pressure_pa: float = STANDARD_PRESSURE) -> Array:
    """Diffusion coefficient across the grain below saturation [m2/s], any shape; above it the value at saturation.

    D_T = sqrt(v) D_b D_v / ((1 - v)(sqrt(v) D_b + (1 - sqrt(v)) D_v)), v the porosity. Source: siau-1984 (memory).
    """
    if not 0.05 < sg_green < 1.2:
        raise OutOfRange("Specific gravity", sg_green, 0.05, 1.2, "", "Siau's model of the wood cell")
    full = saturation_moisture(temperature_c)
    m = np.minimum(moistures, full - 1e-6)  # the slope of sorption ends at saturation
    v = porosity(sg_green, m)
    root = np.sqrt(v)
    wall, cavity = cell_wall_diffusion(m, temperature_c), cavity_diffusion(m, temperature_c, pressure_pa)
    return np.asarray(root * wall * cavity / ((1.0 - v) * (root * wall + (1.0 - root) * cavity)))


def along_grain(moistures: Array, temperature_c: float, sg_green: float, pressure_pa: float = STANDARD_PRESSURE) -> Array:
    """Diffusion coefficient along the grain below saturation [m2/s], any shape; above it the value at saturation.

    Cavity and end wall one after the other, the cell a hundred times as long as its end wall is thick:
    D_L = v / (1 - v) · D_b D_v / (0.99 D_b + 0.01 D_v). Source: siau-1984 (memory of the picture, not of the digits).
    """
    full = saturation_moisture(temperature_c)
    m = np.minimum(moistures, full - 1e-6)
    v = porosity(sg_green, m)
    wall, cavity = cell_wall_diffusion(m, temperature_c), cavity_diffusion(m, temperature_c, pressure_pa)
    return np.asarray(v / (1.0 - v) * wall * cavity / (0.99 * wall + 0.01 * cavity))


ARRHENIUS_K = 5280.0
"""How D grows with warmth, exp(-5280/T): what Simpson used for red oak (memory). Siau's own cell wall gives 3,800 to 4,600, too
little to hold for yard and kiln alike: see docs/methods/drying.md."""
REFERENCE_C = 43.3
"""Temperature at which Siau's formula is taken for the change with moisture and density: 110 °F, middle of yard and kiln [°C]."""


def warmth(temperature_c: float) -> float:
    """Factor on the coefficient at `REFERENCE_C` for another temperature [-]."""
    return float(np.exp(-ARRHENIUS_K * (1.0 / (temperature_c + ZERO_C) - 1.0 / (REFERENCE_C + ZERO_C))))


def ease_along(sg_green: float, temperature_c: float, mc: float = 0.15) -> float:
    """How much easier water moves along the grain than across it [-], by the published coefficients.

    One number for all moistures, taken at `mc`: along the grain vapour in the cavities leads, so it falls as wood gets wetter.
    What the pace of the drying model puts on the coefficient it puts on both. The trade says 10 to 15 (fpl-ah-188, memory).
    >>> 10.0 < ease_along(0.6, 20.0) < 20.0
    True
    """
    at = np.array([mc])
    across = warmth(temperature_c) * across_grain(at, REFERENCE_C, sg_green)
    return float(along_grain(at, temperature_c, sg_green)[0] / across[0])
