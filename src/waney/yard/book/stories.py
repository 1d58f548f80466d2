"""The whole story of one thing: a log, a piece, a sawing day; and what was written last of all."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, RowMapping, Select, func, literal, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.logs_seen import LOGS, LogStands, logs_of
from waney.yard.book.looking import PIECES, PieceStands, mates_in, pieces_of
from waney.yard.book.truth import Event, event_of
from waney.yard.problems import NotInBook


@dataclass(frozen=True)
class Told:
    """An event and what to call who wrote it (empty: nobody said)."""

    event: Event
    called: str


@dataclass(frozen=True)
class Sheet:
    """One form of a log's sheet. scan: its file by SHA-256, or empty."""

    number: int
    text: str
    scan: str
    written_at: str
    called: str


@dataclass(frozen=True)
class PlanStands:
    """A plan of a log. file: by SHA-256."""

    id: str
    sheet_number: int
    file: str
    pattern: str
    pieces: int
    written_by: str
    chosen: bool
    made_at: str


@dataclass(frozen=True)
class Photo:
    """A photo. file: by SHA-256; wet: None is not told."""

    id: str
    file: str
    about: str
    taken_at: str
    shows: str
    wet: bool | None
    seq: int


@dataclass(frozen=True)
class Note:
    """A few words, by whom and when they were written down."""

    seq: int
    about: str
    words: str
    called: str
    written_at: str


@dataclass(frozen=True)
class LogStory:
    """All of one log: sheets and plans oldest first, pieces in boule order, photos and notes with those of its pieces."""

    log: LogStands
    sheets: tuple[Sheet, ...]
    plans: tuple[PlanStands, ...]
    pieces: tuple[PieceStands, ...]
    photos: tuple[Photo, ...]
    notes: tuple[Note, ...]
    events: tuple[Told, ...]


@dataclass(frozen=True)
class PieceStory:
    """All of one piece. came_of: what it was sawn from; gave: what was sawn from it; mates: its set, itself among them.

    widths_m: every width told; sawn_thickness_m: told with them, whatever was measured since; place: the rigid map to the log
    (12 numbers) or nothing; cut, height_m, off_by_m: at the saw.
    """

    piece: PieceStands
    widths_m: tuple[float, ...]
    sawn_thickness_m: float | None
    place: tuple[float, ...]
    plan: str
    cut: int | None
    height_m: float | None
    off_by_m: float | None
    came_of: PieceStands | None
    gave: tuple[PieceStands, ...]
    mates: tuple[PieceStands, ...]
    photos: tuple[Photo, ...]
    notes: tuple[Note, ...]
    events: tuple[Told, ...]


@dataclass(frozen=True)
class DayStory:
    """All of a sawing day: its pieces in the order they came off, and every event that counts in it."""

    id: str
    on: str
    closed: bool
    pieces: tuple[PieceStands, ...]
    events: tuple[Told, ...]


def log_story(book: Book, log: str) -> LogStory:
    """One log. Raises NotInBook."""
    p = models.piece
    with reading(book.engine) as at:
        stands = logs_of(at, LOGS.where(models.log.c.id == log))
        if not stands:
            raise NotInBook("There is no such log in the book.")
        pieces = pieces_of(at, PIECES.where(p.c.log == log).order_by(p.c.boule_place.is_(None), p.c.boule_place, p.c.seq))
        about = [f"log:{log}", *(f"piece:{piece.id}" for piece in pieces)]
        rest = _photos(at, about), _notes(at, about), _told(at, f"log:{log}")
        return LogStory(stands[0], _sheets(at, log), _plans(at, log, stands[0].chosen), pieces, *rest)


def piece_story(book: Book, piece: str) -> PieceStory:
    """One piece. Raises NotInBook, for one that was taken back too."""
    p = models.piece
    with reading(book.engine) as at:
        stands = pieces_of(at, PIECES.where(p.c.id == piece))
        if not stands:
            raise NotInBook("There is no such piece in the book.")
        own = at.execute(select(p).where(p.c.id == piece)).mappings().one()
        saw: dict[str, Any] = {key: own[key] for key in ("cut", "height_m", "off_by_m", "sawn_thickness_m")}
        saw |= {key: tuple(json.loads(own[key])) for key in ("widths_m", "place")}
        came = pieces_of(at, PIECES.where(p.c.id == own["parent"])) if own["parent"] else ()
        gave = pieces_of(at, PIECES.where(p.c.parent == piece).order_by(p.c.seq))
        about = f"piece:{piece}"
        return PieceStory(
            stands[0], **saw, plan=own["plan"] or "", came_of=next(iter(came), None), gave=gave,
            mates=mates_in(at, [stands[0].together]) if stands[0].together else (),
            photos=_photos(at, [about]), notes=_notes(at, [about]), events=_told(at, about),
        )  # fmt: skip


def day_story(book: Book, day: str) -> DayStory:
    """One sawing day. Raises NotInBook."""
    p = models.piece
    with reading(book.engine) as at:
        row = at.execute(select(models.day).where(models.day.c.id == day)).first()
        if row is None:
            raise NotInBook("There is no such day in the book.")
        pieces = pieces_of(at, PIECES.where(p.c.day == day).order_by(p.c.seq))
        return DayStory(row.id, row.on_date, row.closed_seq is not None, pieces, _told(at, f"day:{day}"))


def told_on(book: Book, on: str) -> tuple[Told, ...]:
    """Every event of the sawing days of a date, in order."""
    d, t = models.day, models.touched
    asked = _TOLD.join(t, t.c.seq == _E.c.seq).join(d, t.c.stream == literal("day:").concat(d.c.id))
    with reading(book.engine) as at:
        return _each_told(at.execute(asked.where(d.c.on_date == on).order_by(_E.c.seq)).mappings())


def last_events(book: Book, limit: int = 50, before: int | None = None) -> tuple[Told, ...]:
    """What was written last, newest first; before: the sequence number that the page before ended with."""
    e = truth.event
    asked = _TOLD.order_by(e.c.seq.desc()).limit(limit)
    with reading(book.engine) as at:
        return _each_told(at.execute(asked if before is None else asked.where(e.c.seq < before)).mappings())


def photos_of(book: Book, stream: str) -> tuple[Photo, ...]:
    """What is filed about one thing: a tree, a stem."""
    with reading(book.engine) as at:
        return _photos(at, [stream])


def photos_by(book: Book, streams: Iterable[str]) -> dict[str, tuple[Photo, ...]]:
    """The same of several, by what they are about."""
    found: dict[str, list[Photo]] = {}
    with reading(book.engine) as at:
        for photo in _photos(at, list(streams)):
            found.setdefault(photo.about, []).append(photo)
    return {about: tuple(photos) for about, photos in found.items()}


def notes_of(book: Book, streams: Iterable[str]) -> tuple[Note, ...]:
    """What was noted about several things, oldest first."""
    with reading(book.engine) as at:
        return _notes(at, list(streams))


def unfiled_photos(book: Book, limit: int = 200) -> tuple[Photo, ...]:
    """Photos of which nobody has said what they are about, by the time they were taken."""
    p = models.photo
    with reading(book.engine) as at:
        return _each_photo(at, select(p).where(p.c.about == "").order_by(p.c.taken_at, p.c.seq).limit(limit))


_E = truth.event
_WHO = models.person.c.called.label("called")
_BY = models.person.c.id == _E.c.person
_TOLD = select(_E, _WHO).outerjoin(models.person, _BY)


def _told(at: Connection, stream: str) -> tuple[Told, ...]:
    t = models.touched
    return _each_told(at.execute(_TOLD.join(t, t.c.seq == _E.c.seq).where(t.c.stream == stream).order_by(t.c.number)).mappings())


def _each_told(rows: Iterable[RowMapping]) -> tuple[Told, ...]:
    return tuple(Told(event_of({key: row[key] for key in _E.c.keys()}), row["called"] or "") for row in rows)  # noqa: SIM118 - a column collection


def _sheets(at: Connection, log: str) -> tuple[Sheet, ...]:
    s = models.sheet
    asked = select(s.c.number, s.c.text, s.c.scan, _E.c.recorded_at, func.coalesce(_WHO, "")).join(_E, _E.c.seq == s.c.seq)
    return tuple(
        Sheet(*row) for row in at.execute(asked.outerjoin(models.person, _BY).where(s.c.log == log).order_by(s.c.number))
    )


def _plans(at: Connection, log: str, chosen: str) -> tuple[PlanStands, ...]:
    p = models.plan
    told = (
        p.c.id,
        p.c.sheet_number,
        p.c.file,
        p.c.pattern,
        p.c.pieces,
        p.c.written_by,
        p.c.id == literal(chosen),
        _E.c.recorded_at,
    )
    asked = select(*told).join(_E, _E.c.seq == p.c.seq).where(p.c.log == log).order_by(p.c.seq)
    return tuple(PlanStands(*row) for row in at.execute(asked))


def _photos(at: Connection, about: list[str]) -> tuple[Photo, ...]:
    p = models.photo
    return _each_photo(at, select(p).where(p.c.about.in_(about)).order_by(p.c.taken_at, p.c.seq))


def _each_photo(at: Connection, asked: Select[Any]) -> tuple[Photo, ...]:
    rows = at.execute(asked.where(models.photo.c.taken_back_seq.is_(None)))
    wet = {None: None, 0: False, 1: True}
    return tuple(Photo(row.id, row.file, row.about, row.taken_at, row.shows, wet[row.wet], row.seq) for row in rows)


def _notes(at: Connection, about: list[str]) -> tuple[Note, ...]:
    n = models.note
    told = select(n.c.seq, n.c.about, n.c.words, func.coalesce(_WHO, ""), _E.c.recorded_at).join(_E, _E.c.seq == n.c.seq)
    asked = told.outerjoin(models.person, _BY).where(n.c.about.in_(about), n.c.taken_back_seq.is_(None)).order_by(n.c.seq)
    return tuple(Note(*row) for row in at.execute(asked))
