"""Shop: one open yard, and all that its pages need."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, tzinfo
from itertools import count
from pathlib import Path
from time import monotonic
from uuid import UUID, uuid4, uuid5

from waney.papers.words import INCHES, METRIC
from waney.papers.words import Shop as Writes
from waney.units.temperature import Degree
from waney.web.access.members import Members
from waney.web.access.tries import Tries
from waney.web.built import Built
from waney.web.once import Once
from waney.web.reckoned import Reckoned
from waney.web.watching import Watching
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.looking import settings
from waney.yard.here import day_here
from waney.yard.services.hand import Hand

MEMBERS = "members.json"
NAME_MONEY = (Setting.WANTS, Setting.COSTS, Setting.MILL, Setting.PRICES, Setting.TERMS)
"""sheets that may say which money the shop counts in"""


def _now() -> datetime:
    return datetime.now(UTC)


def _new_id() -> str:
    return str(uuid4())


def ids_from(form: str, what: str) -> Callable[[], str]:
    """Ids one after the other, the same ones in the same order each time."""
    numbers = count(1)
    return lambda: str(uuid5(UUID(form), f"{what} {next(numbers)}"))


@dataclass(frozen=True)
class Shop:
    """The yard that is served. device: this server, as a writer in the book; secure: whether browsers reach it by https;
    authority: the file of the certificate that phones are told to trust, if there is one."""

    book: Book
    members: Members
    built: Built
    secure: bool = False
    now: Callable[[], datetime] = _now
    new_id: Callable[[], str] = _new_id
    device: str = field(default_factory=_new_id)
    authority: str = ""
    tries: Tries = field(default_factory=lambda: Tries(monotonic))
    reckoned: Reckoned = field(default_factory=Reckoned, repr=False)
    watching: Watching = field(default_factory=Watching)
    once: Once = field(default_factory=Once, repr=False)

    def hand(self, person: str, form: str = "") -> Hand:
        """Somebody who writes through a page. form: what a form is known by; what it makes and writes has its ids from that."""
        if not form:
            return Hand(self.book, self.device, person, self.now, self.new_id)
        return Hand(self.book, self.device, person, self.now, ids_from(form, "makes"), ids_from(form, "writes"))

    def zone(self) -> tzinfo:
        """Where clocks that say no zone are taken to go: this machine's."""
        return self.now().astimezone().tzinfo or UTC

    def today(self) -> date:
        """The day here."""
        return day_here(self.now())

    def settled(self) -> dict[str, str]:
        """The settings, by name."""
        return settings(self.book)


def members_of(folder: Path) -> Members:
    """Who may sign in to the yard of a folder."""
    return Members.of(folder / MEMBERS)


def writes(settled: Mapping[str, str]) -> Writes:
    """How this shop writes figures."""
    return METRIC if settled.get(Setting.UNITS) == "mm" else INCHES


def unit_of(settled: Mapping[str, str]) -> str:
    """What a bare length counts: in or mm."""
    return "mm" if settled.get(Setting.UNITS) == "mm" else "in"


def degree_of(unit: str) -> Degree:
    """What a bare temperature counts where lengths are in `unit`."""
    return Degree.CELSIUS if unit == "mm" else Degree.FAHRENHEIT


def yard_called(settled: Mapping[str, str]) -> str:
    """What pages and papers call the yard."""
    return settled.get(Setting.YARD) or "The yard"


def currency_of(settled: Mapping[str, str]) -> str | None:
    """The currency that the wants sheet names, else the costs, mill, prices or terms sheet; None for none."""
    found = (re.search(r'^currency\s*=\s*"([A-Z]{3})"', settled.get(what, ""), re.MULTILINE) for what in NAME_MONEY)
    return next((named[1] for named in found if named), None)
