"""Jobs: work too long for a tap. Asked once, taken by one worker, cancellable, its answer kept as a file; no event."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import Any

from sqlalchemy import Connection, case, func, insert, select, update

from waney.yard.book import truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading, writing
from waney.yard.book.files import name_of
from waney.yard.problems import NotInBook

MOST_TRIES = 3
"""a job that takes its worker down so often is given up"""
SILENT = timedelta(seconds=30)
"""a worker that has not said a word for so long is gone"""
GIVEN_UP = "Its worker was ended from outside three times (perhaps for want of memory), so it was given up. Ask for less at once."


class JobState(StrEnum):
    """How far a job is."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"


OVER = (JobState.FAILED, JobState.CANCELLED)
"""without an answer: only who asks again has it tried again"""


@dataclass(frozen=True)
class Job:
    """A job. input, answer: files by SHA-256 (answer: empty until it is done); progress: 0 to 1; message: what it says last.

    A failed one has its sentence there. cancel: somebody asked to stop it. holder: whoever works on it.
    """

    id: str
    place: int
    kind: str
    input: str
    version: str
    state: JobState
    progress: float
    message: str
    answer: str
    asked_at: str
    taken_at: str
    told_at: str
    ended_at: str
    holder: str
    tries: int
    cancel: bool


def ask(book: Book, ident: str, kind: str, content: bytes, version: str, now: datetime) -> Job:
    """Ask for work on some bytes by a program of this version. Where the same was asked before that job is answered instead, also
    one that failed or was stopped (`ask_again`).

    Raises BookFull, BookBusy.
    """
    held = find(book, kind, content, version)
    if held is not None:
        return held
    name = book.files.keep(content)
    with _held(book) as at:
        held = _found(at, book, kind, name, version)  # somebody may have asked meanwhile
        return held or _asked(at, ident, kind, name, version, now)


def ask_again(book: Book, ident: str, failed: str, version: str, now: datetime) -> Job:
    """Have what failed or was stopped tried again, by a program of this version. Where somebody did already that job is answered.

    ident: of the new job; failed: of the old one. Raises NotInBook, BookBusy.
    """
    with _held(book) as at:
        before = _look(at, failed)
        last = _found(at, book, before.kind, before.input, version)
        return last if last and last.state not in OVER else _asked(at, ident, before.kind, before.input, version, now)


def _asked(at: Connection, ident: str, kind: str, name: str, version: str, now: datetime) -> Job:
    """A new job, the last of the line."""
    j = truth.job
    place = at.execute(select(func.coalesce(func.max(j.c.place), 0))).scalar_one() + 1
    told = {"state": JobState.WAITING, "progress": 0.0, "message": "", "answer": "", "asked_at": _when(now)}
    none = {"taken_at": "", "told_at": "", "ended_at": "", "holder": "", "tries": 0, "cancel": 0}
    at.execute(insert(j), {"id": ident, "place": place, "kind": kind, "input": name, "version": version, **told, **none})
    return _look(at, ident)


def find(book: Book, kind: str, content: bytes, version: str) -> Job | None:
    """The job that was asked these bytes last; None where nobody asked, or where its answer is lost. Nothing is written."""
    with reading(book.engine) as at:
        return _found(at, book, kind, name_of(content), version)


def _found(at: Connection, book: Book, kind: str, name: str, version: str) -> Job | None:
    j = truth.job
    same = (j.c.kind == kind, j.c.input == name, j.c.version == version)
    row = at.execute(select(j).where(*same).order_by(j.c.place.desc()).limit(1)).mappings().first()
    return _job(row) if row is not None and (not row["answer"] or book.files.has(row["answer"])) else None


def newest_like(book: Book, ident: str) -> Job:
    """The job that was asked the same last, by the same program; it may be this one. Raises NotInBook."""
    j = truth.job
    with reading(book.engine) as at:
        one = _look(at, ident)
        same = (j.c.kind == one.kind, j.c.input == one.input, j.c.version == one.version)
        return _job(at.execute(select(j).where(*same).order_by(j.c.place.desc())).mappings().first())


def last_answers(book: Book, kind: str, limit: int = 1) -> tuple[str, ...]:
    """The files of the answers that jobs of a kind gave last, whatever was asked; newest first."""
    j = truth.job
    asked = select(j.c.answer).where(j.c.kind == kind, j.c.state == JobState.DONE).order_by(j.c.place.desc()).limit(limit)
    with reading(book.engine) as at:
        return tuple(at.execute(asked).scalars())


def look(book: Book, ident: str) -> Job:
    """How far a job is. Raises NotInBook."""
    with reading(book.engine) as at:
        return _look(at, ident)


def last_jobs(book: Book, limit: int = 50) -> tuple[Job, ...]:
    """The jobs asked for last, newest first."""
    with reading(book.engine) as at:
        return tuple(map(_job, at.execute(select(truth.job).order_by(truth.job.c.place.desc()).limit(limit)).mappings()))


def answer(book: Book, ident: str) -> bytes | None:
    """What came of a job; None while it is not done. Raises NotInBook, FileLost."""
    job = look(book, ident)
    return book.files.read(job.answer) if job.state is JobState.DONE else None


def take(book: Book, kinds: Sequence[str], holder: str, now: datetime) -> Job | None:
    """The job of the first of these kinds that waits, of one kind the one that has waited longest, for this holder alone."""
    j = truth.job
    urgent = case({kind: place for place, kind in enumerate(kinds)}, value=j.c.kind)
    waits = select(j.c.id).where(j.c.state == JobState.WAITING, j.c.kind.in_(kinds)).order_by(urgent, j.c.place).limit(1)
    with reading(book.engine) as at:  # who only looks stands in nobody's way
        if at.execute(waits).first() is None:
            return None
    with _held(book) as at:
        ident = at.execute(waits).scalar()
        if ident is None:
            return None
        values = {"state": JobState.RUNNING, "holder": holder, "taken_at": _when(now), "told_at": _when(now), "progress": 0.0}
        at.execute(update(j).where(j.c.id == ident).values(**values, message="", tries=j.c.tries + 1))
        return _look(at, ident)


def progress(book: Book, ident: str, holder: str, share: float, message: str, now: datetime) -> bool:
    """Say how far it is, or only that somebody is still at it. False: stop, it was cancelled or is no longer this holder's."""
    values = {"progress": min(max(share, 0.0), 1.0), "message": message, "told_at": _when(now)}
    with _held(book) as at:
        return _change(at, ident, holder, **values) and not _look(at, ident).cancel


def finish(book: Book, ident: str, holder: str, content: bytes, now: datetime) -> bool:
    """Keep the answer. False: it is no longer this holder's, nothing was changed. Raises BookFull."""
    name = book.files.keep(content)
    return _end(book, ident, holder, JobState.DONE, now, answer=name, progress=1.0, message="")


def fail(book: Book, ident: str, holder: str, sentence: str, now: datetime) -> bool:
    """It could not be done, and why."""
    return _end(book, ident, holder, JobState.FAILED, now, message=sentence)


def stopped(book: Book, ident: str, holder: str, now: datetime) -> bool:
    """It was stopped as somebody asked."""
    return _end(book, ident, holder, JobState.CANCELLED, now)


def cancel(book: Book, ident: str, now: datetime) -> Job:
    """Stop a job: at once if it waits, as soon as its worker hears of it if it runs. Raises NotInBook."""
    j = truth.job
    with _held(book) as at:
        state = _look(at, ident).state
        if state is JobState.WAITING:
            at.execute(update(j).where(j.c.id == ident).values(state=JobState.CANCELLED, cancel=1, ended_at=_when(now)))
        elif state is JobState.RUNNING:
            at.execute(update(j).where(j.c.id == ident).values(cancel=1))
        return _look(at, ident)


def requeue(book: Book, gone: Callable[[str], bool], now: datetime) -> tuple[str, ...]:
    """Jobs whose holder is gone, or has been silent for too long, wait again or are given up; their ids."""
    j = truth.job
    running = select(j).where(j.c.state == JobState.RUNNING).order_by(j.c.place)
    with reading(book.engine) as at:
        if at.execute(running).first() is None:
            return ()
    with _held(book) as at:
        lost = [job for job in map(_job, at.execute(running).mappings()) if gone(job.holder) or _silent(job, now)]
        for job in lost:
            at.execute(update(j).where(j.c.id == job.id).values(**_again(job, now)))
        return tuple(job.id for job in lost)


def give_back(book: Book, ident: str, holder: str, now: datetime) -> bool:
    """The worker ends or was ended: the job waits again, or is given up after too many tries."""
    with _held(book) as at:
        return _change(at, ident, holder, **_again(_look(at, ident), now))


def _again(job: Job, now: datetime) -> dict[str, Any]:
    if job.cancel:
        return {"state": JobState.CANCELLED, "holder": "", "ended_at": _when(now)}
    if job.tries >= MOST_TRIES:
        return {"state": JobState.FAILED, "holder": "", "ended_at": _when(now), "message": GIVEN_UP}
    return {"state": JobState.WAITING, "holder": "", "progress": 0.0, "message": ""}


def _silent(job: Job, now: datetime) -> bool:
    return now - datetime.fromisoformat(job.told_at) > SILENT


def _end(book: Book, ident: str, holder: str, state: JobState, now: datetime, **values: Any) -> bool:
    with _held(book) as at:
        return _change(at, ident, holder, state=state, ended_at=_when(now), **values)


def _change(at: Connection, ident: str, holder: str, /, **values: Any) -> bool:
    """Change a job that this holder runs; whether it does."""
    j = truth.job
    mine = (j.c.id == ident, j.c.holder == holder, j.c.state == JobState.RUNNING)
    return at.execute(update(j).where(*mine).values(**values)).rowcount == 1


@contextmanager
def _held(book: Book) -> Iterator[Connection]:
    """The one writing transaction."""
    with writing(book.engine) as at:
        at.execute(select(truth.book.c.last_seq).with_for_update())
        yield at


def _look(at: Connection, ident: str) -> Job:
    row = at.execute(select(truth.job).where(truth.job.c.id == ident)).mappings().first()
    if row is None:
        raise NotInBook("There is no such job.")
    return _job(row)


def _job(row: Any) -> Job:
    return Job(**{**row, "state": JobState(row["state"]), "cancel": bool(row["cancel"])})


def _when(now: datetime) -> str:
    return now.astimezone(UTC).isoformat(timespec="milliseconds")
