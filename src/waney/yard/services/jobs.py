"""The worker: takes jobs of the book and does them in processes of their own, as many at once as there are cores but one, and
one more of those that somebody stands and waits for."""

from __future__ import annotations

import os
import socket
import time
from collections.abc import Callable, Collection, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime

from waney.figures.problem import Problem
from waney.work.apart import Apart, Heard, Said, Work, start_apart
from waney.yard.book import jobs
from waney.yard.book.book import Book
from waney.yard.book.jobs import Job

LOOKS_S = 0.1
"""how often the line is looked at"""
SAYS_S = 2.0
"""how often the book is told that somebody is still at it"""
BESIDE_S = 1.0
"""how often it is looked whether something follows from what was answered"""
MEMORY_BYTES = 4 * 2**30
"""what one job may have (common practice, no source)"""
WARMS_AFTER_S = 1.0
"""so long after its start a worker gets a process ready (ours, no source): the first page comes before"""
LINGERS_S = 120.0
"""a process that has stepped back and has nothing to do gives its memory back after so long (ours, no source)"""


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
    warm: Work | None = None,
    urgent: Collection[str] = (),
    beside: Callable[[], object] = lambda: None,
) -> None:
    """Take jobs of these kinds, the first of them first, and do them until `stop()`; what is not done waits for the next worker.

    Jobs that a worker held which is gone wait again at once. warm: done on nothing in a process that is kept for the next job, so
    that what most jobs load is loaded by then. urgent: kinds that wait for no other: one of them is done beside `processes` that
    are at work, and all the others step back. beside: done once a second, for what follows from answers. Raises BookBusy when
    the book cannot be reached for too long.
    """
    worker = Worker(book, kinds, now, processes or at_once(), memory_bytes, warm, urgent)
    beside_at = float("-inf")
    try:
        while not stop():
            worker.look()
            if time.monotonic() - beside_at > BESIDE_S:
                beside()
                beside_at = time.monotonic()
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


@dataclass(frozen=True)
class Idle:
    """A process that has nothing to do, and since when."""

    apart: Apart
    since: float = field(default_factory=time.monotonic)


@dataclass
class Worker:
    """What runs at the moment."""

    book: Book
    kinds: Mapping[str, Work]
    now: Callable[[], datetime]
    processes: int
    memory_bytes: int | None
    warm: Work | None = None
    urgent: Collection[str] = ()
    holder: str = field(default_factory=holder_here)
    running: list[Running] = field(default_factory=list)
    idle: list[Idle] = field(default_factory=list)
    swept_at: float = float("-inf")
    began_at: float = field(default_factory=time.monotonic)

    def look(self) -> None:
        """Hear what runs, put back what was lost, begin what waits."""
        self.running = [each for each in self.running if self._goes_on(each)]
        if time.monotonic() - self.swept_at > jobs.SILENT.total_seconds() / 3:
            self.swept_at = time.monotonic()
            jobs.requeue(self.book, lambda holder: holder != self.holder and gone(holder), self.now())
        while (job := self._next()) is not None:
            self._begin(job)
        self._let_idle_go()
        self._get_ready()

    def _next(self) -> Job | None:
        """A job that there is room for: an urgent one finds room where the others have none left."""
        patient = sum(each.job.kind not in self.urgent for each in self.running)
        kinds = [kind for kind in self.kinds if kind in self.urgent or patient < self.processes]
        room = self.processes + bool(self.urgent)
        return jobs.take(self.book, kinds, self.holder, self.now()) if kinds and len(self.running) < room else None

    def let_go(self) -> None:
        """End everything; the jobs wait again."""
        for free in self.idle:
            free.apart.end()
        self.idle = []
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
        patient = bool(self.urgent) and job.kind not in self.urgent
        apart = self._free(patient)
        with suppress(OSError):  # it went in this very moment: seen at the next look, and the job waits again
            apart.give(self.kinds[job.kind], content, patient)
        self.running.append(Running(job, apart, time.monotonic()))

    def _free(self, patient: bool) -> Apart:
        """A process that has nothing to do, for patient work one that has stepped back before one that is ready, or a new one."""
        fit = [free for free in self.idle if not free.apart.gone() and (patient or not free.apart.steps_back)]
        if not fit:
            return start_apart(self.memory_bytes)
        free = max(fit, key=lambda one: one.apart.steps_back)
        self.idle.remove(free)
        return free.apart

    def _let_idle_go(self) -> None:
        """What is gone, what lingers, and what is ready beside another."""
        ready = [free for free in self.idle if not free.apart.steps_back]
        if any(free.apart.gone() for free in ready):
            self.warm = None  # it went by itself: another one would too
        late = time.monotonic() - LINGERS_S
        for free in self.idle[:]:
            if free.apart.gone() or (free.since < late if free.apart.steps_back else free is not ready[-1]):
                self.idle.remove(free)
                free.apart.end()

    def _get_ready(self) -> None:
        """When there was time for it, and whenever the last one went to work: a process that has loaded what most jobs need."""
        if self.warm is None or time.monotonic() - self.began_at < WARMS_AFTER_S:
            return
        there = [free.apart for free in self.idle] + [each.apart for each in self.running]
        if all(apart.steps_back and apart.begun for apart in there):
            self.idle.append(Idle(start_apart(self.memory_bytes)))
            self.idle[-1].apart.give(self.warm, b"")

    def _goes_on(self, each: Running) -> bool:
        was_gone = each.apart.gone()  # asked first: what it said last is heard after that
        for heard in each.apart.heard():
            each.share, each.words = heard.share, heard.words
            if heard.said is not Said.PROGRESS:
                self._ended(each, heard)
                return False
        if was_gone:
            each.apart.end()
            jobs.give_back(self.book, each.job.id, self.holder, self.now())
            return False
        return self._still_wanted(each)

    def _ended(self, each: Running, last: Heard) -> None:
        if last.stays:
            self.idle.append(Idle(each.apart))
        else:
            each.apart.end()
        if last.said is Said.DONE:
            jobs.finish(self.book, each.job.id, self.holder, last.answer, self.now())
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
