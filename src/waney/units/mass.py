"""Mass: lb, kg, g, short tons, tonnes. (The shop says weight.)"""

from __future__ import annotations

from fractions import Fraction

from waney.units.direction import Direction
from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity, print_quantity

_POUND = Fraction(45_359_237, 100_000_000)
"""exact [kg]; the international yard and pound agreement of 1959"""

POUND = Unit("lb", "lb", _POUND, ("lbs", "pound", "pounds"))
KILOGRAM = Unit("kg", "kg", Fraction(1), ("kilogram", "kilograms", "kilo", "kilos"))
GRAM = Unit("g", "g", Fraction(1, 1000), ("gram", "grams"))
SHORT_TON = Unit("short tons", "short ton", 2000 * _POUND)
"""2000 lb"""
TONNE = Unit("tonnes", "tonne", Fraction(1000), ("t", "metric ton", "metric tons"))

_TONS = "short tons (2000 lb) or tonnes (1000 kg)"
MASS = Kind(
    "a weight",
    "350 lb, 160 kg, 1.2 short tons or 1.1 tonnes",
    (POUND, KILOGRAM, GRAM, SHORT_TON, TONNE),
    {"ton": _TONS, "tons": _TONS},
)


def parse_mass(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A weight as written [kg].

    >>> parse_mass("2 short tons")
    1814.36948
    """
    return parse_quantity(text, MASS, unit, comma)


def print_mass(mass_kg: float, unit: Unit, direction: Direction) -> str:
    """A weight [kg] in one of the units of this module, to four figures.

    >>> print_mass(100.0, POUND, Direction.NEED)
    '220.5 lb'
    """
    return print_quantity(mass_kg, unit, direction)
