"""Way: how far it is to drive, in miles or kilometres."""

from __future__ import annotations

from fractions import Fraction

from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity

MILE = Unit("mi", "mi", Fraction(1_609_344, 1000), ("mile", "miles"))
"""exact [m]; the international yard and pound agreement of 1959"""
KILOMETRE = Unit("km", "km", Fraction(1000), ("kilometre", "kilometres", "kilometer", "kilometers"))
WAY = Kind("a way", "38 mi or 60 km", (MILE, KILOMETRE), {})


def way_of(imperial: bool) -> Unit:
    """What a bare way is counted in."""
    return MILE if imperial else KILOMETRE


def parse_way(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A way as written [m].

    >>> parse_way("60 km"), parse_way("2", "mi")
    (60000.0, 3218.688)
    """
    return parse_quantity(text, WAY, unit, comma)
