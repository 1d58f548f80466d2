"""Moisture content: a fraction of oven-dry mass inside, per cent on screens and sheets."""

from __future__ import annotations

import re

from waney.units.direction import Direction
from waney.units.number import NUMBER, Comma, parse_number
from waney.units.quantity import print_number
from waney.units.written import TwoReadings, Unreadable, shown, tidy

MOST_PCT = 1000
"""No wood holds ten times its own dry mass of water: a slip of the pen."""

_WRITTEN = re.compile(rf"(?P<number>{NUMBER}) ?(?P<per_cent>%|pct|percent|per cent)?(?: mc)?")


def mc_pct(mc: float) -> float:
    """Per cent of oven-dry mass, from the fraction."""
    return mc * 100


def parse_mc(text: str, comma: Comma = Comma.ASK) -> float:
    """Moisture content as written, per cent with or without its sign, as a fraction. A bare number under 1 is refused.

    >>> parse_mc("12 %"), parse_mc("8.5")
    (0.12, 0.085)
    """
    match = _WRITTEN.fullmatch(tidy(text, "a moisture content", "12 %").lower())
    if match is None:
        raise Unreadable(f"{shown(text)} is not a moisture content; write per cent of oven-dry weight, for instance 12 %.")
    number = parse_number(match["number"], comma)
    if 0 < number < 1 and not match["per_cent"]:
        of_one, of_hundred = float(number), float(number * 100)
        raise TwoReadings(f"{shown(text)} can be {of_hundred:g} % or {of_one:g} %; write it with the % sign.")
    if number > MOST_PCT:
        raise Unreadable(f"{shown(text)} is more water than wood can hold; write per cent of oven-dry weight, for instance 12 %.")
    return float(number / 100)


def print_mc(mc: float, direction: Direction = Direction.READ) -> str:
    """Moisture content (fraction) in per cent, to a tenth.

    >>> print_mc(0.1234)
    '12.3 %'
    """
    tenths = direction.whole(mc * 1000, 1e-9)
    return f"{print_number(tenths / 10, Direction.READ)} %"
