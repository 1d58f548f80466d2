"""Progress: what has been done so far, on the error stream of a terminal, once it takes over a second."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from threading import Event, Thread
from time import monotonic
from typing import Any

PATIENCE_S = 1.0
AGAIN_S = 0.2


class Progress:
    """A map over a pool that says how far it is; `over` is handed to a search in place of the built-in map."""

    def __init__(self, pool: Executor, what: str) -> None:
        self.pool, self.what = pool, what
        self.started = self.said = monotonic()

    def over(self, function: Callable[..., Any], *items: Iterable[Any]) -> Iterator[Any]:
        """Results in order, as the built-in map gives them."""
        rows = list(zip(*items, strict=False))
        for done, found in enumerate(self.pool.map(lambda row: function(*row), rows), 1):
            self._say(done, len(rows))
            yield found

    def _say(self, done: int, of: int) -> None:
        now = monotonic()
        if sys.stderr.isatty() and now - self.started > PATIENCE_S and now - self.said > AGAIN_S:
            print(f"\r{self.what}: {done} of {of} ", end="", file=sys.stderr, flush=True)
            self.said = now

    def close(self) -> None:
        """Clear the line."""
        if self.said > self.started:
            _clear()


@contextmanager
def working(what: str) -> Iterator[None]:
    """Says what is being done, and for how many seconds, while the body runs; nothing when that is within a second."""
    done = Event()
    teller = Thread(target=_tell, args=(what, done), daemon=True)
    if sys.stderr.isatty():
        teller.start()
    try:
        yield
    finally:
        done.set()
        if teller.is_alive():
            teller.join()


def _tell(what: str, done: Event) -> None:
    seconds = 0
    while not done.wait(PATIENCE_S):
        seconds += 1
        print(f"\r{what}: {seconds} s ", end="", file=sys.stderr, flush=True)
    if seconds:
        _clear()


def _clear() -> None:
    print("\r" + " " * 60 + "\r", end="", file=sys.stderr, flush=True)
