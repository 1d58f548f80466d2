"""The yard book: opened, written into, one command at a time."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, Engine, insert, select, update

from waney.yard.acts.every import act_kind
from waney.yard.acts.people_places import PersonForgotten
from waney.yard.book import models, truth
from waney.yard.book.applying.every import enter, number
from waney.yard.book.applying.pen import Pen, TaskKind
from waney.yard.book.deciding import allow
from waney.yard.book.engine import Lies, engine_of, reading, told_plainly, writing
from waney.yard.book.files import Files
from waney.yard.book.forgetting import as_kept, blank, bodies_of, wipe
from waney.yard.book.migrating import bring_up_to_date, make_tables, revision_of
from waney.yard.book.shelf import Database
from waney.yard.book.truth import Event, event_from, event_of
from waney.yard.commands import Command
from waney.yard.here import kept
from waney.yard.problems import BookThere, FileLost, NoBook, Reused


@dataclass(frozen=True)
class Answer:
    """What the book says of a command that it holds; the same every time it is sent.

    tasks: what was found to be put right when it was written; sentence: what a tag has to be looked at again for, empty for
    none. before: it stood there already.
    """

    seq: int
    stream: str
    number: int
    tasks: tuple[str, ...]
    before: bool = False
    sentence: str = ""


@dataclass(frozen=True)
class Book:
    """An open book. One may be shared by threads; several programs may have the same one open."""

    lies: Lies
    engine: Engine
    files: Files

    def send(self, command: Command, now: datetime) -> Answer:
        """Write a command. Raises Refused and its kinds, FileLost, BookFull, BookBusy: then nothing was written.

        After forgetting somebody BookBusy may also say that their name is gone, but its letters not yet wiped off the disk.
        """
        answer = self._written(command, now)
        if isinstance(command.act, PersonForgotten):
            wipe(self.engine)
        return answer

    def holds(self, command: str) -> bool:
        """Whether a command of this id stands in it."""
        with reading(self.engine) as at:
            return at.execute(select(truth.event.c.seq).where(truth.event.c.command == command)).first() is not None

    def _written(self, command: Command, now: datetime) -> Answer:
        with writing(self.engine) as at:
            seq = at.execute(select(truth.book.c.last_seq).with_for_update()).scalar_one() + 1
            held = _held(at, command)
            if held is not None:
                return answer_of(at, held, before=True)
            self._files_are_there(command)
            allow(at, command, now)
            event = _write(at, as_kept(at, command), seq, now)
            return answer_of(at, event)

    def _files_are_there(self, command: Command) -> None:
        for sha256 in command.act.files():
            if not self.files.has(sha256):
                raise FileLost(f"The file {sha256[:12]}... is not in the book yet; send the file first, then what names it.")

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()


def make_book(lies: Lies, now: datetime) -> Book:
    """A new, empty book. Raises BookThere."""
    with new_book(lies, now):
        pass
    return open_book(lies)


@contextmanager
def new_book(lies: Lies, now: datetime) -> Iterator[tuple[Connection, Files]]:
    """The transaction in which a book is made, and its files; if it fails, no book is there. Raises BookThere."""
    if lies.file is not None:
        lies.file.parent.mkdir(parents=True, exist_ok=True)
    engine = engine_of(lies.url)
    try:
        with writing(engine) as at:
            if revision_of(at) is not None:
                raise BookThere("There is a book already; open that one, or name another folder.")
            make_tables(at, now)
            yield at, Files(lies.files)
    finally:
        engine.dispose()


def open_book(lies: Lies) -> Book:
    """The book that lies there, moved on to this program's form where it is older. Raises NoBook, BookNewer."""
    if lies.file is not None and not lies.file.is_file():
        raise NoBook(f"There is no book in {lies.file.parent}.")
    engine = engine_of(lies.url)
    try:
        with told_plainly():
            bring_up_to_date(engine)
    except BaseException:
        engine.dispose()
        raise
    return Book(lies, engine, Files(lies.files))


def _held(at: Connection, command: Command) -> Event | None:
    """The event that this command became. Raises Reused."""
    row = at.execute(select(truth.event).where(truth.event.c.command == command.id)).mappings().first()
    if row is None:
        return None
    held = event_of(row)
    if (command.device, act_kind(command.act)) != (held.device, held.kind) or held.body not in bodies_of(command.act):
        raise Reused(
            f"The command id {command.id} stands in the book for something else ({held.kind}); give each command its own."
        )
    return held


def _write(at: Connection, command: Command, seq: int, now: datetime) -> Event:
    pen = Pen(Database(at), at, seq)
    numbers = number(pen, command.act, seq)
    event = event_from(command, seq, numbers[command.act.streams()[0]], kept(now))
    at.execute(insert(truth.event), event._asdict())
    at.execute(update(truth.book).values(last_seq=seq))
    if isinstance(command.act, PersonForgotten):
        blank(at, command.act)
    enter(pen, event, command.act)
    return event


def answer_of(at: Connection, event: Event, before: bool = False) -> Answer:
    """The answer to the command of an event."""
    t = models.task
    rows = at.execute(select(t.c.id, t.c.kind, t.c.words, t.c.seq).where(t.c.opened_by == event.seq).order_by(t.c.id)).all()
    tags = (row.words for row in rows if row.kind == TaskKind.RETAG and row.seq == event.seq)
    return Answer(event.seq, event.stream, event.number, tuple(row.id for row in rows), before, " ".join(tags))
