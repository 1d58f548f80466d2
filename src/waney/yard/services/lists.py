"""Taking in a list of commands: a phone's queue, a take-along page, pictures of QR codes, a typed tally."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from waney.yard.book.book import Book
from waney.yard.commands import Command, Unreadable, read_commands
from waney.yard.problems import FileLost, Refused, Since, Stale


class Came(StrEnum):
    """What became of a command of a list."""

    WRITTEN = "written"
    BEFORE = "written before"
    REFUSED = "refused"
    UNREADABLE = "cannot be read"


@dataclass(frozen=True)
class Taken:
    """One command of a list: its id, what became of it, a sentence if it was not written or a tag is to be looked at again,
    what it left to put right.

    since: for a decision that came second, what had happened.
    """

    id: str
    came: Came
    seq: int | None = None
    sentence: str = ""
    tasks: tuple[str, ...] = ()
    since: tuple[Since, ...] = ()


def take_in(book: Book, text: str, now: datetime) -> tuple[Taken, ...]:
    """Send the commands of a list one by one; a refusal stops none of the others.

    Raises BadCommands for what is no list, BookFull and BookBusy: what was answered until then is written, send the list again.
    """
    return tuple(_taken(book, each, now) for each in read_commands(text))


def _taken(book: Book, command: Command | Unreadable, now: datetime) -> Taken:
    if isinstance(command, Unreadable):
        return Taken(command.id, Came.UNREADABLE, sentence=command.sentence)
    try:
        answer = book.send(command, now)
    except (Refused, FileLost) as why:
        return Taken(command.id, Came.REFUSED, sentence=str(why), since=why.since if isinstance(why, Stale) else ())
    return Taken(command.id, Came.BEFORE if answer.before else Came.WRITTEN, answer.seq, answer.sentence, answer.tasks)
