"""The tables that are not read from events: the book, its events, and the jobs that somebody asked for."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from sqlalchemy import REAL, BigInteger, CheckConstraint, Column, Double, Index, Integer, MetaData, Table, Text, UniqueConstraint

from waney.yard.acts.every import FORM, Act, act_json, act_kind, act_of
from waney.yard.commands import Command, read_json
from waney.yard.problems import BookNewer

TRUTH = MetaData()
WHOLE = BigInteger().with_variant(Integer, "sqlite")

book = Table(
    "book",
    TRUTH,
    Column("id", Integer, CheckConstraint("id = 1"), primary_key=True, autoincrement=False),
    Column("made_at", Text, nullable=False),
    Column("last_seq", WHOLE, CheckConstraint("last_seq >= 0"), nullable=False),
    Column("reading", Integer, nullable=False),
    sqlite_strict=True,
)
"""One row. Who writes holds it; `reading` says which form the read models have."""

event = Table(
    "event",
    TRUTH,
    Column("seq", WHOLE, CheckConstraint("seq >= 1"), primary_key=True, autoincrement=False),
    Column("stream", Text, nullable=False),
    Column("number", Integer, CheckConstraint("number >= 1"), nullable=False),
    Column("command", Text, CheckConstraint("length(command) = 36"), nullable=False, unique=True),
    Column("device", Text, CheckConstraint("length(device) = 36"), nullable=False),
    Column("count", WHOLE, CheckConstraint("count >= 1"), nullable=False),
    Column("person", Text, nullable=False),
    Column("happened_at", Text, nullable=False),
    Column("recorded_at", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("form", Integer, CheckConstraint("form >= 1"), nullable=False),
    Column("body", Text, nullable=False),
    Column("read", Text, nullable=False),
    UniqueConstraint("stream", "number"),
    Index("event_device", "device", "count"),
    sqlite_strict=True,
)
"""Append-only: triggers made beside it refuse every change but one: the name of somebody who is forgotten (`forgetting`)."""
job = Table(
    "job",
    TRUTH,
    Column("id", Text, CheckConstraint("length(id) = 36"), primary_key=True),
    Column("place", Integer, CheckConstraint("place >= 1"), nullable=False, unique=True),
    Column("kind", Text, nullable=False),
    Column("input", Text, CheckConstraint("length(input) = 64"), nullable=False),
    Column("version", Text, nullable=False),
    Column("state", Text, nullable=False),
    Column("progress", Double().with_variant(REAL, "sqlite"), nullable=False),
    Column("message", Text, nullable=False),
    Column("answer", Text, nullable=False),
    Column("asked_at", Text, nullable=False),
    Column("taken_at", Text, nullable=False),
    Column("told_at", Text, nullable=False),
    Column("ended_at", Text, nullable=False),
    Column("holder", Text, nullable=False),
    Column("tries", Integer, CheckConstraint("tries >= 0"), nullable=False),
    Column("cancel", Integer, CheckConstraint("cancel IN (0, 1)"), nullable=False),
    Index("job_state", "state", "place"),
    Index("job_input", "kind", "input", "version"),
    sqlite_strict=True,
)
"""input, answer: files of the book. place: in the line; holder: who works on it; told_at: when it last said that it does."""


class Event(NamedTuple):
    """A command as the book holds it; body and read are JSON texts. A tuple, because reading anew makes one of every row."""

    seq: int
    stream: str
    number: int
    command: str
    device: str
    count: int  # type: ignore[assignment]  # the device's; it hides the method of tuples, which nobody needs here
    person: str
    happened_at: str
    recorded_at: str
    kind: str
    form: int
    body: str
    read: str

    @property
    def act(self) -> Act:
        """What was done. Raises BookNewer, BadAct."""
        if self.form > FORM:
            raise BookNewer(f"Event {self.seq} of the book has a form that a newer program wrote; use that program.")
        return act_of(self.kind, unpacked(self.body))


def event_of(row: Mapping[Any, Any]) -> Event:
    """The event of a row."""
    return Event(**row)


_WRITE = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"), sort_keys=True)
_READ = json.JSONDecoder()


def packed(data: object) -> str:
    """JSON with nothing to spare, the same for the same."""
    return _WRITE.encode(data)


def unpacked(text: str) -> Any:
    """What a text of JSON says; in less time than `json.loads` takes, which asks what kind of text it is. Raises ValueError."""
    text = text.strip(" \t\n\r")
    data, end = _READ.raw_decode(text)
    if end != len(text):
        raise json.JSONDecodeError("Extra data", text, end)
    return data


def event_from(command: Command, seq: int, number: int, recorded_at: str) -> Event:
    """The event that a command becomes."""
    c = command
    body, read = packed(act_json(c.act)), packed(read_json(c.read))
    head = (c.id, c.device, c.count, c.person, c.happened_at, recorded_at)
    return Event(seq, c.act.streams()[0], number, *head, act_kind(c.act), FORM, body, read)
