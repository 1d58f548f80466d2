"""Speed of air: metres a second inside; feet a minute at the edges."""

from __future__ import annotations

from fractions import Fraction

from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity

METRE_A_SECOND = Unit("m/s", "m/s", Fraction(1), ("metres a second", "meters a second", "m a second", "mps"))
FOOT_A_MINUTE = Unit("ft/min", "ft/min", Fraction(3048, 10_000) / 60, ("feet a minute", "ft a minute", "fpm"))
SPEED = Kind("a speed", "1.5 m/s or 300 ft/min", (METRE_A_SECOND, FOOT_A_MINUTE), {})


def parse_speed(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A speed as written [m/s].

    >>> parse_speed("300 ft/min"), parse_speed("1.5 m/s")
    (1.524, 1.5)
    """
    return parse_quantity(text, SPEED, unit, comma)
