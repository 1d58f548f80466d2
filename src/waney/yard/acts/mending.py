"""Putting right: what was a slip is taken back, what cannot both be so is settled."""

from __future__ import annotations

from dataclasses import dataclass

from waney.yard.acts.base import Decision, Fact, ids, lines
from waney.yard.streams import Stream, checked_stream, stream


@dataclass(frozen=True)
class TakenBack(Fact):
    """A command was a slip of the finger; `about` is the stream it stands in."""

    command: str
    about: str
    words: str = ""

    def __post_init__(self) -> None:
        ids(command=self.command)
        checked_stream(self.about, "about")
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The stream of what is taken back."""
        return (Stream(self.about),)

    def needs(self) -> tuple[str, ...]:
        """The command."""
        return (f"command:{self.command}",)


@dataclass(frozen=True)
class TaskSettled(Decision):
    """A task is done. later_holds: of two facts that contradict each other, the one recorded later is so."""

    task: str
    later_holds: bool = False
    words: str = ""

    def __post_init__(self) -> None:
        lines(task=self.task, words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The task."""
        return (stream("task", self.task),)

    def needs(self) -> tuple[str, ...]:
        """Nothing: whether there is such a task is asked when it is decided."""
        return ()
