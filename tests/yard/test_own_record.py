"""The shop's own record out of the book: logs that lay, metal by where a log grew, setting up a day's sawing."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from waney.figures.scenarios import Scenarios
from waney.trade.waited import LATE_FROM
from waney.trade.waiting import gone_by
from waney.wood.climate import station
from waney.yard.acts.logs import LogArrived, LogEnd, LogEnded
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.mill import AtTheMill, CameOff, DayOpened, Happened
from waney.yard.acts.offers import StemFelled, TreeOffered
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import SoldAway
from waney.yard.book.book import Book
from waney.yard.book.days import happened
from waney.yard.book.record_seen import days_begun
from waney.yard.services.hand import Hand
from waney.yard.services.lying import logs_that_lay
from waney.yard.services.record import drying_and_sales, hours_until_the_mill, own_record
from waney.yard.services.waiting import stain_of, waiting_logs, waiting_of

from .conftest import NOW, Ids

SHEET = 'format = "waney-log/1"\nunits = "in"\nspecies = "loblolly pine"\nlength = "8 ft"\n[top]\ndiameter = 14\n'
METAL = SHEET + "[[metal]]\ndistance = 30\nclock = 3\n"


class Shop:
    """A yard with a clock that the test turns."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.at, self.ids = datetime(2026, 7, 6, 12, 0, tzinfo=NOW.tzinfo), ids
        self.hand = Hand(book, ids(), "", lambda: self.at, ids)

    def log(self, felled: str = "", sheet: str = SHEET, stem: str = "") -> str:
        ident = self.ids()
        self.hand.write(LogArrived(ident, sheet, "loblolly pine", felled_on=felled, stem=stem))
        return ident

    def stem(self, yard_tree: bool | None) -> str:
        tree, stem = self.ids(), self.ids()
        self.hand.write(TreeOffered(tree, "loblolly pine", girth_m=1.5, yard_tree=yard_tree))
        self.hand.write(StemFelled(stem, tree, length_m=5.0))
        return stem

    def sawn(self, log: str, lost: int, boards: int = 4, cents: int = 10_00) -> None:
        """So many boards of one size, of which some came to nothing and the others were sold."""
        for n in range(boards):
            piece = self.ids()
            self.hand.write(CameOff(piece, log=log, order=n, thickness_m=0.0254, length_m=2.4, widths_m=(0.2, 0.2)))
            if n < lost:
                self.hand.write(PieceEnded(piece, PieceEnd.LOST))
            else:
                self.hand.write(SoldAway(self.ids(), (PricedPiece(piece, cents),), "2026-07-20", paid_cents=cents))
        self.hand.write(LogEnded(log, LogEnd.SAWN))


@pytest.fixture
def shop(book: Book, ids: Ids) -> Shop:
    return Shop(book, ids)


def test_logs_that_lay_long_say_what_stain_takes_beside_those_that_were_sawn_soon(book: Book, shop: Shop) -> None:
    denver = station("CO", "Denver")
    for _ in range(3):
        shop.sawn(shop.log("2026-07-05"), lost=0)
    long, waits = shop.log("2026-05-01"), shop.log("2026-07-04")
    shop.sawn(long, lost=1)
    shop.sawn(shop.log(), lost=2)  # nobody said when it was felled
    shop.sawn(shop.log("2026-05-01"), lost=2, boards=2)  # of two boards nothing can be said
    lay = logs_that_lay(book)
    assert [(one.log.id, one.sawn_on, round(one.lost, 9)) for one in lay if one.lost > 1e-9] == [
        (long, "2026-07-06", 0.25)
    ] and len(lay) == 4
    then = waiting_of(next(one.log for one in lay if one.log.id == long), date(2026, 7, 6), denver)
    stained, checked = gone_by(then)
    assert then.days == 66 and stained >= LATE_FROM
    own = stain_of(lay, denver)
    assert own == {"pine_": (pytest.approx((1.0 - 0.75 / (1.0 - checked)) / stained),)}
    blue = shop.log("2026-05-01")
    shop.sawn(blue, lost=0, cents=7_50)
    (cheap,) = (one.lost for one in logs_that_lay(book) if one.log.id == blue)
    assert cheap == pytest.approx(0.25), "sold for less counts like burnt in part"
    assert own_record(book).stain.keys() == {"pine_"}, "no place is settled: any weather"
    one = Scenarios(seed=1, n=16)
    (cost,) = (each for each in waiting_logs(book, date(2026, 7, 6), one, denver) if each.log.days == 2)
    assert cost.stain is not None and waits


def test_metal_is_counted_by_where_a_log_grew_and_only_of_logs_sawn_to_the_end(book: Book, shop: Shop) -> None:
    day = shop.ids()
    shop.hand.write(DayOpened(day, "2026-07-06"))
    met, clean = shop.log(stem=shop.stem(True)), shop.log(stem=shop.stem(True))
    woods, told = shop.log(stem=shop.stem(False)), shop.log(sheet=METAL)
    guessed = shop.log(sheet=METAL + "sure = false\n")
    on_bed = shop.log(stem=shop.stem(True))
    for one in (met, on_bed):
        shop.hand.write(AtTheMill(Happened.METAL, day, one))
    for one in (met, clean, woods, told, guessed):
        shop.sawn(one, lost=0)
    shop.hand.write(AtTheMill(Happened.METAL, day, woods))
    (slip,) = happened(book, day, woods)
    shop.hand.write(TakenBack(slip.command, f"day:{day}", "a knot"))
    assert own_record(book).metal == {True: (0.0, 1.0), False: (0.0,), None: (0.0, 1.0)}
    assert drying_and_sales(book).metal == own_record(book).metal


def test_setting_up_is_from_the_days_beginning_to_the_first_word_from_the_mill(book: Book, shop: Shop) -> None:
    for minutes in (75, 2, 600):  # begun at the mill; begun as the first cut was told; begun the evening before
        day, log = shop.ids(), shop.log()
        shop.hand.write(DayOpened(day, "2026-07-06"))
        shop.at += timedelta(minutes=minutes)
        shop.hand.write(AtTheMill(Happened.LAID, day, log))
        shop.at += timedelta(minutes=10)
        shop.hand.write(CameOff(shop.ids(), day=day, log=log))
        shop.at += timedelta(hours=20)
    shop.hand.write(DayOpened(shop.ids(), "2026-07-09"))  # nothing was sawn
    assert len(days_begun(book)) == 3 and hours_until_the_mill(days_begun(book)) == (1.25,)
    assert own_record(book).until_the_mill == (1.25,)
