"""Pressure and stiffness: pascals inside; millibars, inches of mercury and their like, GPa or million psi at the edges."""

from __future__ import annotations

from fractions import Fraction

from waney.units.force import POUND_FORCE
from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity

GIGAPASCAL = Unit("GPa", "GPa", Fraction(10**9))
MILLION_PSI = Unit("million psi", "million psi", 10**6 * POUND_FORCE.si / Fraction(254, 10_000) ** 2)
"""psi: pound-force on a square inch"""

MILLIBAR = Unit("mbar", "mbar", Fraction(100), ("hpa", "millibar", "millibars"))
KILOPASCAL = Unit("kPa", "kPa", Fraction(1000), ("kilopascal", "kilopascals"))
TORR = Unit("torr", "torr", Fraction(101_325, 760), ("mmhg", "mm hg"))
"""a 760th of an atmosphere of 101 325 Pa (by definition)"""
INCH_OF_MERCURY = Unit("inHg", "inHg", Fraction(254, 10) * Fraction(101_325, 760), ("in hg", "inches of mercury"))
PRESSURE = Kind("a pressure", "70 mbar, 50 torr, 2 inHg or 7 kPa", (MILLIBAR, KILOPASCAL, TORR, INCH_OF_MERCURY), {})


def parse_pressure(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A pressure as written [Pa], counted from nothing, not from the air outside.

    >>> parse_pressure("70 mbar"), round(parse_pressure("50 torr"))
    (7000.0, 6666)
    """
    return parse_quantity(text, PRESSURE, unit, comma)
