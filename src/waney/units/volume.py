"""Volume: board feet, cubic feet, m3, US gallons, litres."""

from __future__ import annotations

from fractions import Fraction

from waney.units.direction import Direction
from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity, print_quantity

_INCH = Fraction(254, 10_000)

BOARD_FOOT = Unit("board feet", "board foot", 144 * _INCH**3, ("bd ft", "bd. ft", "bf", "bdft", "board ft"))
"""12 x 12 x 1 in of wood as it is; that thinner boards count as 1 in is a rule of the trade (`prices`), not of the unit"""
CUBIC_FOOT = Unit("cubic feet", "cubic foot", 1728 * _INCH**3, ("cu ft", "cu. ft", "ft3", "ft³", "cubic ft"))
CUBIC_METRE = Unit("m3", "m3", Fraction(1), ("m³", "cubic metre", "cubic metres", "cubic meter", "cubic meters"))
US_GALLON = Unit("US gallons", "US gallon", 231 * _INCH**3, ("US gal",))
"""231 cubic inches"""
LITRE = Unit("litres", "litre", Fraction(1, 1000), ("l", "liter", "liters"))

_GALLONS = "US gallons (3.785 litres), or litres"
VOLUME = Kind(
    "a volume",
    "120 board feet, 10 cubic feet or 0.3 m3",
    (BOARD_FOOT, CUBIC_FOOT, CUBIC_METRE, US_GALLON, LITRE),
    {
        "gallon": _GALLONS,
        "gallons": _GALLONS,
        "gal": _GALLONS,
        "ft": "board feet or cubic feet",
        "feet": "board feet or cubic feet",
        "m": "m3; for a thousand board feet write the number of board feet",
    },
)


def parse_volume(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A volume as written [m3].

    >>> round(parse_volume("1000 board feet"), 4)
    2.3597
    """
    return parse_quantity(text, VOLUME, unit, comma)


def print_volume(volume_m3: float, unit: Unit, direction: Direction) -> str:
    """A volume [m3] in one of the units of this module, to four figures.

    >>> print_volume(0.5, CUBIC_FOOT, Direction.HAVE)
    '17.65 cubic feet'
    """
    return print_quantity(volume_m3, unit, direction)
