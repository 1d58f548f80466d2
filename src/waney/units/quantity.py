"""Quantity: a number with a unit that is named in full, read and printed; volume and mass are made of it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import floor, log10

from waney.units.direction import Direction
from waney.units.number import NUMBER, Comma, parse_number
from waney.units.written import NoUnit, TwoReadings, Unreadable, shown, tidy

DIGITS = 4
"""Figures printed at least: the last one is at most 0.1 % of the whole, so two views of one figure agree to 0.5 %."""
FINEST = 6
"""Decimals printed at most."""
MOST = 10**12
"""Larger numbers are slips of the pen."""

_WRITTEN = re.compile(rf"(?P<number>{NUMBER}) ?(?P<unit>[a-z][a-z0-9³. /]*)?")


@dataclass(frozen=True)
class Unit:
    """A unit: its printed name, the name of one, how much of the SI unit one is (exact), and other spellings."""

    name: str
    one: str
    si: Fraction
    spellings: tuple[str, ...] = ()

    def of(self, si: float) -> float:
        """So many of this unit are so much in SI."""
        return si / float(self.si)

    def in_si(self, count: float) -> float:
        """So much in SI are so many of this unit."""
        return count * float(self.si)

    def called(self, written: str) -> bool:
        """Whether the (tidy, lower-case) text names this unit."""
        return written.lower() in {name.lower() for name in (self.name, self.one, *self.spellings)}


@dataclass(frozen=True)
class Kind:
    """What is read: its name with article, an example, its units, and words that mean two things with the better words."""

    what: str
    example: str
    units: tuple[Unit, ...]
    unclear: Mapping[str, str]

    def unit(self, written: str) -> Unit:
        """The unit so written; raises TwoReadings for a word with two senses, Unreadable for no unit of this kind."""
        word = written.strip().rstrip(".").strip()
        if word.lower() in self.unclear:
            raise TwoReadings(f"{shown(written)} has more than one meaning; write {self.unclear[word.lower()]}.")
        for unit in self.units:
            if unit.called(word):
                return unit
        names = ", ".join(unit.name for unit in self.units)
        raise Unreadable(f"{shown(written)} is not a unit of {self.what}; write one of: {names}.")


def parse_quantity(text: str, kind: Kind, unit: str | None, comma: Comma = Comma.ASK) -> float:
    """The quantity in SI. `unit` is what a bare number counts; None: a bare number is refused.

    Raises NoUnit, TwoReadings, Unreadable.
    """
    plain = tidy(text, kind.what, kind.example).lower()
    match = _WRITTEN.fullmatch(plain)
    if match is None:
        raise Unreadable(f"{shown(text)} is not {kind.what}; write for instance {kind.example}.")
    named = match["unit"] or unit
    if named is None:
        raise NoUnit(f"{shown(text)} has no unit; write for instance {kind.example}.")
    number = parse_number(match["number"], comma)
    if number > MOST:
        raise Unreadable(f"{shown(text)} is too much for {kind.what}; look at the number and its unit.")
    return float(number * kind.unit(named).si)


def print_quantity(si: float, unit: Unit, direction: Direction) -> str:
    """The quantity with its unit, to four figures or whole numbers if it has more.

    >>> print_quantity(1.0, Unit("kg", "kg", Fraction(1)), Direction.READ)
    '1 kg'
    """
    count = unit.of(si)
    number = print_number(count, direction)
    return f"{number} {unit.one if number == '1' else unit.name}"


def print_number(count: float, direction: Direction) -> str:
    """A number to four figures, rounded in its direction, without empty decimals."""
    direction.whole(count, 0.0)  # refuses what is not finite
    size = floor(log10(abs(count))) if count else 0
    decimals = min(max(DIGITS - 1 - size, 0), FINEST)
    steps = direction.whole(count * 10**decimals, abs(count * 10**decimals) * 1e-12)
    if decimals == 0:
        return str(steps)
    text = f"{abs(steps) // 10**decimals}.{abs(steps) % 10**decimals:0{decimals}d}".rstrip("0").rstrip(".")
    return f"-{text}" if steps < 0 else text
