"""Money and hours that went into logs and pieces, as they stand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, func, select

from waney.yard.book import selling_models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


@dataclass(frozen=True)
class SpentStands:
    """Money or hours that went into a log or a piece (about, a stream): when, and by which command it was told.

    load: of whose cost in the kiln it is a share, taken back there; else empty.
    """

    about: str
    what: str
    cents: int | None
    hours: float | None
    words: str
    happened_at: str
    command: str
    load: str


def _spent() -> Select[Any]:
    s, e = selling_models.spent, truth.event
    told = select(s.c.about, s.c.what, s.c.cents, s.c.hours, s.c.words, e.c.happened_at, e.c.command, func.coalesce(s.c.load, ""))
    return told.join(e, e.c.seq == s.c.seq).where(s.c.taken_back_seq.is_(None))


def spent_on(book: Book, streams: Iterable[str] | None = None) -> tuple[SpentStands, ...]:
    """What was spent and not taken back, in all or on some logs and pieces by their streams, in the order of the book."""
    s = selling_models.spent
    asked = _spent()
    asked = asked if streams is None else asked.where(s.c.about.in_(list(streams)))
    with reading(book.engine) as at:
        return tuple(SpentStands(*row) for row in at.execute(asked.order_by(s.c.seq, s.c.about)))


def kiln_shares(book: Book, load: str) -> tuple[SpentStands, ...]:
    """What of the cost of a load stands in the costs of its pieces now, in their order; empty where it was not written."""
    s = selling_models.spent
    with reading(book.engine) as at:
        return tuple(SpentStands(*row) for row in at.execute(_spent().where(s.c.load == load).order_by(s.c.about)))
