"""Sawing days as they stand: what came off and what happened, in the order of the book."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import RowMapping, Select, func, select, union_all

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.names import Name


@dataclass(frozen=True)
class DayStands:
    """A sawing day. pieces: that came off and were not taken back; spot: where they are carried, empty where nobody said."""

    id: str
    on: str
    closed: bool
    pieces: int
    spot: str = ""
    spot_called: str = ""


@dataclass(frozen=True)
class Off:
    """A piece that came off on a day, with the command that told of it."""

    command: str
    piece: str
    name: str
    log: str
    plan: str
    cut: int | None
    how: str
    off_by_m: float | None
    height_m: float | None
    thickness_m: float | None
    recorded_at: str
    seq: int


@dataclass(frozen=True)
class HappenedStands:
    """Something that happened at the mill, with the command that told of it."""

    command: str
    day: str
    what: str
    log: str
    words: str
    plan: str
    step: int | None
    off_by_m: float | None
    roll_deg: float | None
    pith_m: str
    """a JSON list of two heights, or []"""
    recorded_at: str
    seq: int


def _days(which: Select[Any]) -> Select[Any]:
    """What is told of days, the newest first; counted of those alone that were asked for."""
    day, piece, spot = which.subquery(), models.piece, models.spot
    off = select(func.count()).where(piece.c.day == day.c.id, piece.c.taken_back_seq.is_(None)).scalar_subquery()
    told = select(day, off.label("off"), spot.c.called.label("spot_called")).join(spot, spot.c.id == day.c.spot, isouter=True)
    return told.order_by(day.c.on_date.desc(), day.c.seq.desc())


_NEWEST = select(models.day).order_by(models.day.c.on_date.desc(), models.day.c.seq.desc())


def open_days(book: Book, most: int | None = None) -> tuple[DayStands, ...]:
    """Days that nobody closed, the newest first; most: how many of them, None for all."""
    asked = _NEWEST.where(models.day.c.closed_seq.is_(None)).limit(most)
    with reading(book.engine) as at:
        return tuple(map(_day, at.execute(_days(asked)).mappings()))


def latest_days(book: Book, most: int) -> tuple[DayStands, ...]:
    """The newest days, open or closed."""
    with reading(book.engine) as at:
        return tuple(map(_day, at.execute(_days(_NEWEST.limit(most))).mappings()))


def day(book: Book, ident: str) -> DayStands | None:
    """One day; None for none."""
    with reading(book.engine) as at:
        row = at.execute(_days(_NEWEST.where(models.day.c.id == ident))).mappings().first()
    return None if row is None else _day(row)


def _day(row: RowMapping) -> DayStands:
    return DayStands(
        row["id"], row["on_date"], row["closed_seq"] is not None, row["off"], row["spot"] or "", row["spot_called"] or ""
    )


def days_of(book: Book) -> dict[str, str]:
    """The date of every sawing day by its id; one query."""
    with reading(book.engine) as at:
        return {ident: on for ident, on in at.execute(select(models.day.c.id, models.day.c.on_date))}


def came_off(book: Book, day: str, log: str = "") -> tuple[Off, ...]:
    """What came off on a day, of one log or of all, and was not taken back; in the order of the book."""
    p, e = models.piece, truth.event
    asked = (
        select(p, e.c.command, e.c.recorded_at).join(e, e.c.seq == p.c.seq).where(p.c.day == day, p.c.taken_back_seq.is_(None))
    )
    with reading(book.engine) as at:
        return tuple(map(_off, at.execute((asked.where(p.c.log == log) if log else asked).order_by(p.c.seq)).mappings()))


def _off(row: RowMapping) -> Off:
    name = str(Name(row["code"], row["number"])) if row["code"] else ""
    as_is = ("command", "cut", "how", "off_by_m", "height_m", "thickness_m", "recorded_at", "seq")
    told = {key: row[key] for key in as_is}
    return Off(piece=row["id"], name=name, log=row["log"] or "", plan=row["plan"] or "", **told)


def happened(book: Book, day: str, log: str = "") -> tuple[HappenedStands, ...]:
    """What happened at the mill on a day and was not taken back; in the order of the book."""
    h, e = models.happening, truth.event
    asked = (
        select(h, e.c.command, e.c.recorded_at).join(e, e.c.seq == h.c.seq).where(h.c.day == day, h.c.taken_back_seq.is_(None))
    )
    with reading(book.engine) as at:
        rows = at.execute((asked.where(h.c.log == log) if log else asked).order_by(h.c.seq)).mappings()
        return tuple(_happened(row) for row in rows)


@dataclass(frozen=True)
class AtIt:
    """What was told last on a day: of which log, by which device."""

    log: str
    device: str


def at_it(book: Book, day: str, log: str = "") -> AtIt | None:
    """Who tells of the mill on a day, of any log or one, and which log lies there by that; None while nothing was told."""
    p, h, e = models.piece, models.happening, truth.event
    told = [
        select(one.c.seq, one.c.log, e.c.device)
        .join(e, e.c.seq == one.c.seq)
        .where(one.c.day == day, one.c.taken_back_seq.is_(None), one.c.log == log if log else one.c.log.is_not(None))
        for one in (p, h)
    ]
    every = union_all(*told).subquery()
    with reading(book.engine) as at:
        row = at.execute(select(every.c.log, every.c.device).order_by(every.c.seq.desc()).limit(1)).first()
    return None if row is None else AtIt(row.log, row.device)


def _happened(row: RowMapping) -> HappenedStands:
    told = (
        row["words"],
        row["plan"],
        row["step"],
        row["off_by_m"],
        row["roll_deg"],
        row["pith_m"],
        row["recorded_at"],
        row["seq"],
    )
    return HappenedStands(row["command"], row["day"], row["what"], row["log"] or "", *told)


def last_thicknesses(book: Book, most: int) -> tuple[float, ...]:
    """Thicknesses [m] that were sawn lately, as they were meant, each once, the newest first."""
    p = models.piece
    lately = p.c.taken_back_seq.is_(None), p.c.sawn_thickness_m.is_not(None), p.c.day.is_not(None)
    meant = p.c.sawn_thickness_m - func.coalesce(p.c.off_by_m, 0.0)
    told = select(meant).where(*lately).order_by(p.c.seq.desc()).limit(200)
    with reading(book.engine) as at:
        found = dict.fromkeys(round(float(each), 6) for each in at.execute(told).scalars())
    return tuple(found)[:most]
