"""Temperature: degrees Celsius inside, Fahrenheit at the edges."""

from __future__ import annotations

import re
from enum import StrEnum

from waney.units.direction import Direction
from waney.units.number import NUMBER, Comma, parse_number
from waney.units.written import NoUnit, Unreadable, shown, split_sign, tidy

COLDEST_C = -273.15
HOTTEST_C = 1000.0
"""Hotter than burning wood: a slip of the pen."""

_WRITTEN = re.compile(rf"(?P<number>{NUMBER}) ?(?:°|degrees?|deg\.?)? ?(?P<unit>c|f|celsius|fahrenheit)?")


class Degree(StrEnum):
    """A scale of temperature."""

    CELSIUS = "C"
    FAHRENHEIT = "F"


def celsius(fahrenheit: float) -> float:
    """°C of °F."""
    return (fahrenheit - 32) / 1.8


def fahrenheit(celsius: float) -> float:
    """°F of °C."""
    return celsius * 1.8 + 32


def parse_temperature(text: str, degree: Degree | None = None, comma: Comma = Comma.ASK) -> float:
    """A temperature as written [°C]; `degree` is what a bare number means, None: it is refused.

    >>> parse_temperature("212 F"), parse_temperature("-5,5 °C"), parse_temperature("20", Degree.CELSIUS)
    (100.0, -5.5, 20.0)
    """
    sign, size = split_sign(tidy(text, "a temperature", "68 F or 20 °C").lower())
    match = _WRITTEN.fullmatch(size)
    if match is None:
        raise Unreadable(f"{shown(text)} is not a temperature; write for instance 68 F or 20 °C.")
    named = Degree(match["unit"][0].upper()) if match["unit"] else degree
    if named is None:
        raise NoUnit(f"{shown(text)} does not say which degrees; write {match['number']} F or {match['number']} °C.")
    number = sign * parse_number(match["number"], comma)
    value = float(number) if named is Degree.CELSIUS else float((number - 32) * 5 / 9)
    if not COLDEST_C <= value <= HOTTEST_C:
        raise Unreadable(f"{shown(text)} is colder than can be or hotter than fire; look at the number and its degrees.")
    return value


def print_temperature(temperature_c: float, degree: Degree) -> str:
    """A temperature to the nearest whole degree.

    >>> print_temperature(20.0, Degree.FAHRENHEIT), print_temperature(20.0, Degree.CELSIUS)
    ('68 °F', '20 °C')
    """
    value = temperature_c if degree is Degree.CELSIUS else fahrenheit(temperature_c)
    return f"{Direction.READ.whole(value, 1e-9)} °{degree}"


_IN_WORDS = re.compile(r"(-?\d+(?:\.\d+)?) °C\b")


def in_degrees(sentence: str, degree: Degree) -> str:
    """A sentence whose temperatures are °C, with them as they are read.

    >>> in_degrees("It gets 60 °C; it may get 43 °C.", Degree.FAHRENHEIT)
    'It gets 140 °F; it may get 109 °F.'
    """
    return _IN_WORDS.sub(lambda found: print_temperature(float(found[1]), degree), sentence)
