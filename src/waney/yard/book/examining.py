"""Whether a book is sound: its events, what was read from them, its files, the room that is left."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import Connection, func, select
from sqlalchemy.exc import DBAPIError

from waney.figures.problem import Problem
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.files import HALF, Files
from waney.yard.book.replaying import standing, standing_anew


@dataclass(frozen=True)
class Examined:
    """What was found. unsound: sentences, none for a sound book; remarks: what is worth knowing and no fault."""

    events: int
    open_tasks: int
    waiting: int
    files: int
    free_bytes: int
    unsound: tuple[str, ...]
    remarks: tuple[str, ...]


def examine(book: Book) -> Examined:
    """Look at everything; nothing is changed. A damaged file of the book is said to be that, and no more is asked of it."""
    damaged = tuple(_damage(book))
    if damaged:
        return Examined(0, 0, 0, 0, _free(book.files.folder), damaged, ())
    with reading(book.engine) as at:
        task, waits = models.task, models.waiting
        count = int(at.execute(select(func.count()).select_from(truth.event)).scalar_one())
        tasks = at.execute(select(func.count()).select_from(task).where(task.c.settled_by.is_(None))).scalar_one()
        waiting = at.execute(select(func.count(waits.c.seq.distinct()))).scalar_one()
        named = set(at.execute(select(models.file.c.sha256)).scalars())
        unsound = (*_sequence(at, count), *_reading(at), *_files(book.files, named))
        remarks = (*_counts(at), *_lying_about(book.files, named | _of_jobs(at)))
    return Examined(count, tasks, waiting, len(named), _free(book.files.folder), unsound, remarks)


def _damage(book: Book) -> Iterator[str]:
    """What SQLite says of its own file; PostgreSQL looks after its pages itself."""
    if book.engine.dialect.name != "sqlite":
        return
    try:
        with reading(book.engine) as at:
            said = [row[0] for row in at.exec_driver_sql("PRAGMA integrity_check(5)") if row[0] != "ok"]
            loose = sorted({(row[0], row[2]) for row in at.exec_driver_sql("PRAGMA foreign_key_check")})
    except DBAPIError as fault:
        said, loose = [str(fault.orig)], []
    for words in said:
        yield f"The file of the book is damaged: {words.strip()}. Restore a backup into another folder."
    for table, other in loose:
        yield f"Rows of {table} point to rows of {other} that are not there."


def _sequence(at: Connection, count: int) -> Iterator[str]:
    e = truth.event
    first, last = at.execute(select(func.min(e.c.seq), func.max(e.c.seq))).one()
    written = at.execute(select(truth.book.c.last_seq)).scalar_one()
    if count and (first, last) != (1, count):
        yield f"{count} events are numbered {first} to {last}: some are missing."
    if (last or 0) != written:
        yield f"The book says that its last event is {written}; it is {last or 0}."


def _reading(at: Connection) -> Iterator[str]:
    """The read models against the events."""
    try:
        should, stands = standing_anew(at), standing(at)
    except Problem as fault:
        yield f"The events cannot be read anew: {fault}"
        return
    for table, rows in should.items():
        if rows != stands[table]:
            differ = len(set(rows) ^ set(stands[table]))
            yield f"{table}: {differ} rows are not what the events say. Make a backup and restore it: that reads all events anew."


def _files(files: Files, named: set[str]) -> Iterator[str]:
    for name in sorted(named):
        if not files.has(name):
            yield f"The file {name} is missing; a backup may hold it."
        elif not files.sound(name):
            yield f"The file {name} was changed or damaged; a backup may hold it."


def _counts(at: Connection) -> Iterator[str]:
    """A device that counted twice alike was set back; its decisions "after my command n" may mean either."""
    e = truth.event
    twice = select(e.c.device, e.c.count).group_by(e.c.device, e.c.count).having(func.count() > 1).order_by(e.c.device, e.c.count)
    for device, count in at.execute(twice):
        yield f"Device {device[:8]} sent two commands with number {count}: it was set back, or copied."


def _of_jobs(at: Connection) -> set[str]:
    """Files that jobs read and wrote; losing one costs nothing but time."""
    j = truth.job
    return set(at.execute(select(j.c.input).union(select(j.c.answer))).scalars())


def _lying_about(files: Files, named: set[str]) -> Iterator[str]:
    spare = sum(name not in named for name in files.names())
    halves = sum(1 for _ in files.folder.glob(f"{HALF}*"))
    if spare:
        yield f"{spare} files are named by no event (sent, and what names them never came)."
    if halves:
        yield f"{halves} half-written files lie about; they count for nothing and may be deleted."


def _free(folder: Path) -> int:
    """Room on the disk where the files lie or would lie."""
    while not folder.exists():
        folder = folder.parent
    return shutil.disk_usage(folder).free
