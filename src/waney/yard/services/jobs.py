"""The worker: takes jobs of the book and does each in a process of its own, as many at once as there are cores but one."""

from __future__ import annotations

import os
import socket
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime

from waney.figures.problem import Problem
from waney.work.apart import Apart, Said, Work, start_apart
from waney.yard.book import jobs
from waney.yard.book.book import Book
from waney.yard.book.jobs import Job

LOOKS_S = 0.1
"""how often the line is looked at"""
SAYS_S = 2.0
"""how often the book is told that somebody is still at it"""
MEMORY_BYTES = 4 * 2**30
"""what one job may have (common practice, no source)"""


def at_once() -> int:
    """How many jobs run at once: cores but one, at least one."""
    return max((os.cpu_count() or 1) - 1, 1)


def run_jobs(
    book: Book,
    kinds: Mapping[str, Work],
    stop: Callable[[], bool],
    now: Callable[[], datetime] = lambda: datetime.now(UTC),
    processes: int | None = None,
    memory_bytes: int | None = MEMORY_BYTES,
) -> None:
    """Take jobs of these kinds and do them until `stop()`; what is not done by then waits again for the next worker.

    Jobs that a worker held which is gone wait again at once. Raises BookBusy when the book cannot be reached for too long.
    """
    worker = Worker(book, kinds, now, processes or at_once(), memory_bytes)
    try:
        while not stop():
            worker.look()
            time.sleep(LOOKS_S)
    finally:
        worker.let_go()


def holder_here() -> str:
    """Who works here: machine, process, and when it began."""
    return f"{socket.gethostname()}:{os.getpid()}:{time.time_ns()}"


def gone(holder: str) -> bool:
    """Whether a holder is a process of this machine that is no more; of others nobody can say."""
    host, _, rest = holder.rpartition(":")[0].rpartition(":")
    if host != socket.gethostname() or os.name == "nt":
        return False
    try:
        os.kill(int(rest), 0)
    except ProcessLookupError:
        return True
    except (PermissionError, ValueError):
        return False
    return False


@dataclass
class Running:
    """A job and the process that does it."""

    job: Job
    apart: Apart
    said_at: float
    share: float = 0.0
    words: str = ""
    told: tuple[float, str] = (0.0, "")


@dataclass
class Worker:
    """What runs at the moment."""

    book: Book
    kinds: Mapping[str, Work]
    now: Callable[[], datetime]
    processes: int
    memory_bytes: int | None
    holder: str = field(default_factory=holder_here)
    running: list[Running] = field(default_factory=list)
    swept_at: float = float("-inf")

    def look(self) -> None:
        """Hear what runs, put back what was lost, begin what waits."""
        self.running = [each for each in self.running if self._goes_on(each)]
        if time.monotonic() - self.swept_at > jobs.SILENT.total_seconds() / 3:
            self.swept_at = time.monotonic()
            jobs.requeue(self.book, lambda holder: holder != self.holder and gone(holder), self.now())
        while len(self.running) < self.processes:
            job = jobs.take(self.book, self.kinds.keys(), self.holder, self.now())
            if job is None:
                return
            self._begin(job)

    def let_go(self) -> None:
        """End everything; the jobs wait again."""
        for each in self.running:
            each.apart.end()
            jobs.give_back(self.book, each.job.id, self.holder, self.now())
        self.running = []

    def _begin(self, job: Job) -> None:
        try:
            content = self.book.files.read(job.input)
        except Problem as why:
            jobs.fail(self.book, job.id, self.holder, str(why), self.now())
            return
        apart = start_apart(self.kinds[job.kind], content, self.memory_bytes)
        self.running.append(Running(job, apart, time.monotonic()))

    def _goes_on(self, each: Running) -> bool:
        was_gone = each.apart.gone()  # asked first: what it said last is heard after that
        for said, share, words, content in each.apart.heard():
            each.share, each.words = share, words
            if said is not Said.PROGRESS:
                self._ended(each, said, content)
                return False
        if was_gone:
            each.apart.end()
            jobs.give_back(self.book, each.job.id, self.holder, self.now())
            return False
        return self._still_wanted(each)

    def _ended(self, each: Running, said: Said, content: bytes) -> None:
        each.apart.end()
        if said is Said.DONE:
            jobs.finish(self.book, each.job.id, self.holder, content, self.now())
        else:
            jobs.fail(self.book, each.job.id, self.holder, each.words, self.now())

    def _still_wanted(self, each: Running) -> bool:
        """Tell the book how far it is, at times; whoever cancelled is heard at the next look."""
        told, silent_s = (each.share, each.words), time.monotonic() - each.said_at
        cancelled = jobs.look(self.book, each.job.id).cancel
        if not cancelled and silent_s < (SAYS_S if told == each.told else SAYS_S / 4):
            return True
        each.said_at, each.told = time.monotonic(), told
        if jobs.progress(self.book, each.job.id, self.holder, *told, self.now()):
            return True
        each.apart.end()
        jobs.stopped(self.book, each.job.id, self.holder, self.now())
        return False
