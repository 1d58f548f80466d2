"""What stands around in the yard: spots, sawing days, people, trees offered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Table, func, select

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
class DayStands:
    """A sawing day and how many pieces came off."""

    id: str
    on: str
    closed: bool
    pieces: int
    seq: int


@dataclass(frozen=True)
class PersonStands:
    """Somebody who works here."""

    id: str
    called: str


@dataclass(frozen=True)
class TreeStands:
    """A tree that was offered. reply: empty while nobody answered; money_cents: bad, likely, good, as JSON."""

    id: str
    species: str
    girth_m: float | None
    small_end_m: float | None
    length_m: float | None
    asked_cents: int | None
    place: str
    words: str
    photo: str
    reply: str
    reason: str
    money_cents: str
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


def days(book: Book, limit: int = 50, before: int | None = None) -> tuple[DayStands, ...]:
    """Sawing days, newest first; before: the `seq` of the last one of the page before."""
    d, p = models.day, models.piece
    off = select(func.count()).where(p.c.day == d.c.id, p.c.taken_back_seq.is_(None)).scalar_subquery()
    asked = select(d.c.id, d.c.on_date, d.c.closed_seq, off, d.c.seq).order_by(d.c.seq.desc()).limit(limit)
    with reading(book.engine) as at:
        rows = at.execute(asked if before is None else asked.where(d.c.seq < before))
        return tuple(DayStands(ident, on, closed is not None, n, seq) for ident, on, closed, n, seq in rows)


def people(book: Book) -> tuple[PersonStands, ...]:
    """Who works here, in the order they came."""
    p = models.person
    with reading(book.engine) as at:
        return tuple(PersonStands(*row) for row in at.execute(select(p.c.id, p.c.called).order_by(p.c.seq)))


def trees(book: Book) -> tuple[TreeStands, ...]:
    """Trees offered, newest first."""
    t, h = models.tree, models.head
    sizes = (t.c.girth_m, t.c.small_end_m, t.c.length_m, t.c.asked_cents)
    told = (t.c.place, t.c.words, func.coalesce(t.c.photo, ""), t.c.reply, t.c.reason, t.c.money_cents, h.c.version)
    named: tuple[Any, ...] = (t.c.id, t.c.species, *sizes, *told)
    asked = select(*named).join(h, h.c.stream == "tree:" + t.c.id).order_by(t.c.seq.desc())
    with reading(book.engine) as at:
        return tuple(TreeStands(*tuple(row)) for row in at.execute(asked))
