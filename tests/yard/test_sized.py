"""What was measured of a piece counts everywhere: prices, wishes, lists; what was counted before stays in the history."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from waney.prices.product import WidthRule
from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import FigureSeen, PieceCounted, PieceMeasured, PieceSized
from waney.yard.acts.settings import Setting, Settled
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.sizes_due import sizes_due
from waney.yard.book.stories import piece_story
from waney.yard.services import selling
from waney.yard.services.earning import price_ways
from waney.yard.services.hand import Hand
from waney.yard.services.sizes import width_m
from waney.yard.services.wishes import leave_wish_for

from .conftest import Device

TODAY = date(2026, 5, 4)
SHEET = 'format = "waney-piece/1"\nunits = "mm"\nthickness = 52\nlength = 2400\nwidth = 500\n'
SIZES = {
    "thickness_m": 0.052, "length_m": 2.4, "narrow_face_m": 0.47, "mean_of_faces_m": 0.49, "mid_length_m": 0.5,
    "widest_m": 0.56, "narrowest_m": 0.45, "area_m2": 1.19,
}  # fmt: skip
PRICES = """\
format = "waney-prices/1"
units = "mm"
currency = "USD"
width = "mean of faces"
[[wood]]
species = "walnut_black"
square_metre = 200
[[figure]]
word = "curl"
factor = 1.5
"""


def counted(phone: Device) -> str:
    """A piece of the shed, off the tape."""
    piece = phone.ids()
    phone.send(PieceCounted(piece, "walnut_black", "", 0.054, 2.5, (0.4, 0.5)))
    return piece


def stands(book: Book, piece: str) -> PieceStands:
    [found] = pieces_by_id(book, [piece])
    return found


def test_a_sheet_with_a_shape_is_due_until_its_sizes_are_in_the_book(book: Book, phone: Device) -> None:
    piece = counted(phone)
    phone.send(PieceMeasured(piece, SHEET.replace("width", "# width")))
    assert sizes_due(book) == ()
    phone.send(PieceMeasured(piece, SHEET))
    [due] = sizes_due(book)
    assert (due.piece, due.sheet) == (piece, SHEET) and stands(book, piece).measured is None
    phone.send(PieceSized(**SIZES, piece=piece, measured=due.seq))
    assert sizes_due(book) == ()
    found = stands(book, piece)
    assert (found.thickness_m, found.length_m, found.least_width_m, found.most_width_m) == (0.052, 2.4, 0.45, 0.56)
    assert found.volume_m3 == pytest.approx(0.052 * 1.19) and found.mean_width_m == 0.49
    assert examine(book).unsound == ()


def test_sizes_of_an_older_sheet_change_nothing(book: Book, phone: Device) -> None:
    piece = counted(phone)
    phone.send(PieceMeasured(piece, SHEET))
    [first] = sizes_due(book)
    phone.send(PieceMeasured(piece, SHEET.replace("500", "480")))
    phone.send(PieceSized(**SIZES, piece=piece, measured=first.seq))
    [second] = sizes_due(book)
    assert second.seq > first.seq and stands(book, piece).most_width_m == 0.5


def test_price_and_wish_count_by_what_was_measured_and_by_the_figure(book: Book, phone: Device) -> None:
    phone.send(Settled(Setting.PRICES, PRICES))
    piece = counted(phone)
    assert price_ways(book, stands(book, piece), TODAY)[1].cents == round(2.5 * 0.45 * 200_00)
    wish = WishLeft(phone.ids(), phone.ids(), "2026-09-01", "walnut_black", width_m=0.45)
    hand = Hand(book, phone.ids(), "", lambda: datetime(2026, 5, 4, 9, tzinfo=UTC), phone.ids)
    leave_wish_for(hand, "Ada Quist", wish, TODAY.isoformat())
    assert selling.wishes_met(book, TODAY.isoformat()) == ()  # 400 mm at the narrowest, off the tape
    phone.send(PieceMeasured(piece, SHEET))
    [due] = sizes_due(book)
    phone.send(PieceSized(**SIZES, piece=piece, measured=due.seq))
    assert price_ways(book, stands(book, piece), TODAY)[1].cents == round(2.4 * 0.49 * 200_00)
    [met] = selling.wishes_met(book, TODAY.isoformat())
    assert [one.id for one in met.pieces] == [piece]
    phone.send(FigureSeen(piece, "curl"))
    way = price_ways(book, stands(book, piece), TODAY)[1]
    assert way.cents == round(2.4 * 0.49 * 200_00 * 1.5) and way.factors == (("figure", 1.5),)
    phone.send(FigureSeen(piece))
    assert price_ways(book, stands(book, piece), TODAY)[1].factors == ()


@pytest.mark.parametrize(
    ("rule", "width"),
    [
        (WidthRule.NARROW_FACE, 0.47),
        (WidthRule.MEAN_OF_FACES, 0.49),
        (WidthRule.MID_LENGTH, 0.5),
        (WidthRule.WIDEST, 0.56),
    ],
)
def test_a_measured_piece_has_its_true_width_by_every_rule(book: Book, phone: Device, rule: WidthRule, width: float) -> None:
    piece = counted(phone)
    taped = {WidthRule.WIDEST: 0.5}.get(rule, 0.45)
    assert width_m(stands(book, piece), rule) == pytest.approx(taped)
    phone.send(PieceMeasured(piece, SHEET))
    phone.send(PieceSized(**SIZES, piece=piece, measured=sizes_due(book)[0].seq))
    assert width_m(stands(book, piece), rule) == width


def test_what_was_told_at_the_saw_stays_what_the_log_lost_there(book: Book, phone: Device) -> None:
    piece = phone.ids()
    phone.send(CameOff(piece, species="ash", thickness_m=0.054, length_m=2.5, widths_m=(0.4,)))
    phone.send(PieceMeasured(piece, SHEET))
    phone.send(PieceSized(**SIZES, piece=piece, measured=sizes_due(book)[0].seq))
    story = piece_story(book, piece)
    assert (story.piece.thickness_m, story.sawn_thickness_m, story.widths_m) == (0.052, 0.054, (0.4,))
    assert [each.event.kind for each in story.events] == ["came-off", "piece-measured", "piece-sized"]


def test_a_piece_that_was_not_measured_is_as_it_was(book: Book, phone: Device) -> None:
    found = stands(book, counted(phone))
    assert found.volume_m3 == pytest.approx(0.054 * 2.5 * 0.45)
    assert replace(found, measured=None) == found
