"""Jobs: asked once, taken by one, done, failed with a sentence, cancelled, and done after all when their worker was killed."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from waney.work.apart import STEPS_BACK
from waney.yard.book import jobs
from waney.yard.book.book import Book
from waney.yard.book.engine import Lies
from waney.yard.book.examining import examine
from waney.yard.book.jobs import JobState
from waney.yard.problems import NotInBook
from waney.yard.services import jobs as service
from waney.yard.services.jobs import WARMS_AFTER_S, Worker, run_jobs

from .conftest import NOW, Ids
from .work_to_do import KINDS

ROOT = Path(__file__).parents[2]
unix = pytest.mark.skipif(sys.platform == "win32", reason="no SIGKILL")


def asked(book: Book, ids: Ids, kind: str, content: bytes) -> str:
    return jobs.ask(book, ids(), kind, content, "1", NOW).id


def worked(book: Book, until: Callable[[], bool], memory_bytes: int = 4 * 2**30) -> None:
    """Let a worker work until something is so, a minute at most."""
    end = time.monotonic() + 60
    run_jobs(book, KINDS, lambda: until() or time.monotonic() > end, processes=2, memory_bytes=memory_bytes)
    assert until()


def ended(book: Book, *idents: str) -> Callable[[], bool]:
    return lambda: all(jobs.look(book, ident).ended_at for ident in idents)


def test_the_same_is_asked_once_and_answered_at_once_when_it_is_done(book: Book, ids: Ids) -> None:
    first = asked(book, ids, "upper", b"ash")
    assert asked(book, ids, "upper", b"ash") == first and jobs.answer(book, first) is None
    others = [asked(book, ids, "upper", b"elm"), jobs.ask(book, ids(), "upper", b"ash", "2", NOW).id]
    assert len({first, *others}) == 3
    worked(book, ended(book, first, *others))
    assert [jobs.answer(book, each) for each in (first, *others)] == [b"ASH", b"ELM", b"ASH"]
    again = jobs.ask(book, ids(), "upper", b"ash", "1", NOW)
    assert (again.id, again.state, again.progress) == (first, JobState.DONE, 1.0)
    assert examine(book).unsound == () == examine(book).remarks and len(jobs.last_jobs(book)) == 3


def test_one_process_does_one_job_after_the_other_and_each_gets_its_own_answer(book: Book, ids: Ids) -> None:
    """One asked for while it is still getting ready too."""
    jobs_of = [asked(book, ids, "who", str(number).encode()) for number in range(3)]
    end = time.monotonic() + 60
    run_jobs(book, KINDS, lambda: ended(book, *jobs_of)() or time.monotonic() > end, processes=1)
    told = [jobs.answer(book, job) for job in jobs_of]
    numbers, processes = zip(*(each.split() for each in told if each), strict=True)
    assert numbers == (b"0", b"1", b"2") and len(set(processes)) == 1


def test_a_worker_with_nothing_to_do_gets_ready_and_a_job_that_comes_meanwhile_is_not_taken_for_done(
    book: Book, ids: Ids
) -> None:
    job = ""

    def so() -> bool:
        nonlocal job
        if time.monotonic() > began + WARMS_AFTER_S + 0.5 and not job:
            job = asked(book, ids, "who", b"ash")
        return time.monotonic() > began + 60 or bool(job and ended(book, job)())

    began = time.monotonic()
    run_jobs(book, KINDS, so, processes=1, warm=KINDS["slow_upper"])
    assert (jobs.answer(book, job) or b"").startswith(b"ash ")


def test_an_answer_that_was_lost_is_worked_out_again(book: Book, ids: Ids) -> None:
    first = asked(book, ids, "upper", b"ash")
    worked(book, ended(book, first))
    found = jobs.find(book, "upper", b"ash", "1")
    assert found is not None and found.id == first
    book.files.path(jobs.look(book, first).answer).unlink()
    assert jobs.find(book, "upper", b"ash", "1") is None, "whoever only looks must not wait for it for ever"
    assert asked(book, ids, "upper", b"ash") != first


@pytest.mark.parametrize(("kind", "sentence"), [
    ("no_plan", "oak is no log."), ("breaks", "Something in the program went wrong here (ZeroDivisionError"),
    pytest.param("hungry", "This needs more memory than it may have (1.0 GB)", marks=unix),
])  # fmt: skip
def test_what_fails_says_why_and_is_tried_again_when_somebody_says_so(book: Book, ids: Ids, kind: str, sentence: str) -> None:
    job = asked(book, ids, kind, b"oak")
    worked(book, ended(book, job), memory_bytes=2**30)
    told = jobs.look(book, job)
    assert told.state is JobState.FAILED and told.message.startswith(sentence) and jobs.answer(book, job) is None
    assert asked(book, ids, kind, b"oak") == job and jobs.take(book, [kind], "here", NOW) is None, "a look burns no processor"
    again = jobs.ask_again(book, ids(), job, "1", NOW)
    assert again.id != job and again.state is JobState.WAITING
    assert {jobs.ask_again(book, ids(), each, "1", NOW).id for each in (job, again.id)} == {again.id}, "pressed twice it is one"
    assert asked(book, ids, kind, b"oak") == again.id


@unix
def test_a_process_that_was_killed_is_started_again_but_not_for_ever(book: Book, ids: Ids, tmp_path: Path) -> None:
    once, always = asked(book, ids, "dies_once", str(tmp_path / "been").encode()), asked(book, ids, "dies", b"")
    worked(book, ended(book, once, always))
    assert jobs.answer(book, once) == b"done" and jobs.look(book, once).tries == 2
    assert jobs.look(book, always).state is JobState.FAILED and jobs.look(book, always).message == jobs.GIVEN_UP


@unix
def test_a_worker_that_was_killed_leaves_its_job_to_the_next(book: Book, lies: Lies, ids: Ids, tmp_path: Path) -> None:
    at = tmp_path / "pid"
    job = asked(book, ids, "endless", str(at).encode())
    words = [sys.executable, "-m", "tests.yard.work_to_do", lies.url, str(lies.files)]
    worker = subprocess.Popen(words, cwd=ROOT, env=os.environ | {"PYTHONPATH": str(ROOT / "src")})
    until(lambda: at.exists() and at.read_text() != "")
    worker.kill()
    worker.wait()
    until(lambda: not alive(int(at.read_text())))
    assert jobs.look(book, job).state is JobState.RUNNING
    at.unlink()
    worked(book, at.exists)
    told = jobs.look(book, job)
    assert (told.state, told.holder, told.tries) == (JobState.WAITING, "", 2)  # the next worker was told to stop and gave it back


def alive(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return not Path(f"/proc/{process}/stat").exists() or " Z " not in Path(f"/proc/{process}/stat").read_text()


def until(so: Callable[[], bool]) -> None:
    end = time.monotonic() + 60
    while not so():
        assert time.monotonic() < end
        time.sleep(0.05)


@unix
def test_what_is_cancelled_stops_whether_it_waits_or_runs(book: Book, ids: Ids, tmp_path: Path) -> None:
    at = tmp_path / "pid"
    waits, runs = asked(book, ids, "upper", b"x"), asked(book, ids, "endless", str(at).encode())
    assert jobs.cancel(book, waits, NOW).state is JobState.CANCELLED
    other = threading.Thread(target=lambda: (until(at.exists), jobs.cancel(book, runs, NOW)))
    other.start()
    worked(book, ended(book, runs))
    other.join()
    assert jobs.look(book, runs).state is JobState.CANCELLED and not alive(int(at.read_text()))
    assert asked(book, ids, "upper", b"x") == waits and jobs.ask_again(book, ids(), waits, "1", NOW).id != waits
    with pytest.raises(NotInBook):
        jobs.cancel(book, ids(), NOW)


def test_of_many_workers_one_takes_a_job(book: Book, ids: Ids) -> None:
    wanted = {asked(book, ids, "upper", b"%d" % n) for n in range(20)}
    with ThreadPoolExecutor(8) as pool:
        taken = list(pool.map(lambda n: jobs.take(book, ["upper"], f"worker {n % 8}", NOW), range(30)))
    idents = [job.id for job in taken if job is not None]
    assert sorted(idents) == sorted(wanted) and jobs.take(book, ["upper"], "late", NOW) is None


def test_a_silent_worker_loses_its_job_and_can_no_longer_end_it(book: Book, ids: Ids) -> None:
    job = asked(book, ids, "upper", b"x")
    jobs.take(book, ["upper"], "elsewhere:1:1", NOW)
    soon, late = NOW + timedelta(seconds=20), NOW + timedelta(seconds=40)
    assert jobs.requeue(book, lambda holder: False, soon) == ()
    assert jobs.progress(book, job, "elsewhere:1:1", 0.5, "half", soon) and jobs.requeue(book, lambda holder: False, late) == ()
    assert jobs.requeue(book, lambda holder: False, late + timedelta(seconds=20)) == (job,)
    assert jobs.look(book, job).state is JobState.WAITING and not jobs.finish(book, job, "elsewhere:1:1", b"X", late)
    assert jobs.take(book, ["other kind"], "here", datetime.now(UTC)) is None


def test_what_somebody_stands_and_waits_for_goes_first(book: Book, ids: Ids) -> None:
    patient, urgent, later = (asked(book, ids, kind, word) for kind, word in (("upper", b"a"), ("who", b"b"), ("who", b"c")))
    taken = [jobs.take(book, ("who", "upper"), "somebody", NOW) for _ in range(4)]
    assert [job and job.id for job in taken] == [urgent, later, patient, None]


@unix
def test_what_somebody_stands_and_waits_for_is_done_beside_a_long_job_that_steps_back(
    book: Book, ids: Ids, tmp_path: Path
) -> None:
    at, urgent, nice = tmp_path / "pid", [""], [0]
    long, line = (asked(book, ids, "endless", str(tmp_path / name).encode()) for name in ("pid", "other"))

    def so() -> bool:
        if at.exists() and at.read_text() and not urgent[0]:
            urgent[0] = asked(book, ids, "who", b"oak")
            nice[0] = os.getpriority(os.PRIO_PROCESS, int(at.read_text()))
        return time.monotonic() > end or bool(urgent[0] and ended(book, urgent[0])())

    end = time.monotonic() + 60
    run_jobs(book, KINDS, so, processes=1, warm=KINDS["upper"], urgent=["who"])
    assert (jobs.answer(book, urgent[0]) or b"").split() != [b"oak", at.read_bytes()]
    assert [jobs.look(book, job).tries for job in (long, line)] == [1, 0], "one long job at once, never ended for another"
    assert nice[0] == min(os.getpriority(os.PRIO_PROCESS, 0) + STEPS_BACK, 19)


def looked_until(worker: Worker, so: Callable[[], bool]) -> None:
    end = time.monotonic() + 60
    while not so():
        assert time.monotonic() < end
        worker.look()
        time.sleep(0.05)


def test_a_process_is_ready_while_long_work_goes_on_and_what_has_stepped_back_gives_its_memory_back(
    book: Book, ids: Ids, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "WARMS_AFTER_S", 0.0)
    worker = Worker(book, KINDS, lambda: NOW, 1, None, KINDS["upper"], ["who"])
    looked_until(worker, lambda: len(worker.idle) == 1)
    first = worker.idle[0].apart.process.pid
    job = asked(book, ids, "slow_upper", b"ash")
    looked_until(worker, lambda: bool(worker.running and worker.idle))
    assert worker.running[0].apart.process.pid == first != worker.idle[0].apart.process.pid
    looked_until(worker, ended(book, job))
    assert [free.apart.steps_back for free in worker.idle] == [False, True]
    monkeypatch.setattr(service, "LINGERS_S", 0.0)
    looked_until(worker, lambda: len(worker.idle) == 1)
    assert not worker.idle[0].apart.steps_back
    worker.let_go()


@unix
def test_a_process_that_dies_while_it_gets_ready_is_not_started_again_and_again(
    book: Book, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(service, "WARMS_AFTER_S", 0.0)
    worker = Worker(book, KINDS, lambda: NOW, 1, None, KINDS["dies"], ["who"])
    looked_until(worker, lambda: bool(worker.idle))
    looked_until(worker, lambda: not worker.idle)
    assert worker.warm is None
    worker.let_go()
