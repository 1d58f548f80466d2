"""Readers: what may stand behind a key of a sheet. Each turns a TOML value into a value, or raises NotThat with a sentence."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, datetime
from math import isfinite

from waney.figures.problem import Problem
from waney.units import written
from waney.units.sheet import Reader, T, nearest

_TO = re.compile(r"\s+to\s+")
_UNIT = re.compile(r"[^\d.,\s].*$")


class NotThat(Problem):
    """What stands there is not of the kind that is asked for."""


def shown(value: object) -> str:
    """What was written, short enough for a sentence."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return written.shown(value)
    try:
        words = str(value)
    except ValueError:  # Python prints no whole number of more than some thousand digits
        return "A number of thousands of digits"
    return words if len(words) <= 60 else f"{words[:57]}..."


def number(least: float = float("-inf"), most: float = float("inf")) -> Reader[float]:
    """A plain number within limits, no unit."""

    def read(value: object) -> float:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise NotThat(f"{shown(value)} is not a plain number; write one without quotes and without a unit, as in 2.5.")
        # an int beyond the largest float is compared as an int, so that it never has to become a float
        if not least <= value <= most or abs(value) > 1e300 or not isfinite(value):
            raise NotThat(f"{shown(value)} cannot be; it must be {_limits(least, most)}.")
        return float(value)

    return read


def whole(least: int, most: int) -> Reader[int]:
    """A whole number within limits."""

    def read(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            raise NotThat(f"{shown(value)} is not a whole number; write one without quotes, as in 2.")
        if not least <= value <= most:
            raise NotThat(f"{shown(value)} cannot be; it must be {_limits(least, most)}.")
        return value

    return read


def _limits(least: float, most: float) -> str:
    if least == float("-inf"):
        return f"{most:g} or less" if isfinite(most) else "an ordinary number"
    return f"{least:g} to {most:g}" if isfinite(most) else f"{least:g} or more"


def yes_no(value: object) -> bool:
    """true or false; "yes" and "no" will do."""
    words = {True: True, False: False, "yes": True, "no": False}
    if not isinstance(value, bool | str) or value not in words:
        raise NotThat(f"{shown(value)} is neither yes nor no; write true or false.")
    return words[value]


def text(value: object) -> str:
    """Words in quotes, spaces at both ends taken off."""
    if not isinstance(value, str):
        raise NotThat(f"{shown(value)} is not text; put it in quotes.")
    return value.strip()


def day(value: object) -> date:
    """A date as year-month-day, with or without quotes."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    try:
        return date.fromisoformat(value if isinstance(value, str) and len(value) == 10 else "")
    except ValueError:
        raise NotThat(f"{shown(value)} is not a date; write year-month-day, as in 2024-03-31.") from None


def choice(meanings: Mapping[str, T]) -> Reader[T]:
    """One of a few words, capitals and spaces around them forgiven."""

    def read(value: object) -> T:
        word = text(value).lower()
        if word not in meanings:
            raise NotThat(f"{shown(value)} is none of the words known here{nearest(word, meanings)}")
        return meanings[word]

    return read


def anything(value: object) -> object:
    """Whatever stands there, as TOML has it."""
    return value


def list_of(item: Reader[T]) -> Reader[tuple[T, ...]]:
    """A list in square brackets; one value alone counts as a list of one."""

    def read(value: object) -> tuple[T, ...]:
        values = value if isinstance(value, list) else [value]
        return tuple(item(each) for each in values)

    return read


def low_to_high(read: Reader[float]) -> Reader[tuple[float, float]]:
    """A range in quotes, "2 to 4", its low and its high end; one figure is both. "5 to 15 %" means 5 % to 15 %."""

    def both(value: object) -> tuple[float, float]:
        ends = _TO.split(value.strip(), maxsplit=1) if isinstance(value, str) else [value]
        if len(ends) == 1:
            return read(value), read(value)
        low, high = read(_with_unit(str(ends[0]), str(ends[1]))), read(ends[1])
        if low > high:
            raise NotThat(f"{shown(value)} falls; write the lower figure first.")
        return low, high

    return both


def _with_unit(low: str, high: str) -> str:
    unit = _UNIT.search(high)
    return low if unit is None or _UNIT.search(low) else f"{low} {unit[0]}"
