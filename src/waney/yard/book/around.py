"""What stands around in the yard: spots, and people."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Table, func, literal, select

from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


@dataclass(frozen=True)
class SpotStands:
    """A spot, what it lies within (empty: the yard), and how many logs and pieces stand on it itself."""

    id: str
    called: str
    within: str
    logs: int
    pieces: int


@dataclass(frozen=True)
class PersonStands:
    """Somebody who works here, or did. version: of their stream."""

    id: str
    called: str
    version: int


def spots(book: Book) -> tuple[SpotStands, ...]:
    """Every spot by its name, with what still stands there; one query."""
    s, p = models.spot, models.piece
    logs, pieces = _standing(models.log), _standing(p, p.c.taken_back_seq.is_(None))
    told = (s.c.id, s.c.called, func.coalesce(s.c.within, ""), func.coalesce(logs.c.n, 0), func.coalesce(pieces.c.n, 0))
    asked = select(*told).outerjoin(logs, logs.c.spot == s.c.id).outerjoin(pieces, pieces.c.spot == s.c.id)
    with reading(book.engine) as at:
        return tuple(SpotStands(*row) for row in at.execute(asked.order_by(s.c.called, s.c.seq)))


def _standing(table: Table, *also: ColumnElement[bool]) -> Any:
    there = select(table.c.spot, func.count().label("n")).where(table.c.ended == "", table.c.spot.is_not(None), *also)
    return there.group_by(table.c.spot).subquery()


def people(book: Book) -> tuple[PersonStands, ...]:
    """Who works here or did, in the order they came; whoever was forgotten is not among them."""
    return _people(book, 0)


def buyers(book: Book) -> tuple[PersonStands, ...]:
    """Who buys here, in the order they came; whoever was forgotten is not among them."""
    return _people(book, 1)


def _people(book: Book, buys: int) -> tuple[PersonStands, ...]:
    p, h = models.person, models.head
    asked = select(p.c.id, p.c.called, h.c.version).join(h, h.c.stream == literal("person:").concat(p.c.id))
    with reading(book.engine) as at:
        return tuple(
            PersonStands(*row) for row in at.execute(asked.where(p.c.buys == buys, p.c.forgotten_seq.is_(None)).order_by(p.c.seq))
        )
