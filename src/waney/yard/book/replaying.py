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


def events(at: Connection) -> Iterator[Event]:
    """The events in order."""
    for heap in heaps(at):
        yield from heap


def heaps(at: Connection) -> Iterator[list[Event]]:
    """The same, as many at a time as are asked for at once."""
    after, full = 0, True
    while full:
        some = select(truth.event).where(truth.event.c.seq > after).order_by(truth.event.c.seq).limit(AT_A_TIME)
        heap = list(map(Event._make, at.execute(some)))
        full = len(heap) == AT_A_TIME
        if heap:
            after = heap[-1].seq
            yield heap


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
    for heap in heaps(at):
        acts = [event.act for event in heap]  # before any is applied: a tenth faster than by turns
        for event, act in zip(heap, acts, strict=True):
            pen = Pen(shelf, at, event.seq)
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
