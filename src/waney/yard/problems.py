"""What can go wrong with the yard book, as sentences.

Problem
└── BookProblem
    ├── BadName           a name whose check character does not fit, or that has no form of a name
    ├── BadAct            an act that cannot be: a number out of its bounds, an id that is none
    ├── BadPicture        a photo that cannot be read
    ├── BadCommands       a list of commands that cannot be read
    ├── Refused           nothing was written
    │   ├── Stale         somebody wrote in between; carries what
    │   ├── NotInBook     a decision about something that is not in the book
    │   ├── NotPossible   a decision that the book as it stands does not allow
    │   └── Reused        one command id for two different acts
    ├── NoBook            there is no book where one was looked for
    ├── BookThere         there is a book where a new one was to be made
    ├── BookNewer         written by a newer program
    ├── BookFull          no room left; nothing was written
    ├── BookBusy          somebody else is writing for too long
    ├── FileLost          a file of the book is missing or not what its name says
    └── BadCopy           a backup or an export that cannot be used
"""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.problem import Problem


class BookProblem(Problem):
    """Something about the yard book."""


class BadName(BookProblem):
    """A name that cannot stand on a piece."""


class BadAct(BookProblem):
    """An act that cannot be."""


class BadPicture(BookProblem):
    """A photo that cannot be read."""


class BadCommands(BookProblem):
    """A list of commands that cannot be read."""


class Refused(BookProblem):
    """Nothing was written; the sentence says why."""


@dataclass(frozen=True)
class Since:
    """An event that the sender had not read: what, by whom, when it was recorded."""

    stream: str
    number: int
    kind: str
    person: str
    recorded_at: str


class Stale(Refused):
    """A decision on something that has changed since it was read."""

    def __init__(self, stream: str, read: int, now: int, since: tuple[Since, ...]) -> None:
        self.stream, self.read, self.now, self.since = stream, read, now, since
        told = ", ".join(f"{event.kind.replace('-', ' ')} (number {event.number})" for event in since)
        super().__init__(f"{stream} was read at number {read} and stands at {now} now: {told}. Look again, then decide.")


class NotInBook(Refused):
    """A decision on what the book does not hold."""


class NotPossible(Refused):
    """The book as it stands does not allow it."""


class Reused(Refused):
    """A command id that stands in the book with another content."""


class NoBook(BookProblem):
    """No book there."""


class BookThere(BookProblem):
    """A book stands where a new one was to be made."""


class BookNewer(BookProblem):
    """The book was written by a newer program."""


class BookFull(BookProblem):
    """No room left."""


class BookBusy(BookProblem):
    """Somebody else has been writing for too long."""


class FileLost(BookProblem):
    """A file of the book is not there, or is not what its name says."""


class BadCopy(BookProblem):
    """A backup or an export that cannot be used."""
