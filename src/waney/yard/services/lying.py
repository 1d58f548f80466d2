"""Logs that lie in the yard and wait, and those that lay there until they were sawn: what is known of each, without reading its
sheet or its plan."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass

from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.logs_seen import LogStands, logs, logs_by_id
from waney.yard.book.looking import PieceStands
from waney.yard.book.record_seen import PieceGot, boards_ended, pieces_got, sawn_on
from waney.yard.services.lost import unearned_by_log


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


@dataclass(frozen=True)
class LaySo:
    """A log that was sawn: as it lay, the day of its first board, and the share of what its boards might have brought, at what
    such wood gets in this shop, that they did not bring."""

    log: Lying
    sawn_on: str
    lost: float


def lying(book: Book) -> tuple[Lying, ...]:
    """Every log that still lies there, oldest first."""
    return tuple(map(lying_of, logs(book, in_yard=True)))


def lying_of(log: LogStands) -> Lying:
    """What waiting turns on of a log."""
    return Lying(log.id, log.name, log.species, log.felled_on, log.sealed_on, log.sheet, log.money_cents)


def logs_that_lay(book: Book) -> tuple[LaySo, ...]:
    """The newest logs of the shop of which the felling is known, and of enough boards what they brought."""
    return lay_so(book, boards_ended(book), customers_pieces(book), pieces_got(book))


def lay_so(book: Book, boards: Iterable[PieceStands], theirs: Collection[str], got: Iterable[PieceGot]) -> tuple[LaySo, ...]:
    """The same out of boards and sales that are at hand. theirs: pieces of customers."""
    lost = unearned_by_log(boards, theirs, got)
    first = sawn_on(book, sorted(lost))
    there = {log.id: log for log in logs_by_id(book, sorted(first))}
    return tuple(
        LaySo(lying_of(there[log]), first[log], share)
        for log, share in sorted(lost.items())
        if log in there and there[log].felled_on
    )
