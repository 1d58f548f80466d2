"""Hours at a log by what the mill told of it: first to last, breaks left out, day by day."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from waney.yard.acts.logs import LogArrived
from waney.yard.acts.mill import AtTheMill, CameOff, DayOpened, Happened
from waney.yard.book.book import Book
from waney.yard.problems import NotInBook
from waney.yard.services.hand import Hand
from waney.yard.services.sawing_hours import SawingHours, sawing_hours

from .conftest import NOW, Ids


class Mill:
    """A log on the bed, and a clock that the test turns."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.at = NOW
        self.hand = Hand(book, ids(), "", lambda: self.at, ids)
        self.log = ids()
        self.hand.write(LogArrived(self.log, "", "white oak"))
        self.day = ids()
        self.hand.write(DayOpened(self.day, "2026-05-04"))

    def after(self, minutes: float, *, day: bool = True, happened: Happened | None = None) -> None:
        self.at += timedelta(minutes=minutes)
        on = self.day if day else ""
        piece = CameOff(self.hand.new_id(), day=on, log=self.log)
        self.hand.write(AtTheMill(happened, self.day, self.log) if happened else piece)


@pytest.fixture
def mill(book: Book, ids: Ids) -> Mill:
    return Mill(book, ids)


def test_from_the_first_cut_to_the_last_without_breaks(mill: Mill, book: Book) -> None:
    for minutes in (0, 6, 9, 45, 12, 20):  # a break of 45 minutes; 20 is none yet
        mill.after(minutes)
    mill.after(3, happened=Happened.METAL)
    assert sawing_hours(book, mill.log) == (SawingHours(date(2026, 5, 4), 7, pytest.approx((6 + 9 + 12 + 20 + 3) / 60)),)


def test_another_day_is_a_line_of_its_own_and_one_tap_alone_tells_nothing(mill: Mill, book: Book) -> None:
    mill.after(0)
    assert sawing_hours(book, mill.log) == ()
    mill.after(5)
    mill.at = datetime(2026, 5, 11, 9, 0, tzinfo=NOW.tzinfo)
    mill.after(0), mill.after(10)
    assert [(one.on.day, round(60 * one.hours)) for one in sawing_hours(book, mill.log)] == [(4, 5), (11, 10)]


def test_what_was_typed_later_and_away_from_the_mill_is_no_time_at_it(mill: Mill, book: Book) -> None:
    mill.after(0, day=False), mill.after(5, day=False)
    assert sawing_hours(book, mill.log) == ()
    with pytest.raises(NotInBook):
        sawing_hours(book, mill.hand.new_id())
