"""Duration: seconds inside; minutes, hours, days at the edges."""

from __future__ import annotations

from fractions import Fraction

from waney.units.number import Comma
from waney.units.quantity import Kind, Unit, parse_quantity

SECOND = Unit("s", "s", Fraction(1), ("sec", "second", "seconds"))
MINUTE = Unit("min", "min", Fraction(60), ("minute", "minutes", "mins"))
HOUR = Unit("hours", "hour", Fraction(3600), ("h", "hr", "hrs"))
DAY = Unit("days", "day", Fraction(86_400), ("d",))
WEEK = Unit("weeks", "week", Fraction(604_800))
YEAR_DAYS = 365.25
"""days of a mean year: what is paid by the year or the month goes on over leap years"""
CALENDAR_DAYS = 365
"""days of the year that climates are told for: it comes round again without a leap day"""
DURATION = Kind("a duration", "90 min or 2 hours", (SECOND, MINUTE, HOUR, DAY, WEEK), {})


def parse_duration(text: str, unit: str | None = None, comma: Comma = Comma.ASK) -> float:
    """A duration as written [s].

    >>> parse_duration("90 min"), parse_duration("1 1/2", "hours")
    (5400.0, 5400.0)
    """
    return parse_quantity(text, DURATION, unit, comma)
