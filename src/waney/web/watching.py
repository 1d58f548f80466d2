"""Watching: what was found of stacks that were weighed this week, kept until something more is told of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from threading import Lock


@dataclass(frozen=True)
class Known:
    """About a stack as it stood: told by which events and settings (key); job: the question when it is ready; fast: what dries
    too fast there, None: not answered yet."""

    key: tuple[str, ...]
    job: str
    fast: tuple[Fast, ...] | None


@dataclass(frozen=True)
class Fast:
    """A piece that dries too fast: its name, the day of its last weight (a date), and how fast, in a word and two numbers."""

    piece: str
    weighed: str
    losing: str


class Watching:
    """By stack; what is of no stack in sight any more is forgotten."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._known: Mapping[str, Known] = {}

    def known(self, stack: str, key: tuple[str, ...]) -> Known | None:
        """What was found of a stack; None where something was told since."""
        with self._lock:
            found = self._known.get(stack)
        return found if found is not None and found.key == key else None

    def keep(self, known: Mapping[str, Known]) -> None:
        """These, and nothing else."""
        with self._lock:
            self._known = dict(known)
