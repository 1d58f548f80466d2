"""Quotes of pieces: prices until a day, kept back or not, a sale in one press, and never twice."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

import pytest

from waney.yard.acts.pieces import PieceCounted, SetMade
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.selling_seen import promises, sales
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.quotes import Quote, end_quote, quote_for, quoted, sell_quote
from waney.yard.services.selling import hold_for, sell_to

from .conftest import Device, Ids

MONDAY, FRIDAY, LATER = "2026-05-04", "2026-05-08", "2026-05-09"


@dataclass
class Shelf:
    """Three pieces, and a clock."""

    book: Book
    hand: Hand
    pieces: tuple[str, ...]
    clock: list[datetime] = field(default_factory=list)

    def priced(self, *places: int, cents: int = 200_00) -> list[PricedPiece]:
        return [PricedPiece(self.pieces[at], cents) for at in places]

    def quote(self, quote: str, on: str = MONDAY) -> Quote:
        return quoted(self.book, on, quote)[0]


@pytest.fixture
def shelf(book: Book, phone: Device, ids: Ids) -> Shelf:
    pieces = tuple(ids() for _ in range(3))
    for piece in pieces:
        phone.send(PieceCounted(piece, "ash", "", 0.05, 2.4, (0.3, 0.4)))
    clock = [datetime(2026, 5, 4, 9, tzinfo=UTC)]
    return Shelf(book, Hand(book, ids(), "", lambda: clock[0], ids), pieces, clock)


def test_a_quote_keeps_nothing_back_and_says_what_is_gone(shelf: Shelf) -> None:
    made = quote_for(shelf.hand, shelf.priced(0, 1), "Ada Quist", FRIDAY)
    assert promises(shelf.book, MONDAY) == {} and shelf.quote(made).open and shelf.quote(made).quote.cents == 400_00
    sell_to(shelf.hand, shelf.priced(0), "Ben Oduya", MONDAY)
    now = shelf.quote(made)
    assert [piece.id for piece in now.taken] == [shelf.pieces[0]] and [piece.id for piece, _ in now.left] == [shelf.pieces[1]]
    with pytest.raises(NotPossible, match="is sold"):
        sell_quote(shelf.hand, made, shelf.pieces[:2], MONDAY)
    assert shelf.quote(made).open  # nothing was written
    sell_quote(shelf.hand, made, shelf.pieces[1:2], MONDAY)
    assert shelf.quote(made).quote.ended == "sold"


def test_it_becomes_a_sale_at_its_prices_with_the_hold_settled(shelf: Shelf) -> None:
    made = quote_for(shelf.hand, shelf.priced(0, 1), "Ada Quist", FRIDAY, keep=True)
    with pytest.raises(NotPossible, match="held"):
        sell_to(shelf.hand, shelf.priced(1), "Ben Oduya", MONDAY)
    sale = sell_quote(shelf.hand, made, shelf.pieces[:2], MONDAY, [("sales tax", 20_00)], PaidBy.CARD)
    [told] = sales(shelf.book, sale=sale)
    assert (told.pieces_cents, told.tax_cents, told.paid_cents, told.owed_cents) == (400_00, 20_00, 420_00, 0)
    assert told.called == "Ada Quist" and told.hold == shelf.quote(made).quote.hold != ""
    with pytest.raises(NotPossible, match="is sold"):
        sell_quote(shelf.hand, made, shelf.pieces[:2], MONDAY)
    assert examine(shelf.book).unsound == ()


def test_what_was_kept_and_is_not_bought_is_free_again(shelf: Shelf) -> None:
    made = quote_for(shelf.hand, shelf.priced(0, 1), "Ada Quist", FRIDAY, keep=True)
    sell_quote(shelf.hand, made, shelf.pieces[:1], MONDAY)
    assert [one.kind for one in promises(shelf.book, MONDAY).values()] == ["sale"]
    with pytest.raises(NotPossible, match=r"any more \(sold\)"):
        sell_quote(shelf.hand, made, shelf.pieces[1:2], MONDAY)
    other = quote_for(shelf.hand, shelf.priced(1, 2), "Ben Oduya", FRIDAY, keep=True)
    end_quote(shelf.hand, other, MONDAY)
    assert shelf.quote(other).quote.ended == "given up" and len(promises(shelf.book, MONDAY)) == 1
    end_quote(shelf.hand, other, MONDAY)  # twice is as once


def test_a_quote_whose_day_is_over_sells_nothing(shelf: Shelf) -> None:
    made = quote_for(shelf.hand, shelf.priced(0), "Ada Quist", FRIDAY)
    shelf.clock[0] += timedelta(days=5)
    assert not shelf.quote(made, LATER).open
    with pytest.raises(NotPossible, match="day is over"):
        sell_quote(shelf.hand, made, shelf.pieces, LATER)
    with pytest.raises(NotPossible, match="day is over"):
        quote_for(shelf.hand, shelf.priced(0), "Ada Quist", MONDAY)


def test_what_somebody_else_holds_may_be_quoted_but_not_kept(shelf: Shelf) -> None:
    hold_for(shelf.hand, shelf.pieces[:1], "Ben Oduya", FRIDAY, 0)
    made = quote_for(shelf.hand, shelf.priced(0), "Ada Quist", FRIDAY)
    assert [piece.id for piece in shelf.quote(made).taken] == [shelf.pieces[0]]
    with pytest.raises(NotPossible, match="held"):
        quote_for(shelf.hand, shelf.priced(0), "Cora Lunde", FRIDAY, keep=True)


def test_part_of_a_set_is_sold_only_when_it_may_be_broken(shelf: Shelf, phone: Device) -> None:
    phone.send(SetMade(phone.ids(), shelf.pieces[:2]))
    made = quote_for(shelf.hand, shelf.priced(0), "Ada Quist", FRIDAY)
    with pytest.raises(NotPossible, match="part of a set"):
        sell_quote(shelf.hand, made, shelf.pieces, MONDAY)
    assert sell_quote(shelf.hand, made, shelf.pieces, MONDAY, breaks_set=True)
