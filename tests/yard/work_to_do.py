"""Work for jobs to do; other processes find it by this module's name."""

from __future__ import annotations

import os
import signal
import sys
import time
from datetime import UTC, datetime
from pathlib import Path

from waney.work.apart import Progress, Work
from waney.yard.book.book import open_book
from waney.yard.book.engine import by_address
from waney.yard.problems import BadAct
from waney.yard.services.jobs import run_jobs


def upper(content: bytes, progress: Progress) -> bytes:
    progress(0.5, "half of it")
    return content.upper()


def who(content: bytes, _progress: Progress) -> bytes:
    """Says which process did it."""
    return content + b" %d" % os.getpid()


def slow_upper(content: bytes, _progress: Progress) -> bytes:
    time.sleep(2.0)
    return content.upper()


def no_plan(content: bytes, _progress: Progress) -> bytes:
    raise BadAct(f"{content.decode()} is no log.")


def breaks(_content: bytes, _progress: Progress) -> bytes:
    return b"%d" % (1 // 0)


def hungry(_content: bytes, _progress: Progress) -> bytes:
    return bytes(8 * 2**30)


def endless(content: bytes, progress: Progress) -> bytes:
    """Leaves the number of its process in a file, then goes on for ever."""
    Path(content.decode()).write_text(str(os.getpid()), encoding="utf-8")
    progress(0.25, "for ever")
    while True:
        time.sleep(0.05)


def dies_once(content: bytes, _progress: Progress) -> bytes:
    """Is killed the first time, done the second."""
    been = Path(content.decode())
    if not been.exists():
        been.write_text("here", encoding="utf-8")
        os.kill(os.getpid(), signal.SIGKILL)
    return b"done"


def dies(_content: bytes, _progress: Progress) -> bytes:
    os.kill(os.getpid(), signal.SIGKILL)
    return b""


KINDS: dict[str, Work] = {
    each.__name__: each for each in (upper, who, slow_upper, no_plan, breaks, hungry, endless, dies_once, dies)
}


if __name__ == "__main__":
    run_jobs(open_book(by_address(sys.argv[1], Path(sys.argv[2]))), KINDS, lambda: False, lambda: datetime.now(UTC))
