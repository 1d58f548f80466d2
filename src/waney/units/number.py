"""Number: decimals, fractions and mixed numbers as people write them, kept exact."""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction

from waney.units.written import TwoReadings, Unreadable, shown

NUMBER = r"(?:[0-9]+[ -][0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9.,]*[0-9])"
"""What may be a number inside a longer text; `parse_number` decides."""

_FRACTION = re.compile(r"(?:(?P<whole>[0-9]+)[ -])?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_POINT = re.compile(r"[0-9]*\.?[0-9]+")
_DECIMAL_COMMA = re.compile(r"[0-9]*,[0-9]+|[0-9]{1,3}(\.[0-9]{3})+,[0-9]+")
_THOUSANDS_COMMA = re.compile(r"[0-9]+,[0-9]{3}|[0-9]{1,3}(,[0-9]{3})+(\.[0-9]+)?")
_POINT_LIKE_THOUSANDS = re.compile(r"[1-9][0-9]{0,2}\.[0-9]{3}")


class Comma(StrEnum):
    """What a comma in a number means: the shop's setting."""

    ASK = "ask"
    """no setting: a comma before exactly three digits is refused"""
    DECIMAL = "decimal comma"
    THOUSANDS = "thousands comma"


def parse_number(text: str, comma: Comma = Comma.ASK) -> Fraction:
    """A number from zero up, exact: `8.5`, `8,5`, `3/4`, `102 1/2`, `2-1/8`. Text must be tidy; no sign, no exponent.

    Raises Unreadable, and TwoReadings where a comma (or in a decimal-comma shop a point) may part thousands.
    >>> parse_number("102 1/2"), parse_number("2-1/8"), parse_number("3,05")
    (Fraction(205, 2), Fraction(17, 8), Fraction(61, 20))
    """
    fraction = _FRACTION.fullmatch(text)
    if fraction:
        return _mixed(text, fraction)
    if "," in text:
        return _with_comma(text, comma)
    if not _POINT.fullmatch(text):
        raise Unreadable(f"{shown(text)} is not a number; write for instance 8.5 or 8 1/2.")
    if comma is Comma.DECIMAL and _POINT_LIKE_THOUSANDS.fullmatch(text):
        raise _two_readings(text, text.replace(".", ","), text.replace(".", ""))
    return Fraction(text)


def _mixed(text: str, match: re.Match[str]) -> Fraction:
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise Unreadable(f"{shown(text)} divides by zero; write a fraction such as 1/2.")
    if match["whole"] and top >= bottom:
        raise Unreadable(f"{shown(text)} is not a mixed number: after a whole number the fraction is less than one.")
    return int(match["whole"] or 0) + Fraction(top, bottom)


def _with_comma(text: str, comma: Comma) -> Fraction:
    decimal = text.replace(".", "").replace(",", ".") if _DECIMAL_COMMA.fullmatch(text) else None
    thousands = text.replace(",", "") if _THOUSANDS_COMMA.fullmatch(text) else None
    if comma is Comma.ASK and decimal and thousands:
        raise _two_readings(text, decimal, thousands)
    reading = {Comma.DECIMAL: decimal, Comma.THOUSANDS: thousands, Comma.ASK: decimal or thousands}[comma]
    if reading is None:
        setting = "" if comma is Comma.ASK else f" with a {comma} (the shop's setting)"
        raise Unreadable(f"{shown(text)} is not a number{setting}; write for instance 8.5.")
    return Fraction(reading)


def _two_readings(text: str, decimal: str, thousands: str) -> TwoReadings:
    return TwoReadings(
        f"{shown(text)} can be {decimal} or {int(thousands)}; write {decimal} or {int(thousands)}, "
        "or set what a comma means in this shop."
    )
