"""The pen: what applying an act needs, and the rules that acts share."""

from __future__ import annotations

from enum import StrEnum
from types import SimpleNamespace
from typing import Any, NamedTuple

from sqlalchemy import Connection, Table, select

from waney.yard.book import models, truth
from waney.yard.book.shelf import Row, Shelf
from waney.yard.book.truth import Event, event_of
from waney.yard.names import OF_LOG, Name, nth_code, read_name


class TaskKind(StrEnum):
    """Why there is something to put right."""

    WAITS = "waits for what is not in the book yet"
    BOTH = "two facts that cannot both be so"
    TWICE = "made twice"
    RETAG = "write the tag again"
    BY_HAND = "put right by hand"
    CAME_SECOND = "somebody else was first"
    PAID_FOR_GONE = "money was taken for a piece that is gone"
    MISSING = "did not come home"
    PROMISED = "a promised piece is no more"


MOST_TASKS = 10
"""of one kind from one event; no act has as many ways to be contradicted"""


def first_task(kind: TaskKind, seq: int) -> str:
    """Id of the first task of a kind about an event; there is seldom a second."""
    return f"{kind.name.lower().replace('_', '-')}-{seq}"


class Contradicts(Exception):
    """The act cannot be so while what stands is so; nothing of it was applied. Caught where acts are applied."""

    def __init__(self, other_seq: int, words: str) -> None:
        self.other_seq, self.words = other_seq, words


class Pen(NamedTuple):
    """The rows, the events, and the event with which all this was found out. A tuple: reading anew makes one for each event.

    believed: somebody settled that this fact is so, whatever stood against it.
    """

    shelf: Shelf
    at: Connection
    opened_by: int
    believed: bool = False

    def insert(self, table: Table, **values: Any) -> None:
        """A new row."""
        self.shelf.put(table, values)

    def change(self, table: Table, *key: Any, **values: Any) -> None:
        """Some columns of a row that is there."""
        self.shelf.change(table, key, values)

    def row(self, table: Table, *key: Any) -> Any:
        """The row of a thing that is known to be there, its columns as attributes, as they are now."""
        return SimpleNamespace(**self.columns(table, *key))

    def columns(self, table: Table, *key: Any) -> Row:
        """The same by the names of its columns, for whoever asks for few before changing any."""
        row = self.shelf.get(table, *key)
        assert row is not None, f"{table.name} {key} is made before it is asked for"
        return row

    def open_task(self, kind: TaskKind, event: Event, words: str, other_seq: int | None = None) -> None:
        """Something to put right; several of one kind may come of one event."""
        ident = first = first_task(kind, event.seq)
        others = iter(range(2, MOST_TASKS))
        while self.shelf.get(models.task, ident) is not None:
            ident = f"{first}-{next(others)}"
        told = {"kind": str(kind), "about": event.stream, "words": words, "seq": event.seq, "other_seq": other_seq}
        self.insert(models.task, id=ident, **told, opened_by=self.opened_by, settled_by=None)

    def event(self, seq: int) -> Event:
        """An event that is in the book."""
        return event_of(self.at.execute(select(truth.event).where(truth.event.c.seq == seq)).mappings().one())

    def event_of_command(self, command: str) -> Event | None:
        """The event of a command, as far as the book has been read."""
        e = truth.event
        row = self.at.execute(select(e).where(e.c.command == command, e.c.seq <= self.opened_by)).mappings().first()
        return None if row is None else event_of(row)


# names


def take_name(pen: Pen, event: Event, written: str, code: str) -> dict[str, Any]:
    """Code and number for a piece: the written name, or the next free one where it is taken or none was written."""
    if not written:
        given = Name(code, next_number(pen, code))
        pen.open_task(TaskKind.RETAG, event, f"No tag yet: write {given} on it.")
    else:
        given = read_name(written)
        holders = pen.shelf.find(models.piece, code=given.code, number=given.number)
        if holders or given.number == OF_LOG:
            given, clash = Name(given.code, next_number(pen, given.code)), given
            words = f"{clash} stands on something else already; this is {given} now: write its tag again."
            pen.open_task(TaskKind.RETAG, event, words, holders[0]["seq"] if holders else None)
    begin_code(pen, given.code)
    pen.change(models.code, given.code, next_number=max(given.number + 1, next_number(pen, given.code)))
    return {"code": given.code, "number": given.number, "label": label(given)}


def label(name: Name) -> str:
    """A name as it is searched: without dashes."""
    return str(name).replace("-", "")


def next_number(pen: Pen, code: str) -> int:
    """The next number of a code that nobody gave and no device holds."""
    row = pen.shelf.get(models.code, code)
    return 1 if row is None else int(row["next_number"])


def begin_code(pen: Pen, code: str, shed: bool = False) -> None:
    """A code is in use from now on."""
    if pen.shelf.get(models.code, code) is None:
        pen.insert(models.code, code=code, next_number=1, shed=int(shed))


def free_code(pen: Pen) -> str:
    """The next code that nothing carries yet."""
    n = pen.shelf.count(models.code)
    while pen.shelf.get(models.code, nth_code(n)) is not None:
        n += 1
    return nth_code(n)


def shed_code(pen: Pen) -> str:
    """The code from which wood without a log is named; the book takes one up when it is first needed."""
    held = pen.shelf.find(models.code, shed=1)
    if held:
        return str(held[0]["code"])
    code = free_code(pen)
    begin_code(pen, code, shed=True)
    return code
