"""Area: square feet, m2."""

from __future__ import annotations

from fractions import Fraction

from waney.units.direction import Direction
from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity, print_quantity

SQUARE_FOOT = Unit("square feet", "square foot", Fraction(3048, 10_000) ** 2, ("sq ft", "sq. ft", "ft2", "square ft"))
SQUARE_METRE = Unit("m2", "m2", Fraction(1), ("sq m", "square metre", "square metres", "square meter", "square meters"))

AREA = Kind("an area", "400 square feet or 40 m2", (SQUARE_FOOT, SQUARE_METRE), {})


def parse_area(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """An area as written [m2].

    >>> parse_area("100 square feet")
    9.290304
    """
    return parse_quantity(text, AREA, unit, comma)


def print_area(area_m2: float, unit: Unit, direction: Direction) -> str:
    """An area [m2] in one of the units of this module, to four figures.

    >>> print_area(9.290304, SQUARE_FOOT, Direction.HAVE)
    '100 square feet'
    """
    return print_quantity(area_m2, unit, direction)
