"""Logs that lie in the yard and wait: what is known of each, without reading its sheet or its plan."""

from __future__ import annotations

from dataclasses import dataclass

from waney.yard.book.book import Book
from waney.yard.book.looking import LogStands, logs


@dataclass(frozen=True)
class Lying:
    """A log that waits. felled_on, sealed_on: a day, empty for not known; money_cents: bad, likely, good of its plan, if any."""

    id: str
    name: str
    species: str
    felled_on: str
    sealed_on: str
    sheet: str
    money_cents: tuple[int, ...] = ()


def lying(book: Book) -> tuple[Lying, ...]:
    """Every log that still lies there, oldest first."""
    return tuple(map(lying_of, logs(book, in_yard=True)))


def lying_of(log: LogStands) -> Lying:
    """What waiting turns on of a log."""
    return Lying(log.id, log.name, log.species, log.felled_on, log.sealed_on, log.sheet, log.money_cents)
