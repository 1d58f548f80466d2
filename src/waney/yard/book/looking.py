"""Looking things up: how things stand, as values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, func, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.truth import Event, event_of
from waney.yard.names import OF_LOG, Name, read_name


@dataclass(frozen=True)
class LogStands:
    """A log: what is written of it, its last sheet, its plans (oldest first), which one is chosen. version: of its stream."""

    id: str
    name: str
    species: str
    felled_on: str
    spot: str
    ended: str
    sheet: str
    sheets: int
    plans: tuple[str, ...]
    chosen: str
    pieces: int
    version: int


@dataclass(frozen=True)
class PieceStands:
    """A piece. Empty, None: not known."""

    id: str
    name: str
    species: str
    log: str
    day: str
    parent: str
    how: str
    boule_place: int | None
    thickness_m: float | None
    length_m: float | None
    least_width_m: float | None
    most_width_m: float | None
    spot: str
    ended: str
    version: int


@dataclass(frozen=True)
class OpenTask:
    """Something to put right: `event` is what it is about, `other` what that contradicts (None: nothing)."""

    id: str
    kind: str
    about: str
    words: str
    event: Event
    other: Event | None


def version_of(book: Book, stream: str) -> int:
    """The number of the last event of a stream; 0 for one that nothing was written of."""
    with reading(book.engine) as at:
        return _version(at, stream)


def next_count(book: Book, device: str) -> int:
    """The number of a device's next command, for a device that does not count itself."""
    e = truth.event
    with reading(book.engine) as at:
        return int(at.execute(select(func.coalesce(func.max(e.c.count), 0)).where(e.c.device == device)).scalar_one()) + 1


def next_free(book: Book, code: str) -> tuple[int, int]:
    """The first number of a code that is free, and the version at which it is."""
    c = models.code
    with reading(book.engine) as at:
        return at.execute(select(c.c.next_number).where(c.c.code == code)).scalar() or 1, _version(at, f"code:{code}")


def logs(book: Book) -> tuple[LogStands, ...]:
    """Every log, oldest first."""
    with reading(book.engine) as at:
        idents = at.execute(select(models.log.c.id).order_by(models.log.c.seq)).scalars().all()
        return tuple(_log(at, ident) for ident in idents)


def pieces(book: Book, log: str = "") -> tuple[PieceStands, ...]:
    """Pieces that were not taken back, of one log or all, in the order they came off."""
    p = models.piece
    asked = select(p).where(p.c.taken_back_seq.is_(None)).order_by(p.c.seq)
    with reading(book.engine) as at:
        rows = at.execute(asked.where(p.c.log == log) if log else asked).mappings().all()
        return tuple(_piece(at, dict(row)) for row in rows)


def named(book: Book, written: str) -> str | None:
    """The stream of what carries a name: a log or a piece; None for nothing. Raises BadName."""
    name = read_name(written)
    with reading(book.engine) as at:
        if name.number == OF_LOG:
            found, kind = at.execute(select(models.log.c.id).where(models.log.c.code == name.code)).scalar(), "log"
        else:
            p = models.piece
            found, kind = at.execute(select(p.c.id).where(p.c.code == name.code, p.c.number == name.number)).scalar(), "piece"
    return None if found is None else f"{kind}:{found}"


def history(book: Book, stream: str) -> tuple[Event, ...]:
    """Everything that counts in a stream, in order."""
    e, t = truth.event, models.touched
    with reading(book.engine) as at:
        told = select(e).join(t, t.c.seq == e.c.seq).where(t.c.stream == stream).order_by(t.c.number)
        return tuple(map(event_of, at.execute(told).mappings()))


def open_tasks(book: Book) -> tuple[OpenTask, ...]:
    """What is to be put right, oldest first."""
    t = models.task
    with reading(book.engine) as at:
        rows = at.execute(select(t).where(t.c.settled_by.is_(None)).order_by(t.c.opened_by, t.c.id)).mappings().all()
        return tuple(
            OpenTask(row["id"], row["kind"], row["about"], row["words"], _event(at, row["seq"]), _event_if(at, row["other_seq"]))
            for row in rows
        )


def settings(book: Book) -> dict[str, str]:
    """What the shop has settled, by what it is; nothing for what nobody settled."""
    s = models.setting
    with reading(book.engine) as at:
        return {row.what: row.text for row in at.execute(select(s.c.what, s.c.text))}


def plan_file(book: Book, plan: str) -> bytes:
    """A plan as it was kept. Raises FileLost."""
    with reading(book.engine) as at:
        name = at.execute(select(models.plan.c.file).where(models.plan.c.id == plan)).scalar_one()
    return book.files.read(name)


def _version(at: Connection, stream: str) -> int:
    return at.execute(select(models.head.c.version).where(models.head.c.stream == stream)).scalar() or 0


def _log(at: Connection, ident: str) -> LogStands:
    log, sheet, plan, chosen, piece = models.log, models.sheet, models.plan, models.chosen, models.piece
    row = at.execute(select(log).where(log.c.id == ident)).one()
    text = at.execute(select(sheet.c.text).where(sheet.c.log == ident, sheet.c.number == row.sheets)).scalar_one()
    plans = tuple(at.execute(select(plan.c.id).where(plan.c.log == ident).order_by(plan.c.seq)).scalars())
    taken = at.execute(select(chosen.c.plan).where(chosen.c.log == ident)).scalar() or ""
    off = select(func.count()).select_from(piece).where(piece.c.log == ident, piece.c.taken_back_seq.is_(None))
    told = (ident, str(Name(row.code, OF_LOG)), row.species, row.felled_on, row.spot or "", row.ended)
    return LogStands(*told, text, row.sheets, plans, taken, at.execute(off).scalar_one(), _version(at, f"log:{ident}"))


def _piece(at: Connection, row: dict[str, Any]) -> PieceStands:
    links: dict[str, Any] = {key: row[key] or "" for key in ("log", "day", "parent", "spot")}
    plain = ("id", "species", "how", "boule_place", "thickness_m", "length_m", "least_width_m", "most_width_m", "ended")
    name, version = str(Name(row["code"], row["number"])), _version(at, f"piece:{row['id']}")
    return PieceStands(**{key: row[key] for key in plain}, **links, name=name, version=version)


def _event(at: Connection, seq: int) -> Event:
    return event_of(at.execute(select(truth.event).where(truth.event.c.seq == seq)).mappings().one())


def _event_if(at: Connection, seq: int | None) -> Event | None:
    return None if seq is None else _event(at, seq)
