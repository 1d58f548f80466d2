"""Reckoned: sums over the whole book, worked out beside the pages and kept for as long as the book stands as it did."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from threading import Lock, Thread
from typing import Any, Generic, TypeVar

Sum = TypeVar("Sum")
PATIENCE_S = 0.06
"""so long a page waits for what is being worked out; of a small yard it is there by then"""
MOST_KEPT = 12


@dataclass(frozen=True)
class Answer(Generic[Sum]):
    """found: None while nothing was ever worked out; of_now: whether the book has heard nothing since."""

    found: Sum | None
    of_now: bool


@dataclass(frozen=True)
class _Outcome:
    stands: Hashable
    found: Any = None
    fault: Exception | None = None


@dataclass
class Reckoned:
    """What was worked out last, by what was asked; each is worked out by one thread at a time."""

    _known: dict[Hashable, _Outcome] = field(default_factory=dict)
    _working: dict[Hashable, Thread] = field(default_factory=dict)
    _lock: Lock = field(default_factory=Lock)

    def ask(self, what: Hashable, stands: Hashable, work: Callable[[], Sum], patience_s: float | None = None) -> Answer[Sum]:
        """What came of `work` for the book as it stands, else what came of it last, while a thread works it out anew.

        stands: anything that changes with the book; patience_s: how long to wait for that thread, None: to its end. Raises what
        `work` raised; whoever asks after that has it done again.
        """
        held = self._known.get(what)
        while held is None or held.stands != stands:
            self._begun(what, stands, work).join(patience_s)
            held = self._known.get(what)
            if patience_s is not None:
                break
        if held is None or (held.fault is not None and held.stands != stands):
            return Answer(None, of_now=False)
        if held.fault is not None:
            self._known.pop(what, None)  # it may have passed by the next look
            raise held.fault.with_traceback(None)
        return Answer(held.found, held.stands == stands)

    def _begun(self, what: Hashable, stands: Hashable, work: Callable[[], Any]) -> Thread:
        def run() -> None:
            try:
                outcome = _Outcome(stands, work())
            except Exception as fault:  # told to whoever asks
                outcome = _Outcome(stands, fault=fault)
            with self._lock:  # whoever reads meanwhile sees all of it as it was, or all as it is
                others = [(key, known) for key, known in self._known.items() if key != what]
                self._known = dict([*others, (what, outcome)][-MOST_KEPT:])
                del self._working[what]

        with self._lock:
            thread = self._working.get(what)
            if thread is None:
                thread = self._working[what] = Thread(target=run, daemon=True)
                thread.start()
            return thread
