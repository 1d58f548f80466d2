"""Thickness: quarters of an inch by name, or an exact length."""

from __future__ import annotations

import re
from dataclasses import dataclass

from waney.units.length import INCH_NM, from_nanometres, parse_length
from waney.units.number import Comma
from waney.units.written import Unreadable, shown, tidy

_QUARTERS = re.compile(r"(?P<quarters>[0-9]{1,3})/4")
_FRACTION_ONLY = re.compile(r"[0-9]+/[0-9]+")


@dataclass(frozen=True)
class Thickness:
    """metres: the exact thickness, or what the quarters say by name [m]; quarters: 4 for 4/4, None for an exact thickness.

    A quarter thickness is a trading name: what it measures green, dry and planed is a rule of the trade, not a unit.
    """

    metres: float
    quarters: int | None = None


def parse_thickness(text: str, unit: str | None, comma: Comma = Comma.ASK) -> Thickness:
    """What stands in a thickness field. `4/4` and up in quarters is a name; with an inch mark, or below 4/4, a length.

    Raises as `parse_length` does, and Unreadable for a bare fraction in a metric sheet or a thickness of nothing.
    >>> parse_thickness("8/4", None).quarters, parse_thickness('5/4"', None), parse_thickness("3/4", "in")
    (8, Thickness(metres=0.03175, quarters=None), Thickness(metres=0.01905, quarters=None))
    """
    plain = tidy(text, "a thickness", "8/4, 2 1/8 in or 54 mm")
    named = _QUARTERS.fullmatch(plain)
    if named and int(named["quarters"]) >= 4:
        quarters = int(named["quarters"])
        return Thickness(from_nanometres(quarters * INCH_NM // 4), quarters)
    if unit in ("mm", "cm", "m") and _FRACTION_ONLY.fullmatch(plain):
        raise Unreadable(f"{shown(text)} in a sheet in {unit}: write {plain} in, or the thickness in {unit} with decimals.")
    metres = parse_length(text, unit, comma)
    if metres == 0:
        raise Unreadable(f"{shown(text)} is no thickness; write more than zero.")
    return Thickness(metres)
