"""The diary: a clock that goes through the year, people with their devices, and what is to happen when."""

from __future__ import annotations

import heapq
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from uuid import UUID

from waney.yard.book.book import Book
from waney.yard.services.hand import Hand

A_MINUTE = timedelta(minutes=1)
LONG_AGO = datetime.min.replace(tzinfo=UTC)


class Ids:
    """Ids that look drawn and are the same every time: made of a counter."""

    def __init__(self, of: str) -> None:
        self.of, self.count = of, 0

    def __call__(self) -> str:
        """The next one."""
        self.count += 1
        return str(UUID(bytes=sha256(f"{self.of} {self.count}".encode()).digest()[:16], version=4))


@dataclass
class Diary:
    """A book that is being written; today: the day from which the story counts back."""

    book: Book
    today: date
    now: datetime = LONG_AGO
    new_id: Ids = field(default_factory=lambda: Ids("Alder Hollow"))
    agenda: list[tuple[datetime, int, Callable[[], object]]] = field(default_factory=list)

    def day(self, ago: int) -> str:
        """A day of the story, as 2026-05-04."""
        return (self.today - timedelta(days=ago)).isoformat()

    def on(self, ago: int, hour: int, do: Callable[[], object]) -> None:
        """Something is to happen on a day; what is entered first happens first within the hour."""
        when = datetime.combine(self.today - timedelta(days=ago), time(hour), UTC)
        heapq.heappush(self.agenda, (when, len(self.agenda) + self.new_id.count, do))

    def live(self) -> None:
        """Let everything happen, in the order of the year."""
        while self.agenda:
            when, _, do = heapq.heappop(self.agenda)
            self.now = max(self.now, when)
            do()

    def hand(self, person: str) -> Hand:
        """Somebody at a device of their own."""
        return Hand(self.book, self.new_id(), person, self.tick, self.new_id)

    def tick(self) -> datetime:
        """The clock: a minute for every line that is written."""
        self.now += A_MINUTE
        return self.now
