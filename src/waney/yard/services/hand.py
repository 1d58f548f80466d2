"""The hand that writes: who, from which device, with a clock and a source of ids that are handed in."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import datetime

from waney.yard.acts.every import Act
from waney.yard.book.book import Answer, Book
from waney.yard.book.looking import next_count, version_of
from waney.yard.commands import Command, Read
from waney.yard.here import kept


@dataclass(frozen=True)
class Hand:
    """Somebody at a device that is in reach of the book; one that is not keeps a list of commands instead.

    new_command: ids of commands, where they are others than new_id draws.
    """

    book: Book
    device: str
    person: str
    now: Callable[[], datetime]
    new_id: Callable[[], str]
    new_command: Callable[[], str] | None = None

    def seen(self, act: Act) -> tuple[Read, ...]:
        """Everything that a decision is made on, as it stands now."""
        return tuple(Read(each, version_of(self.book, each)) for each in act.streams())

    def write(self, act: Act, *read: Read, files: Iterable[bytes] = ()) -> Answer:
        """Write an act; files: those it names. Raises Refused, FileLost, BookFull, BookBusy: then it is not written."""
        for content in files:
            self.book.files.keep(content)
        now = self.now()
        count = next_count(self.book, self.device)
        ident = (self.new_command or self.new_id)()
        return self.book.send(Command(ident, self.device, count, self.person, kept(now), act, read), now)


@dataclass(frozen=True)
class Made:
    """The id of what was written, and the book's answer."""

    id: str
    answer: Answer
