"""Water vapour and moist air: saturation, boiling under vacuum, wet and dry bulb, humidity ratio, dew point."""

from __future__ import annotations

from math import sqrt

from waney.figures.problem import OutOfRange, Problem
from waney.units.share import print_share

STANDARD_PRESSURE = 101_325.0
"""Standard atmosphere [Pa]."""
RANGE_C = (-40.0, 200.0)
"""Temperatures of the saturation line used here [°C]; below 0 over supercooled water, as weather stations report humidity."""
_SOURCE = "IAPWS-IF97 region 4"
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
"""Coefficients n1 to n10 of IAPWS-IF97 Eq 29 to 31 (memory; the tests hold them against CoolProp)."""
ZERO_C = 273.15


class BadBulbs(Problem):
    """A pair of wet and dry bulb readings that no air can give."""


def saturation_pressure(temperature_c: float) -> float:
    """Vapour pressure over liquid water [Pa].

    Args: temperature_c: -40 to 200 [°C]. Below 0 the line is continued over supercooled water (within 0.3 % of Murphy and
        Koop 2005 down to -40 °C). Source: iapws-if97, Eq 30. Raises OutOfRange.
    >>> round(saturation_pressure(25.0))
    3170
    """
    if not RANGE_C[0] <= temperature_c <= RANGE_C[1]:
        raise OutOfRange("Temperature", temperature_c, *RANGE_C, "°C", _SOURCE)
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _N
    t = temperature_c + ZERO_C
    theta = t + n9 / (t - n10)
    a = theta**2 + n1 * theta + n2
    b = n3 * theta**2 + n4 * theta + n5
    c = n6 * theta**2 + n7 * theta + n8
    return float(1e6 * (2.0 * c / (-b + sqrt(b**2 - 4.0 * a * c))) ** 4)


def vapour_pressure(temperature_c: float, humidity: float) -> float:
    """Pressure of the water vapour in air [Pa]."""
    if not 0.0 <= humidity <= 1.0:
        raise OutOfRange("Relative humidity", humidity * 100, 0.0, 100.0, "%", "Moist air")
    return humidity * saturation_pressure(temperature_c)


RATIO_OF_MASSES = 0.621945
"""Molar mass of water over that of dry air [-]: ASHRAE Fundamentals ch. 1 (memory)."""


def humidity_ratio_of(vapour_pa: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Water vapour per dry air [kg/kg], ideal gases; 0.6 % below real air at 50 °C."""
    if not 0.0 <= vapour_pa < pressure_pa:
        raise OutOfRange("Vapour pressure", vapour_pa, 0.0, pressure_pa, "Pa", "Air at this total pressure")
    return RATIO_OF_MASSES * vapour_pa / (pressure_pa - vapour_pa)


def humidity_ratio(temperature_c: float, humidity: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Water vapour per dry air [kg/kg] at a temperature and relative humidity."""
    return humidity_ratio_of(vapour_pressure(temperature_c, humidity), pressure_pa)


def vapour_pressure_of(ratio: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Vapour pressure [Pa] of air that holds `ratio` kg of water per kg of dry air."""
    return pressure_pa * ratio / (RATIO_OF_MASSES + ratio)


def humidity_of_bulbs(dry_c: float, wet_c: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Relative humidity [-] from a dry and a well-ventilated wet bulb.

    Args: both 0 to 100 [°C] with wet <= dry; pressure_pa: total pressure [Pa].
    Source: the energy balance of adiabatic saturation, ashrae-fundamentals ch. 1 Eq 33 (memory). A wick that is not
        well ventilated reads too high. Raises OutOfRange, or BadBulbs for readings that would need less than dry air.
    """
    for what, bulb in (("Dry bulb", dry_c), ("Wet bulb", wet_c)):
        if not 0.0 <= bulb <= 100.0:
            raise OutOfRange(what, bulb, 0.0, 100.0, "°C", "The psychrometer equation")
    if wet_c > dry_c:
        raise BadBulbs(f"Wet bulb {wet_c:g} °C is above dry bulb {dry_c:g} °C: swap the readings, or wet the wick.")
    saturated = humidity_ratio_of(saturation_pressure(wet_c), pressure_pa)
    ratio = ((2501.0 - 2.326 * wet_c) * saturated - 1.006 * (dry_c - wet_c)) / (2501.0 + 1.86 * dry_c - 4.186 * wet_c)
    if ratio < 0.0:
        raise BadBulbs(f"Wet bulb {wet_c:g} °C is too low for dry bulb {dry_c:g} °C; even dry air keeps it warmer: read again.")
    return vapour_pressure_of(ratio, pressure_pa) / saturation_pressure(dry_c)


def wet_bulb(dry_c: float, humidity: float, pressure_pa: float = STANDARD_PRESSURE) -> float:
    """Reading of a well-ventilated wet bulb [°C], 0 or more: the inverse of `humidity_of_bulbs`, by bracketing."""
    if not 0.0 <= humidity <= 1.0:
        raise OutOfRange("Relative humidity", humidity * 100, 0.0, 100.0, "%", "Moist air")
    if _wetter(dry_c, 0.0, humidity, pressure_pa):
        raise BadBulbs(
            f"At {dry_c:g} °C and {print_share(humidity)} the wet bulb is below freezing: such air needs another instrument."
        )
    low, high = 0.0, dry_c
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if _wetter(dry_c, middle, humidity, pressure_pa) else (middle, high)
    return 0.5 * (low + high)


def _wetter(dry_c: float, wet_c: float, humidity: float, pressure_pa: float) -> bool:
    """Whether a wet bulb of `wet_c` means air wetter than `humidity`."""
    try:
        return humidity_of_bulbs(dry_c, wet_c, pressure_pa) > humidity
    except BadBulbs:
        return False
