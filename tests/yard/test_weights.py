"""What a piece weighs: as it was weighed last, else by its sizes and by what a meter tells of it, with the meter's range."""

from __future__ import annotations

from waney.drying.meter_sheet import MeterSheet
from waney.yard.acts.drying import SampleCut
from waney.yard.acts.people_places import Weighed
from waney.yard.acts.pieces import PieceCounted
from waney.yard.acts.stacks import MoistureRead, ReadBy
from waney.yard.book.book import Book
from waney.yard.book.looking import pieces_by_id
from waney.yard.book.stack_seen import ReadOf, read_of
from waney.yard.services.weights import Weight, weight_of

from .conftest import Device, Ids

DRY_KG = 0.55 * 1000 * 0.05 * 0.3 * 3.0
"""White ash: specific gravity 0.55 on green volume (Wood Handbook, table 5-3b; from memory)."""


def weighed(book: Book, piece: str) -> Weight:
    [stands] = pieces_by_id(book, [piece])
    found = weight_of(stands, read_of(book, [piece]).get(piece, ReadOf()), MeterSheet())
    assert found is not None
    return found


def test_the_better_it_was_read_the_narrower_its_weight(book: Book, ids: Ids) -> None:
    phone, piece = Device(book, ids), ids()
    phone.send(PieceCounted(piece, "white ash", "", 0.05, 3.0, (0.3, 0.3)))
    nobody = weighed(book, piece)
    assert nobody.low_kg < DRY_KG * 1.06 and nobody.high_kg > DRY_KG * 1.42 and nobody.mc is None
    phone.send(MoistureRead(f"piece:{piece}", 0.12, ReadBy.PINS))
    raw = weighed(book, piece)
    phone.send(MoistureRead(f"piece:{piece}", 0.12, ReadBy.PINS, corrected=True))
    right = weighed(book, piece)
    for one in (raw, right):
        assert one.low_kg < DRY_KG * 1.12 < one.high_kg and one.mc is not None and abs(one.mc - 0.12) < 0.02
    assert right.high_kg - right.low_kg < raw.high_kg - raw.low_kg < nobody.high_kg - nobody.low_kg


def test_of_a_piece_that_was_cut_to_a_sample_board_it_is_the_boards_weight(book: Book, ids: Ids) -> None:
    phone, piece = Device(book, ids), ids()
    phone.send(PieceCounted(piece, "white ash", "", 0.05, 3.0, (0.3, 0.3)))
    phone.send(Weighed(f"piece:{piece}", 31.0))
    assert weighed(book, piece) == Weight(31.0, 31.0, "2026-05-04")
    phone.send(SampleCut(piece, 4.0, (0.18, 0.168)))
    assert weighed(book, piece).high_kg == 4.0
