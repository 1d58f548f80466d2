"""One piece of work in a process of its own: its memory capped, ended whenever somebody says so, gone when its parent is gone."""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from importlib import import_module
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess

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


class Said(StrEnum):
    """What a process says of its work."""

    PROGRESS = "progress"
    DONE = "done"
    FAILED = "failed"


@dataclass
class Apart:
    """A piece of work that goes on in another process."""

    process: BaseProcess
    pipe: Connection

    def heard(self) -> list[tuple[Said, float, str, bytes]]:
        """What it has said since: share, words, answer. Nothing more comes after DONE or FAILED."""
        told: list[tuple[Said, float, str, bytes]] = []
        try:
            while self.pipe.poll():
                told.append(self.pipe.recv())
        except (EOFError, OSError):
            pass
        return told

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


def start_apart(work: Work, content: bytes, memory_bytes: int | None) -> Apart:
    """Start a piece of work in a process that begins afresh (nothing of this one is copied into it)."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_work, args=(work, content, theirs, memory_bytes), daemon=True)
    process.start()
    theirs.close()
    return Apart(process, ours)


def _work(work: Work, content: bytes, pipe: Connection, memory_bytes: int | None) -> None:
    threading.Thread(target=_end_with_parent, daemon=True).start()
    _cap_memory(memory_bytes)

    def progress(share: float, words: str) -> None:
        pipe.send((Said.PROGRESS, share, words, b""))

    try:
        pipe.send((Said.DONE, 1.0, "", work(content, progress)))
    except Problem as why:
        pipe.send((Said.FAILED, 0.0, str(why), b""))
    except MemoryError:
        most = "" if memory_bytes is None else f" ({memory_bytes / 2**30:.1f} GB)"
        pipe.send((Said.FAILED, 0.0, f"This needs more memory than it may have{most}; ask for less at once.", b""))
    except Exception as fault:  # whatever it is, whoever asked must hear of it
        told = f"Something in the program went wrong here ({type(fault).__name__}: {fault}). Please report it."
        pipe.send((Said.FAILED, 0.0, told, b""))


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
