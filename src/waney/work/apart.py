"""Work in another process, piece by piece: memory capped, ended when somebody says so, gone when its parent is gone."""

from __future__ import annotations

import multiprocessing
import os
import re
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from importlib import import_module
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import NamedTuple

from waney.figures.problem import Problem

Progress = Callable[[float, str], None]
"""Told how far the work is (0 to 1) and a few words."""
Work = Callable[[bytes, Progress], bytes]
"""Bytes in, bytes out; a function of a module, so that another process finds it."""


@dataclass(frozen=True)
class Written:
    """A piece of work by where it is written (module, function): nothing of it is loaded before somebody does it."""

    module: str
    function: str

    def __call__(self, content: bytes, progress: Progress) -> bytes:
        """Load it and do it."""
        work: Work = getattr(import_module(self.module), self.function)
        return work(content, progress)


PATIENCE_S = 5.0
"""how long an ended process may take to go before it is killed"""
STEPS_BACK = 10
"""how much nicer than others (0 to 19) a process is that steps back: about a tenth of a core that both want (ours, no source)"""
LARGE = 0.25
"""of the memory it may have (ours, no source): a process that has taken more does nothing else afterwards"""


class Said(StrEnum):
    """What a process says of its work."""

    PROGRESS = "progress"
    DONE = "done"
    FAILED = "failed"


class Heard(NamedTuple):
    """What a process said of its n-th piece of work: share of it done, words, answer; stays: it takes another one."""

    number: int
    said: Said
    share: float
    words: str
    answer: bytes
    stays: bool


@dataclass
class Apart:
    """Another process, and what is said to and fro. steps_back: it leaves the cores to others from its first patient work on."""

    process: BaseProcess
    pipe: Connection
    given: int = 0
    ended: int = 0
    steps_back: bool = False

    def give(self, work: Work, content: bytes, patient: bool = False) -> None:
        """A piece of work, begun when the one before is done; of that nothing more is heard. Raises OSError when it is gone.

        patient: it can wait where others want the cores; so does all that this process is given later, for no process may hurry
        again.
        """
        self.given += 1
        self.steps_back = self.steps_back or patient
        self.pipe.send((self.given, work, content, self.steps_back))

    @property
    def begun(self) -> bool:
        """Whether it is at its last piece of work, or done with it, as far as was heard."""
        return self.ended >= self.given - 1

    def heard(self) -> list[Heard]:
        """What it has said since of the last piece of work. Nothing more comes after DONE or FAILED."""
        told: list[Heard] = []
        try:
            while self.pipe.poll():
                told.append(self.pipe.recv())
        except (EOFError, OSError):
            pass
        self.ended = max([self.ended, *(each.number for each in told if each.said is not Said.PROGRESS)])
        return [each for each in told if each.number == self.given]

    def gone(self) -> bool:
        """Whether the process has ended."""
        return not self.process.is_alive()

    def end(self) -> None:
        """End it, whatever it does."""
        self.process.terminate()
        self.process.join(PATIENCE_S)
        if self.process.is_alive():
            self.process.kill()
            self.process.join()
        self.pipe.close()


def start_apart(memory_bytes: int | None) -> Apart:
    """Start a process that begins afresh (nothing of this one is copied into it) and waits for work."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_works, args=(theirs, memory_bytes), daemon=True)
    process.start()
    theirs.close()
    return Apart(process, ours)


def _works(pipe: Connection, memory_bytes: int | None) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _cap_memory(memory_bytes)
    stays = True
    while stays:
        number, work, content, steps_back = pipe.recv()
        if steps_back:
            _step_back()
        last = _done(number, work, content, pipe, memory_bytes)
        stays = last.stays
        pipe.send(last)


def _done(number: int, work: Work, content: bytes, pipe: Connection, memory_bytes: int | None) -> Heard:
    """What is said of it last."""

    def progress(share: float, words: str) -> None:
        pipe.send(Heard(number, Said.PROGRESS, share, words, b"", True))

    try:
        return Heard(number, Said.DONE, 1.0, "", work(content, progress), _small(memory_bytes))
    except Problem as why:
        return Heard(number, Said.FAILED, 0.0, str(why), b"", _small(memory_bytes))
    except MemoryError:
        most = "" if memory_bytes is None else f" ({memory_bytes / 2**30:.1f} GB)"
        return Heard(
            number, Said.FAILED, 0.0, f"This needs more memory than it may have{most}; ask for less at once.", b"", False
        )
    except Exception as fault:  # whatever it is, whoever asked must hear of it
        told = f"Something in the program went wrong here ({type(fault).__name__}: {fault}). Please report it."
        return Heard(number, Said.FAILED, 0.0, told, b"", False)


@cache
def _step_back() -> None:
    """Once, where the platform can."""
    if sys.platform != "win32":
        os.nice(STEPS_BACK)


def _small(memory_bytes: int | None) -> bool:
    """Whether it has never taken much memory; what once was taken is seldom given back whole."""
    return memory_bytes is None or _most_taken() < LARGE * memory_bytes


def _most_taken() -> int:
    """Bytes, as far as the platform tells; getrusage would count what the process that started this one had taken."""
    try:
        told = Path("/proc/self/status").read_text(encoding="ascii", errors="replace")
    except OSError:
        return 0
    found = re.search(r"^VmHWM:\s+(\d+) kB", told, re.MULTILINE)
    return int(found[1]) * 1024 if found else 0


def _end_with_parent() -> None:
    """A parent that was killed cannot end its children; they look after it themselves."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _cap_memory(memory_bytes: int | None) -> None:
    """Where the platform can."""
    try:
        import resource
    except ImportError:
        return
    if memory_bytes is not None:
        _, most = resource.getrlimit(resource.RLIMIT_AS)
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, most))
