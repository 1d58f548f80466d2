"""Law: tables of how one wood carries water, made from the published coefficients and the pace of the model."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from waney.drying.kernel.records import Array, Law
from waney.drying.pace import Pace
from waney.wood.diffusion import REFERENCE_C, across_grain, warmth
from waney.wood.sorption import humidity_over, saturation_moisture
from waney.wood.vapour import STANDARD_PRESSURE, saturation_pressure

SPACING = 0.005
"""Moisture between the columns of the tables [-]."""
MOISTURES: Array = np.arange(81, dtype=np.float64) * SPACING
"""Columns, 0 to 40 %: past saturation at every temperature; beyond it D stays what it is there."""
COLDEST, HOTTEST, STEP = -40.0, 120.0, 2.5
"""Rows of the tables [°C]."""
TEMPERATURES = np.arange(COLDEST, HOTTEST + STEP / 2, STEP)


@lru_cache(maxsize=1)
def _log_pressures() -> Array:
    return np.log([saturation_pressure(t) for t in np.arange(COLDEST, 151.0)], dtype=np.float64)


@lru_cache(maxsize=1)
def _humidity() -> Array:
    return np.array([humidity_over(MOISTURES, t) for t in map(float, TEMPERATURES)])


def tabled(diffusion: Callable[[Array, float], Array], humidity: Array | None = None) -> Law:
    """A law from any diffusion coefficient [m2/s] of moistures (k,) and a temperature; humidity (m, k) unless the usual one."""
    d = np.array([diffusion(MOISTURES, t) for t in map(float, TEMPERATURES)])
    potential = np.zeros_like(d)
    potential[:, 1:] = np.cumsum(0.5 * SPACING * (d[:, 1:] + d[:, :-1]), axis=1)
    return Law(potential, d, _humidity() if humidity is None else humidity, _log_pressures(), SPACING, COLDEST, STEP)


@lru_cache(maxsize=64)
def law_of(sg_green: float, pace: Pace, pressure_pa: float = STANDARD_PRESSURE) -> Law:
    """The law of a wood across its grain: the published coefficient times the pace's factor; free water above saturation.

    Args: sg_green: basic gravity [-]; pressure_pa: total pressure in the cavities [Pa].
    """
    return tabled(lambda moistures, t: pace.factor(sg_green) * with_free_water(moistures, t, sg_green, pace.free, pressure_pa))


def with_free_water(moistures: Array, temperature_c: float, sg_green: float, free: float, pressure_pa: float) -> Array:
    """The published coefficient [m2/s]; above saturation `free` times its value there."""
    d = warmth(temperature_c) * across_grain(moistures, REFERENCE_C, sg_green, pressure_pa)
    return np.where(moistures > saturation_moisture(temperature_c), free * d, d)
