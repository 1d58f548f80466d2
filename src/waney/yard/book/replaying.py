"""Reading the events anew: the read models out of nothing but them, and whether that gives the same."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, delete, select

from waney.yard.book import models, truth
from waney.yard.book.applying.every import enter, number
from waney.yard.book.applying.pen import Pen
from waney.yard.book.shelf import Memory
from waney.yard.book.truth import Event
from waney.yard.problems import BookProblem

AT_A_TIME = 2000


class WrongNumber(BookProblem):
    """An event does not have the number in its stream that it should have."""


def events(at: Connection, after: int = 0) -> Iterator[Event]:
    """The events in order, a heap at a time."""
    while True:
        some = select(truth.event).where(truth.event.c.seq > after).order_by(truth.event.c.seq).limit(AT_A_TIME)
        rows = at.execute(some).all()
        yield from map(Event._make, rows)
        if len(rows) < AT_A_TIME:
            return
        after = rows[-1].seq


def read_anew(at: Connection) -> Memory:
    """The read models as the events of a book give them. Raises WrongNumber, BadAct, BookNewer."""
    with collecting_nothing():
        return _read(at)


@contextmanager
def collecting_nothing() -> Iterator[None]:
    """While all rows are made and none is let go, looking for loose ones again and again takes longer than the reading."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _read(at: Connection) -> Memory:
    shelf = Memory()
    for event in events(at):
        act, pen = event.act, Pen(shelf, at, event.seq)
        own = number(pen, act, event.seq).get(event.stream)
        if event.number != own:
            raise WrongNumber(f"Event {event.seq} is number {event.number} of {event.stream}; it should be {own}.")
        enter(pen, event, act)
    return shelf


def empty_models(at: Connection) -> None:
    """Take every row out of the read models."""
    if at.dialect.name == "sqlite":
        at.exec_driver_sql("PRAGMA defer_foreign_keys=ON")
    for table in reversed(models.MODELS.sorted_tables):
        at.execute(delete(table))


Standing = Mapping[str, list[tuple[Any, ...]]]
"""Every row of every read model, in order."""


def standing(at: Connection) -> Standing:
    """What the read models of a book say."""
    return {table.name: _sorted(map(tuple, at.execute(select(table)))) for table in models.MODELS.sorted_tables}


def standing_anew(at: Connection) -> Standing:
    """What they should say."""
    shelf = read_anew(at)
    return {table.name: _sorted(shelf.rows(table)) for table in models.MODELS.sorted_tables}


def _sorted(rows: Iterable[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    return sorted(rows, key=repr)
