"""The moisture that wood settles at in air of a given temperature and humidity, and the humidity for a wanted moisture.

One curve for all species, no hysteresis: fit for drying practice, not for thermodynamics (FPL-GTR-229).
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import OutOfRange

SOURCE = "Wood Handbook FPL-GTR-282 Eq 4-5"
PRINTED_C = (-1.2, 132.3)
"""Temperatures of the printed table, 30 to 270 °F, a hair wider for rounding [°C]."""
PRINTED_HUMIDITY = 0.95
"""Highest relative humidity of the printed table [-]."""
LOWEST_C = -40.0
"""Down to here the equation is continued, and marked, for outdoor air in winter [°C]. It bends down in the cold (12.4 % at
-1 °C, 9.4 % at -40 °C, both at 65 % humidity), which is the fitted parabola's doing, not the wood's."""


def emc_is_extended(temperature_c: float, humidity: float) -> bool:
    """True where the equation is used outside its printed table: over 95 % humidity, or colder than 30 °F."""
    return humidity > PRINTED_HUMIDITY or temperature_c < PRINTED_C[0]


def equilibrium_moisture(temperature_c: float, humidity: float) -> float:
    """Moisture that wood settles at [-], as a share of oven-dry mass.

    Args:
        temperature_c: dry-bulb temperature, -40 to 132 [°C]; `emc_is_extended` marks what lies below the printed table
        humidity: relative humidity over liquid water, 0 to 1 [-]; 0.65, not 65; from 0.95 to 1 the equation is continued
            to its own value at 1, and `emc_is_extended` marks it
    Source: Wood Handbook FPL-GTR-282 Eq 4-5, metric coefficients (the same in fpl-rn-0268). Raises OutOfRange.
    >>> round(equilibrium_moisture(21.1, 0.50), 3)
    0.092
    """
    if not LOWEST_C <= temperature_c <= PRINTED_C[1]:
        raise OutOfRange("Temperature", temperature_c, LOWEST_C, PRINTED_C[1], "°C", SOURCE)
    if not 0.0 <= humidity <= 1.0:
        raise OutOfRange("Relative humidity", humidity * 100, 0.0, 100.0, "%", SOURCE)
    return float(_two_hydrates(temperature_c, humidity))


def equilibrium_moistures(temperature_c: float, humidities: NDArray[np.float64]) -> NDArray[np.float64]:
    """The same for many humidities at one temperature, any shape. Raises OutOfRange for the temperature."""
    if not LOWEST_C <= temperature_c <= PRINTED_C[1]:
        raise OutOfRange("Temperature", temperature_c, LOWEST_C, PRINTED_C[1], "°C", SOURCE)
    return np.asarray(_two_hydrates(temperature_c, humidities))


def _two_hydrates(t: float, h: Any) -> Any:
    """Eq 4-5 in its own letters: water of solution and two hydrates, as a share; h: a number or an array."""
    w = 349.0 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    hydrates = k1 * kh + k1 * k2 * kh**2
    return 18.0 / w * (kh / (1.0 - kh) + (hydrates + k1 * k2 * kh**2) / (1.0 + hydrates))


def humidity_for(temperature_c: float, mc: float) -> float:
    """Relative humidity [-] at which wood settles at moisture `mc` [-]: the same equation, by bracketing.

    Raises OutOfRange when even saturated air would leave the wood drier than `mc`, or `mc` is below zero.
    >>> round(humidity_for(21.1, equilibrium_moisture(21.1, 0.5)), 9)
    0.5
    """
    most = equilibrium_moisture(temperature_c, 1.0)
    if not 0.0 <= mc <= most:
        raise OutOfRange("Equilibrium moisture", mc * 100, 0.0, most * 100, "%", f"{SOURCE} at {temperature_c:g} °C")
    low, high = 0.0, 1.0
    for _ in range(60):  # 2^-60 is below the spacing of floats near 1
        middle = 0.5 * (low + high)
        if _two_hydrates(temperature_c, middle) < mc:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)
