"""Who asked, when a piece that fits was named, left a hold or came dry; wishes run out, and go with a name."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from sqlalchemy.event import listen

from waney.yard.acts.drying import StackStood
from waney.yard.acts.kilns import BroughtBack, HandedPiece, LoadHandedOver, LoadTakenBack
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import MoistureRead, ReadBy, StackBuilt
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.book import Book
from waney.yard.book.selling_seen import wishes
from waney.yard.services import deposits, selling
from waney.yard.services.hand import Hand
from waney.yard.services.kilns import ReadAtHome, take_back
from waney.yard.services.stacks import load_kiln, read_moisture, unload_kiln
from waney.yard.services.wishes import leave_wish_for, who_asked

from .conftest import NOW, Ids

TODAY = NOW.date()


class Clocked:
    """Somebody who writes, and the day."""

    def __init__(self, book: Book, ids: Ids) -> None:
        self.now = NOW
        self.hand = Hand(book, ids(), "", lambda: self.now, ids)
        self.book = book

    def on(self, days: int) -> date:
        """Go on by some days; the day then."""
        self.now += timedelta(days=days)
        return self.now.date()

    def piece(self, width_m: float = 0.4) -> str:
        piece = self.hand.new_id()
        self.hand.write(PieceCounted(piece, "Juglans nigra", "", 0.054, 2.4, (width_m, width_m)))
        return piece

    def wish(self, who: str = "Ann", until: str = "2026-12-31") -> None:
        leave_wish_for(
            self.hand,
            who,
            WishLeft(self.hand.new_id(), self.hand.new_id(), until, "black walnut", 0.05, None, 0.38, 2.0),
            "2026-05-04",
        )

    def read(self, piece: str, mc: float) -> None:
        read_moisture(self.hand, MoistureRead(f"piece:{piece}", mc, ReadBy.OVEN))

    def told(self, today: date) -> list[tuple[str, str, str]]:
        return [(one.wish.called, fit.piece.id, fit.why) for one in who_asked(self.book, today) for fit in one.pieces]


def test_a_piece_is_told_of_when_it_is_named_and_later_still_fits(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    yard.wish()
    assert yard.told(TODAY) == []
    yard.piece(0.3)  # too narrow
    piece = yard.piece()
    assert yard.told(TODAY) == [("Ann", piece, "named")]
    assert yard.told(yard.on(40)) == [("Ann", piece, "")]


def test_however_much_of_other_woods_is_newer_the_one_that_fits_is_found(
    book: Book, ids: Ids, monkeypatch: pytest.MonkeyPatch
) -> None:
    yard = Clocked(book, ids)
    yard.wish()
    piece = yard.piece()
    for _ in range(3):
        yard.hand.write(PieceCounted(ids(), "white ash", "", 0.054, 2.4, (0.4, 0.4)))
    monkeypatch.setattr(selling, "MOST_ROWS", 2)
    assert yard.told(TODAY) == [("Ann", piece, "named")]


def test_a_piece_that_leaves_a_hold_is_told_of_whether_given_up_or_run_out(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    yard.wish()
    given_up, ran_out = yard.piece(), yard.piece()
    today = yard.on(60)
    selling.hold_for(yard.hand, [ran_out], "Bo", today.isoformat(), 0)
    selling.hold_for(yard.hand, [given_up], "Bo", (today + timedelta(days=9)).isoformat(), 0)
    assert yard.told(today) == []
    today = yard.on(2)
    deposits.end_hold(yard.hand, selling.promises(book, today.isoformat())[given_up].ident)
    assert yard.told(today) == [("Ann", given_up, "out of a hold"), ("Ann", ran_out, "out of a hold")]


def test_a_piece_comes_dry_when_it_is_back_from_the_kiln_and_read_so(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    piece, load = yard.piece(), ids()
    yard.wish()
    yard.on(60)
    yard.hand.write(LoadHandedOver(load, "kiln", "Cy", (HandedPiece(piece, shell_mc=0.09, core_mc=0.09),)))
    assert yard.told(yard.on(1)) == [], "what stands at someone else's kiln cannot be sold"
    today = yard.on(9)
    take_back(yard.hand, LoadTakenBack(load, (BroughtBack(piece),)), [ReadAtHome(piece, None, 0.07, 0.075, ReadBy.OVEN)])
    assert yard.told(today) == [("Ann", piece, "dry")]


def test_a_piece_comes_dry_in_the_yard_when_it_is_read_air_dry_the_first_time(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    piece = yard.piece()
    yard.wish()
    yard.on(60)
    yard.read(piece, 0.24)
    assert yard.told(yard.on(1)) == [("Ann", piece, "")]
    yard.read(piece, 0.18)
    assert yard.told(yard.on(1)) == [("Ann", piece, "dry at 18 %")]
    today = yard.on(30)
    yard.read(piece, 0.16)
    assert yard.told(today) == [("Ann", piece, "")], "it has long been dry"
    yard.read(piece, 0.23)
    today = yard.on(1)
    yard.read(piece, 0.19)
    assert yard.told(today) == [("Ann", piece, "dry at 19 %")], "rained on, and dry again"


def test_on_a_stack_it_is_dry_at_what_is_wanted_of_the_stack(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    piece, stack = yard.piece(), ids()
    yard.wish()
    yard.on(60)
    yard.hand.write(StackBuilt(stack, "North", "", ((piece,),)))
    yard.hand.write(StackStood(stack, wanted_mc=0.12))
    yard.read(piece, 0.18)
    assert yard.told(yard.on(1)) == [("Ann", piece, "")]
    yard.read(piece, 0.12)
    assert yard.told(yard.on(1)) == [("Ann", piece, "dry at 12 %")]


def test_what_was_wanted_at_the_kiln_decides_for_what_came_back(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    piece, load = yard.piece(), ids()
    yard.wish()
    yard.on(60)
    yard.hand.write(LoadHandedOver(load, "kiln", "Cy", (HandedPiece(piece, shell_mc=0.08, core_mc=0.08),)))
    take_back(yard.hand, LoadTakenBack(load, (BroughtBack(piece),)), [ReadAtHome(piece, None, 0.13, 0.16, ReadBy.OVEN)])
    assert yard.told(yard.on(1)) == [("Ann", piece, "")]


def test_what_was_read_before_a_kiln_makes_nothing_dry_that_was_not_read_since(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    piece = yard.piece()
    yard.wish()
    today = yard.on(60)
    yard.read(piece, 0.18)
    assert yard.told(today) == [("Ann", piece, "dry at 18 %")]
    unload_kiln(yard.hand, load_kiln(yard.hand, "shed kiln", (), (piece,)).id)
    assert yard.told(today) == [("Ann", piece, "")]
    yard.read(piece, 0.08)
    assert yard.told(today) == [("Ann", piece, "dry at 8 %")]


def test_ten_times_the_pieces_are_asked_for_with_as_many_queries(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    yard.wish()
    asked: list[str] = []
    listen(book.engine, "before_cursor_execute", lambda *told: asked.append(told[2]))

    def queries() -> int:
        asked.clear()
        assert {why for _, _, why in yard.told(TODAY)} == {"dry at 15 %"}
        return len(asked)

    yard.read(yard.piece(), 0.15)
    few = queries()
    for _ in range(9):
        yard.read(yard.piece(), 0.15)
    assert queries() == few > 0 and len(yard.told(TODAY)) == 10


def test_a_wish_runs_out_with_its_day_and_is_told_once_for_a_name(book: Book, ids: Ids) -> None:
    yard = Clocked(book, ids)
    yard.piece()
    yard.wish(until="2026-05-10")
    yard.wish("ann", until="2026-05-12")  # the same Ann
    assert len({one.person for one in wishes(book, TODAY.isoformat())}) == 1
    assert [len(who_asked(book, TODAY + timedelta(days=days))) for days in (0, 7, 9)] == [2, 1, 0]
