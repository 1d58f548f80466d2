"""What every act can tell of itself, and the checks that acts share."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from math import isfinite

from waney.yard.names import CODE, Name, read_name
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id

LONGEST_TEXT = 200_000
"""characters; a log sheet with thousands of traced points is far below"""
LONGEST_LINE = 200
UNKEPT = re.compile("[\0\ud800-\udfff]")
"""no database keeps these"""
SHA256 = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True)
class Recorded:
    """An act. Its streams follow from its fields alone, so that reading the book again numbers them alike."""

    def streams(self) -> tuple[Stream, ...]:
        """The stream it stands in, then those it counts in."""
        raise NotImplementedError

    def makes(self) -> Stream | None:
        """The thing that begins with it."""
        return None

    def needs(self) -> tuple[str, ...]:
        """What must be in the book before it can be applied."""
        made = self.makes()
        return tuple([each for each in self.streams() if each != made])

    def files(self) -> tuple[str, ...]:
        """Files it names, by their SHA-256."""
        return ()


@dataclass(frozen=True)
class Fact(Recorded):
    """Happened in the yard; never refused for being late."""


@dataclass(frozen=True)
class Decision(Recorded):
    """Made on what was read; refused when that has changed."""


def ids(**given: str) -> None:
    """Each is an id. Raises BadAct."""
    for what, text in given.items():
        checked_id(text, what)


def ids_if_any(**given: str) -> None:
    """Each is an id or empty. Raises BadAct."""
    for what, text in given.items():
        if text:
            checked_id(text, what)


def between(low: float, high: float, **given: float | None) -> None:
    """Each is not known, or lies in these bounds, which are slips of the hand and no rule of the trade. Raises BadAct."""
    for what, value in given.items():
        if value is not None and not (isfinite(value) and low <= value <= high):
            raise BadAct(f"{what} is {value:g}; it must lie between {low:g} and {high:g}.")


def bad_likely_good(cents: tuple[int, ...]) -> None:
    """Money in three figures, or none. Raises BadAct."""
    if len(cents) not in (0, 3) or list(cents) != sorted(cents):
        raise BadAct("money is three figures, bad, likely and good, in rising order; or none.")


def lines(**given: str) -> None:
    """Each is one short line. Raises BadAct."""
    for what, text in given.items():
        if len(text) > LONGEST_LINE or not text.isprintable():
            raise BadAct(f"{what} must be one line of at most {LONGEST_LINE} characters.")


def filled_lines(**given: str) -> None:
    """Each is one short line with something in it. Raises BadAct."""
    lines(**given)
    for what, text in given.items():
        if not text.strip():
            raise BadAct(f"{what} is empty; write a word.")


def texts(**given: str) -> None:
    """Each is a text of bearable length, without what no database keeps. Raises BadAct."""
    for what, text in given.items():
        if len(text) > LONGEST_TEXT or UNKEPT.search(text):
            raise BadAct(f"{what} must be text of at most {LONGEST_TEXT} characters.")


def hashes(**given: str) -> None:
    """Each is a SHA-256. Raises BadAct."""
    for what, text in given.items():
        if not SHA256.fullmatch(text):
            raise BadAct(f'{what}: "{text[:70]}" is no SHA-256 of a file.')


def name_if_any(text: str) -> Name | None:
    """The name somebody wrote, None for none. Raises BadName."""
    return read_name(text) if text else None


def code_if_any(text: str) -> None:
    """A code of a log, or empty. Raises BadAct."""
    if text and not CODE.fullmatch(text):
        raise BadAct(f'"{text[:60]}" is no code of a log.')


def day_if_any(**given: str) -> None:
    """Each is a date (2026-05-04) or empty. Raises BadAct."""
    for what, text in given.items():
        try:
            whole = not text or date.fromisoformat(text).isoformat() == text
        except ValueError:
            whole = False
        if not whole:
            raise BadAct(f'{what}: "{text[:60]}" is no date; write it as 2026-05-04.')


def moment(text: str, what: str) -> datetime:
    """A moment with its distance from UTC. Raises BadAct."""
    try:
        told = datetime.fromisoformat(text)
    except ValueError:
        raise BadAct(f'{what}: "{text[:60]}" is no moment; write it as 2026-05-04T09:12:30+02:00.') from None
    if told.tzinfo is None:
        raise BadAct(f'{what}: "{text}" does not say how far it is from UTC; add +02:00 or Z.')
    return told


def moment_if_any(**given: str) -> None:
    """Each is a moment or empty. Raises BadAct."""
    for what, text in given.items():
        if text:
            moment(text, what)


def rigid_if_any(at: tuple[float, ...]) -> None:
    """Where a piece lay in the log: nine numbers of a rotation, row by row, then the place of its origin [m]; or nothing."""
    if not at:
        return
    if len(at) != 12 or not all(isfinite(number) for number in at):
        raise BadAct("the place of a piece in its log is twelve numbers: a rotation row by row, then the place of its middle.")
    rows = (at[0:3], at[3:6], at[6:9])
    for i, one in enumerate(rows):
        for j, other in enumerate(rows):
            if abs(sum(a * b for a, b in zip(one, other, strict=True)) - (i == j)) > TURNS_WITHIN:
                raise BadAct("the place of a piece in its log does not turn it but stretches it; send a rotation.")


TURNS_WITHIN = 1e-6
"""how far a rotation may be off after it was written with fewer digits"""
