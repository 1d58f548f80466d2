"""Length: read what people write, print it in feet, inches or millimetres, count it in nanometres."""

from __future__ import annotations

import re
from enum import Enum, StrEnum
from fractions import Fraction

from waney.units.direction import Direction
from waney.units.number import NUMBER, Comma, parse_number
from waney.units.written import NoUnit, Unreadable, shown, split_sign, tidy

INCH_NM = 25_400_000
"""exact [nm]; the international yard and pound agreement of 1959 sets 1 in = 25.4 mm"""
FOOT_NM = 12 * INCH_NM
MM_NM = 1_000_000
DUST_NM = 1e-3
"""Floats of a few metres carry some 1e-6 nm of rounding; a thousandth of a nanometre is no wood."""
MOST_M = 1000.0
"""Longer than any tree: such a length is a slip of the pen."""
EXAMPLE = "8' 6 1/2\", 13 7/16 in, 54 mm or 2.60 m"


class LengthUnit(StrEnum):
    """A unit of length that a sheet may name in its `units` line."""

    INCH = "in"
    FOOT = "ft"
    MM = "mm"
    CM = "cm"
    METRE = "m"


_METRES = {
    LengthUnit.INCH: Fraction(254, 10_000),
    LengthUnit.FOOT: Fraction(3048, 10_000),
    LengthUnit.MM: Fraction(1, 1000),
    LengthUnit.CM: Fraction(1, 100),
    LengthUnit.METRE: Fraction(1),
}
_SPELLINGS = {
    LengthUnit.INCH: ('"', "in", "in.", "inch", "inches"),
    LengthUnit.FOOT: ("'", "ft", "ft.", "foot", "feet"),
    LengthUnit.MM: ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    LengthUnit.CM: ("cm", "centimetre", "centimetres", "centimeter", "centimeters"),
    LengthUnit.METRE: ("m", "metre", "metres", "meter", "meters"),
}
_UNIT_OF = {spelling: unit for unit, spellings in _SPELLINGS.items() for spelling in spellings}


def _any_of(unit: LengthUnit) -> str:
    return "(?:" + "|".join(re.escape(s) for s in sorted(_SPELLINGS[unit], key=len, reverse=True)) + ")"


_FEET_AND_INCHES = re.compile(
    rf"(?P<feet>{NUMBER}) ?{_any_of(LengthUnit.FOOT)} ?(?:, |- ?)?(?P<inches>{NUMBER}) ?{_any_of(LengthUnit.INCH)}?"
)
_ONE_UNIT = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>[a-z]+\.?|'+|\"+)?")


class Grain(Enum):
    """The finest step that is printed; the value is its size [nm]."""

    EIGHTH_INCH = INCH_NM // 8
    SIXTEENTH_INCH = INCH_NM // 16
    THIRTY_SECOND_INCH = INCH_NM // 32
    SIXTY_FOURTH_INCH = INCH_NM // 64
    MM = MM_NM
    HALF_MM = MM_NM // 2

    @property
    def metric(self) -> bool:
        """Printed in millimetres, else in feet and inches."""
        return self in (Grain.MM, Grain.HALF_MM)

    @property
    def metres(self) -> float:
        """Its size [m]."""
        return from_nanometres(self.value)


def parse_length_unit(text: str) -> LengthUnit:
    """The unit that a sheet's `units` line names: in, ft, mm, cm or m, or a longer spelling of them."""
    plain = tidy(text, "a unit of length", "in or mm").lower()
    if plain not in _UNIT_OF:
        raise Unreadable(f"{shown(text)} is not a unit of length; write in, ft, mm, cm or m.")
    return _UNIT_OF[plain]


def parse_length(text: str, unit: str | None, comma: Comma = Comma.ASK, *, signed: bool = False) -> float:
    """A length as written, in metres, exact to the last bit.

    Args:
        text: `8' 6 1/2"`, `8 ft 6.5 in`, `102 1/2`, `2-1/8`, `54 mm`, `3,05 m`, ...
        unit: what a bare number counts (the sheet's `units` line); None: a bare number is refused
        comma: the shop's setting
        signed: whether a length below zero has a meaning here
    Raises NoUnit, TwoReadings, Unreadable; each says what to write instead.

    >>> round(parse_length("8' 6 1/2\\"", None), 6), parse_length("3.05 m", None), parse_length("102 1/2", "in")
    (2.6035, 3.05, 2.6035)
    """
    plain = tidy(text, "a length", EXAMPLE).lower()
    sign, size = split_sign(plain)
    if sign < 0 and not signed:
        raise Unreadable(f"{shown(text)} is below zero; a length here is zero or more.")
    metres = sign * _exact_metres(text, size, unit, comma)
    if abs(metres) > MOST_M:
        raise Unreadable(f"{shown(text)} is over {MOST_M:g} m, longer than any tree; look at the number and its unit.")
    return float(metres)


def _exact_metres(text: str, size: str, unit: str | None, comma: Comma) -> Fraction:
    both = _FEET_AND_INCHES.fullmatch(size)
    if both:
        return _feet_and_inches(text, parse_number(both["feet"], comma), parse_number(both["inches"], comma))
    one = _ONE_UNIT.fullmatch(size)
    if one is None:
        raise Unreadable(f"{shown(text)} is not a length; write for instance {EXAMPLE}.")
    return parse_number(one["number"], comma) * _METRES[_unit_named(text, one["number"], one["unit"], unit)]


def _feet_and_inches(text: str, feet: Fraction, inches: Fraction) -> Fraction:
    if feet.denominator != 1 or inches >= 12:
        raise Unreadable(
            f"{shown(text)}: feet before inches are whole, and the inches are under 12; write for instance 8' 6 1/2\"."
        )
    return feet * _METRES[LengthUnit.FOOT] + inches * _METRES[LengthUnit.INCH]


def _unit_named(text: str, number: str, written: str | None, sheet: str | None) -> LengthUnit:
    if written in ("''", "'''"):
        raise Unreadable(f"{shown(text)} can be feet or inches; write {number} in or {number} ft.")
    if written is not None and written not in _UNIT_OF:
        raise Unreadable(f"{shown(text)}: {shown(written)} is not a unit of length; write in, ft, mm, cm or m.")
    if written is not None:
        return _UNIT_OF[written]
    if sheet is None:
        raise NoUnit(f"{shown(text)} has no unit; write {number} in or {number} mm, or give the sheet its `units` line.")
    return parse_length_unit(sheet)


def length_of(value: float, unit: str) -> float:
    """A bare number that is already a number, in metres: `length_of(2.5, "in")`. Any sign; 0.1 counts as 1/10."""
    if not abs(value) < MOST_M * 1e6:
        raise Unreadable(f"{value} is not a length; write for instance {EXAMPLE}.")
    return float(Fraction(repr(value)) * _METRES[parse_length_unit(unit)])


def to_nanometres(metres: float, direction: Direction) -> int:
    """A length in whole nanometres: stock rounds down (HAVE), a need up (NEED), once, on the way in."""
    return direction.whole(metres * 1e9, DUST_NM)


def from_nanometres(nanometres: int) -> float:
    """Metres, the nearest float."""
    return nanometres / 1_000_000_000


def print_length(metres: float, grain: Grain, direction: Direction, *, feet_from_m: float = 48 * 0.0254) -> str:
    """A length as the shop writes it: `8' 6 1/2"` from feet_from_m on, `13 7/16 in` below, or `54 mm`.

    The text reads back as the very length it stands for. Pass inf to keep to inches (bed scales).
    >>> print_length(0.342, Grain.SIXTEENTH_INCH, Direction.HAVE), print_length(2.6035, Grain.EIGHTH_INCH, Direction.READ)
    ('13 7/16 in', '8\\' 6 1/2"')
    >>> print_length(0.0543, Grain.HALF_MM, Direction.NEED), print_length(0.0543, Grain.MM, Direction.HAVE)
    ('54.5 mm', '54 mm')
    """
    steps = direction.whole(metres * 1e9 / grain.value, DUST_NM / grain.value)
    sign, nanometres = ("-" if steps < 0 else ""), abs(steps) * grain.value
    if grain.metric:
        whole, rest = divmod(nanometres, MM_NM)
        return f"{sign}{whole}{'.5' if rest else ''} mm"
    if from_nanometres(nanometres) < feet_from_m:
        return f"{sign}{_inches(nanometres)} in"
    feet, rest = divmod(nanometres, FOOT_NM)
    return f"{sign}{feet}' {_inches(rest)}\""


def _inches(nanometres: int) -> str:
    whole, rest = divmod(nanometres, INCH_NM)
    if not rest:
        return str(whole)
    part = Fraction(rest, INCH_NM)
    return f"{whole} {part}" if whole else str(part)
