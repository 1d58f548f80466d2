"""The two moisture limits of wood, never mixed: where shrinkage is counted from, and where the cell walls are full."""

from __future__ import annotations

from waney.figures.problem import OutOfRange

SHRINKAGE_START = 0.30
"""Moisture [-] that shrinkage is counted from at any temperature: a convention of Wood Handbook Eq 4-9, no measurement."""

_AT_20_C = 0.30
_PER_DEGREE = 0.001
LEAST_SATURATION = 0.23
"""Fibre saturation at room temperature of the wood that is full soonest [-]: of a second published range, 0.23 to 0.33 (reference
notes, seen)."""


def fibre_saturation(temperature_c: float) -> float:
    """Moisture [-] at which the cell walls are full and no free water is left.

    Args: temperature_c: 0 to 130 [°C]; below 0 the value at 0 would be a guess and is refused.
    Source: 30 % on average, Wood Handbook FPL-GTR-282 ch. 4 (seen); 0.1 % less for each °C, siau-1984 (memory).
    >>> fibre_saturation(20.0), round(fibre_saturation(60.0), 3)
    (0.3, 0.26)
    """
    if not 0.0 <= temperature_c <= 130.0:
        raise OutOfRange("Temperature", temperature_c, 0.0, 130.0, "°C", "siau-1984 (memory)")
    return _AT_20_C - _PER_DEGREE * (temperature_c - 20.0)
