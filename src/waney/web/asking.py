"""Asking: what takes longer than a blink is asked as a job of the book, and looked at until it has answered."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path

import waney
from waney.web.asked.kinds import (
    BOULE,
    CUSTOM,
    CUTS,
    FLATTEN,
    GRADE,
    LABELS,
    LIST,
    LOAD,
    MEASURE,
    OF_PLAN,
    OF_STACK,
    OFFER,
    ONE_WAITING,
    PILE,
    PLACE,
    PLAN,
    PLANNED,
    ROOM,
    ROUGH,
    SCALE,
    SCAN,
    SEASONS,
    STACK,
    STEPS,
    TAGS,
    WAITING,
)
from waney.web.shop import Shop
from waney.work.apart import Work, Written
from waney.yard.book import jobs
from waney.yard.book.jobs import JobState

WORKS = "waney.web.works"
KINDS: Mapping[str, Work] = {
    STEPS: Written(f"{WORKS}.planning", "plan_steps"),
    ROUGH: Written(f"{WORKS}.planning", "plan_log"),
    PLAN: Written(f"{WORKS}.planning", "plan_log"),
    SCALE: Written(f"{WORKS}.scaling", "scale_log"),
    MEASURE: Written(f"{WORKS}.measuring", "measure_piece"),
    FLATTEN: Written(f"{WORKS}.flattening", "flatten_piece"),
    GRADE: Written(f"{WORKS}.grading", "grade_piece"),
    BOULE: Written(f"{WORKS}.ordering", "order_boule"),
    SCAN: Written(f"{WORKS}.scanning", "read_scan"),
    ROOM: Written(f"{WORKS}.rooming", "answer_room"),
    SEASONS: Written(f"{WORKS}.seasons", "follow_seasons"),
    PLANNED: Written(f"{WORKS}.outlining", "outline_of_plan"),
    PLACE: Written(f"{WORKS}.placing", "draw_place"),
    TAGS: Written(f"{WORKS}.printing", "print_tags"),
    LABELS: Written(f"{WORKS}.printing", "print_labels"),
    LIST: Written(f"{WORKS}.printing", "write_list"),
    OF_PLAN: Written(f"{WORKS}.printing", "print_of_plan"),
    OF_STACK: Written(f"{WORKS}.stack_paper", "print_stack"),
    PILE: Written(f"{WORKS}.load_pile", "draw_pile"),
    OFFER: Written(f"{WORKS}.offering", "answer_offer"),
    LOAD: Written(f"{WORKS}.loading", "plan_loads"),
    STACK: Written(f"{WORKS}.stacking", "forecast_stack"),
    CUSTOM: Written(f"{WORKS}.quoting", "quote_custom"),
    CUTS: Written(f"{WORKS}.cutting", "compare_ways"),
    ONE_WAITING: Written(f"{WORKS}.lying", "logs_waiting"),
    WAITING: Written(f"{WORKS}.lying", "logs_waiting"),
}
"""what a worker can do, by kind of job, first what somebody stands and waits for; nothing is loaded here: pages come soon"""
AT_THE_MILL = (STEPS, ROUGH)
"""what waits for no other work, because somebody stands beside the log; soon done"""
WARM = Written(f"{WORKS}.planning", "load_planning")
"""what a worker does while it waits for its next job"""
SAID = {
    JobState.WAITING: "It stands in line.",
    JobState.RUNNING: "It is being worked on",
    JobState.DONE: "Done.",
    JobState.CANCELLED: "It was stopped.",
}
PACKAGE = Path(waney.__path__[0])


@dataclass(frozen=True)
class Job:
    """A question that is being worked on, or was answered. share: how far, 0 to 1."""

    id: str
    state: JobState
    goes_on: bool
    words: str
    share: float

    @classmethod
    def at(cls, shop: Shop, ident: str) -> Job:
        """The job of an address, or the one that was asked the same after it. Raises NotInBook."""
        return _job(jobs.newest_like(shop.book, ident))


def _job(job: jobs.Job) -> Job:
    goes_on = job.state in (JobState.WAITING, JobState.RUNNING)
    words = job.message if job.state is JobState.FAILED else SAID[job.state]
    if job.state is JobState.RUNNING:
        words += f": {job.message}." if job.message else "."
    return Job(job.id, job.state, goes_on, words, job.progress)


def ask(shop: Shop, kind: str, given: bytes) -> Job:
    """Ask, or find the same question asked already: then nothing is written. Who looks does not have tried again what failed."""
    return _job(jobs.ask(shop.book, shop.new_id(), kind, given, program(), shop.now()))


def ask_again(shop: Shop, failed: str) -> Job:
    """Have a job that failed or was stopped tried again. Raises NotInBook."""
    return _job(jobs.ask_again(shop.book, shop.new_id(), failed, program(), shop.now()))


def asked_already(shop: Shop, kind: str, given: bytes) -> Job | None:
    """The job of a question, where somebody asked it."""
    found = jobs.find(shop.book, kind, given, program())
    return None if found is None else _job(found)


def last_answers(shop: Shop, kind: str, limit: int = 1) -> Iterator[bytes]:
    """What jobs of a kind answered last, newest first; for a page to show until the new answer is there."""
    for name in jobs.last_answers(shop.book, kind, limit):
        if shop.book.files.has(name):
            yield shop.book.files.read(name)


def answer_of(shop: Shop, job: Job) -> bytes | None:
    """The answer; None while there is none. Raises FileLost."""
    return jobs.answer(shop.book, job.id)


@cache
def program() -> str:
    """Which program answers: its version, and when its files were changed last; another one may answer otherwise."""
    changed = sorted((str(path.relative_to(PACKAGE)), path.stat().st_mtime_ns) for path in PACKAGE.rglob("*.py"))
    return f"{version('waney')}+{sha256(repr(changed).encode()).hexdigest()[:12]}"
