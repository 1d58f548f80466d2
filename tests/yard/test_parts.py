"""A piece becomes several: parts with names, sizes that the cut leaves, and a whole that is used up."""

from __future__ import annotations

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.yard.acts.mill import CameOff, Transform
from waney.yard.acts.pieces import PieceCounted, PieceEnd
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.book.looking import PieceStands, history
from waney.yard.book.stories import piece_story
from waney.yard.problems import BadAct, NotPossible
from waney.yard.services.earning import Yard
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import take_off
from waney.yard.services.parts import MOST_PARTS, Part, cut_into_parts, left_by
from waney.yard.services.pieces import count_piece, end_piece, name_spot
from waney.yard.services.selling import free_pieces
from waney.yard.services.stacks import load_kiln, unload_kiln

from .conftest import NOW, Ids
from .test_services import SHEET

TODAY = NOW.date()


def clock() -> datetime:
    return NOW


@pytest.fixture
def jo(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


def plank(jo: Hand) -> str:
    ident = jo.new_id()
    count_piece(jo, PieceCounted(ident, "white ash", "", 0.0508, 3.0, (0.30, 0.36)))
    return ident


def test_parts_keep_wood_log_and_spot_and_what_the_cut_leaves(book: Book, jo: Hand) -> None:
    log, spot, cant = add_log(jo, NewLog(SHEET, code="K")).id, name_spot(jo, "Shed").id, jo.new_id()
    take_off(jo, CameOff(cant, log=log, species="black walnut", thickness_m=0.2, length_m=2.4, widths_m=(0.2,), spot=spot))
    boards = cut_into_parts(jo, cant, Transform.SAWN_AGAIN, [Part(0.0254, 0.15)] * 3)
    whole = piece_story(book, cant)
    assert [one.id for one in whole.gave] == list(boards) and whole.piece.ended == PieceEnd.SAWN
    for ident in boards:
        story = piece_story(book, ident)
        one = story.piece
        assert (one.log, one.species, one.spot, one.transform) == (log, "black walnut", spot, "sawn again")
        assert (one.thickness_m, one.least_width_m, one.length_m) == (0.0254, 0.15, 2.4)
        assert story.came_of is not None and story.came_of.id == cant and one.name.startswith("K-")
    assert len({one.name for one in whole.gave} | {whole.piece.name}) == 4
    found = find_pieces(book, Wanted(log=log))
    assert {one.id for one in found.rows} == set(boards), "the whole lies there no more"
    assert {one.id for one in free_pieces(book, TODAY.isoformat())} == set(boards), "and cannot be sold"
    assert {one.id for one in Yard.of(book, TODAY).of_log[log]} == {cant, *boards}, "costs flow down the saw tree"
    assert not examine(book).unsound


def test_a_part_is_cut_again_and_the_tree_is_kept(book: Book, jo: Hand) -> None:
    piece = plank(jo)
    [short, _] = cut_into_parts(jo, piece, Transform.CROSSCUT, [Part(length_m=1.2), Part(length_m=1.75)])
    strips = cut_into_parts(jo, short, Transform.RIPPED, [Part(width_m=0.1)] * 2)
    assert [one.id for one in piece_story(book, short).gave] == list(strips)
    one = piece_story(book, strips[0]).piece
    assert (one.thickness_m, one.least_width_m, one.length_m) == (0.0508, 0.1, 1.2)
    assert piece_story(book, short).came_of.id == piece  # type: ignore[union-attr]


def test_what_is_gone_or_in_the_kiln_stays_whole_and_nothing_is_written(book: Book, jo: Hand) -> None:
    burnt, dried = plank(jo), plank(jo)
    end_piece(jo, burnt, PieceEnd.BURNT)
    load = load_kiln(jo, "Brook", (), (dried,)).id
    for piece, why in ((burnt, "is no more"), (dried, r"in the kiln \(Brook\)")):
        before = len(history(book, f"piece:{piece}"))
        with pytest.raises(NotPossible, match=why):
            cut_into_parts(jo, piece, Transform.EDGED, [Part(width_m=0.2)])
        assert len(history(book, f"piece:{piece}")) == before
    unload_kiln(jo, load)
    assert cut_into_parts(jo, dried, Transform.EDGED, [Part(width_m=0.2)])
    with pytest.raises(NotPossible, match="sawn up"):
        cut_into_parts(jo, dried, Transform.EDGED, [Part(width_m=0.2)])


@pytest.mark.parametrize(
    ("how", "parts", "why"),
    [
        (Transform.RIPPED, [Part(width_m=0.4)], "wider"),
        (Transform.CROSSCUT, [Part(length_m=3.2)], "longer"),
        (Transform.EDGED, [Part(thickness_m=0.06)], "thicker"),
        (Transform.RIPPED, [], "at least one"),
        (Transform.RIPPED, [Part()] * (MOST_PARTS + 1), "two steps"),
    ],
)
def test_parts_that_cannot_come_of_it_are_refused(book: Book, jo: Hand, how: Transform, parts: list[Part], why: str) -> None:
    piece = plank(jo)
    with pytest.raises(BadAct, match=why):
        cut_into_parts(jo, piece, how, parts)
    assert piece_story(book, piece).piece.ended == "" and piece_story(book, piece).gave == ()


def test_a_transform_needs_its_piece(ids: Ids) -> None:
    with pytest.raises(BadAct, match="needs the piece"):
        CameOff(ids(), transform=Transform.EDGED)


SIZE = st.none() | st.floats(0.01, 0.5)


@given(st.sampled_from(Transform), SIZE, SIZE, SIZE, SIZE)
def test_a_cut_leaves_only_sizes_of_the_whole(
    how: Transform, thick: float | None, narrow: float | None, wide: float | None, long: float | None
) -> None:
    known = {"thickness_m": thick, "least_width_m": narrow, "most_width_m": wide, "length_m": long}
    left = left_by(_piece(known), how)
    assert left.thickness_m in (None, thick) and left.length_m in (None, long)
    assert left.width_m is None or left.width_m == narrow == wide
    assert (left.length_m is None) or how is not Transform.CROSSCUT


def _piece(known: dict[str, float | None]) -> PieceStands:
    words = dict.fromkeys(("id", "name", "species", "log", "day", "parent", "transform", "how", "spot", "ended"), "")
    more = dict.fromkeys(("log_name", "spot_called", "together", "together_called", "product"), "")
    return PieceStands(**words, **more, **known, boule_place=None, version=1, seq=1, mass_kg=None, bought=False)  # type: ignore[arg-type]
