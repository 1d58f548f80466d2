"""Sawing hours: how long a log was on the bed, by what was told of it at the mill as it happened."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby, pairwise

from waney.yard.acts.every import act_of
from waney.yard.acts.mill import AtTheMill, CameOff
from waney.yard.book.book import Book
from waney.yard.book.stories import log_story
from waney.yard.here import day_here

BREAK = timedelta(minutes=20)
"""Longer without a word from the mill is a break, and counts as none: ours, a choice."""


@dataclass(frozen=True)
class SawingHours:
    """One day at one log: how often the mill told of it; hours between the first and the last, breaks left out."""

    on: date
    told: int
    hours: float


def sawing_hours(book: Book, log: str) -> tuple[SawingHours, ...]:
    """Day by day, those on which it was told of twice or more. What came before the first cut and after the last is not in it.
    Raises NotInBook."""
    told = sorted(
        datetime.fromisoformat(one.event.happened_at)
        for one in log_story(book, log).events
        if _at_the_mill(act_of(one.event.kind, json.loads(one.event.body)))
    )
    days = ((on, list(moments)) for on, moments in groupby(told, day_here))
    found = (SawingHours(on, len(moments), _hours(moments)) for on, moments in days)
    return tuple(one for one in found if one.hours > 0.0)


def sawn_for(book: Book, log: str) -> float:
    """The same, all days together [h]. Raises NotInBook."""
    return sum(one.hours for one in sawing_hours(book, log))


def _at_the_mill(act: object) -> bool:
    return isinstance(act, AtTheMill) or (isinstance(act, CameOff) and bool(act.day))


def _hours(moments: list[datetime]) -> float:
    gaps = (later - earlier for earlier, later in pairwise(moments))
    return sum((gap for gap in gaps if gap <= BREAK), timedelta()) / timedelta(hours=1)
