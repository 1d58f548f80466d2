"""The grade of a piece: the page says what the command says, marks are typed into the sheet, and what is missing is asked for."""

from __future__ import annotations

import html
from typing import Any

import pytest
from tests.cli.calling import DEMO, asked, run

from waney.pieces.face_map import Face, MarkKind
from waney.pieces.piece_sheet import read_piece_sheet
from waney.web.asked.grade import GradeAnswer
from waney.web.asked.kinds import GRADE
from waney.web.asked.packing import read_back
from waney.web.measured import newest
from waney.web.shop import Shop
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.stories import piece_story
from waney.yard.services.hand import Hand
from waney.yard.services.pieces import count_piece, measure_piece

from .at_work import worked
from .conftest import Person


def counted(hand: Hand, shop: Shop, *widths_m: float) -> str:
    piece = shop.new_id()
    count_piece(hand, PieceCounted(piece, "white oak", thickness_m=0.027, length_m=3.1242, widths_m=widths_m))
    return piece


def sheet_of(shop: Shop, piece: str) -> str:
    last = newest(piece_story(shop.book, piece))
    assert last is not None
    return last.sheet


@pytest.mark.parametrize("name", ["board", "piece"], ids=["an edged board", "a live edge, as what edging would leave"])
def test_the_page_says_what_the_command_says_of_the_same_sheet(owner: Person, shop: Shop, hand: Hand, name: str) -> None:
    file = DEMO / f"{name}.toml"
    piece = counted(hand, shop)
    measure_piece(hand, piece, file.read_text(encoding="utf-8"))
    page = f"/pieces/{piece}/grade"
    assert "stands in line" in owner.get(page).text
    answer = read_back(worked(shop, GRADE), GradeAnswer)
    said: Any = asked("grade", str(file))
    assert (answer.grade, answer.measure) == (said["grade"], said["surface_measure_ft2"])
    shown, lines = html.unescape(owner.get(page).text), run("grade", str(file))[1]
    for face in answer.faces:
        assert face.gave in lines
        assert all(cutting in lines and cutting in shown for cutting in face.cuttings)
    assert all(lack in lines and lack in shown for lack in answer.lacks)
    assert "<svg" in shown and "not a grade stamp" in shown and "nhla-summary" in shown


def test_a_piece_of_the_book_is_asked_for_what_it_measures_as_a_board_and_then_graded(
    owner: Person, shop: Shop, hand: Hand
) -> None:
    piece = counted(hand, shop, 0.2, 0.3)
    page = f"/pieces/{piece}/grade"
    text = owner.get(page).text
    assert "Not graded yet" in text and "trace it on a photo" in text and "10&#39; 3&#34;" in text
    assert owner.send(page, {"length": "10' 3\"", "thickness": "4/4"}).status_code == 422  # a live edge has no one width
    marks = {"mark_kind": ["knot", "hole"], "mark_face": ["B", "both"], "mark_at": ["74", "96"], "mark_across": ["6", "3"]}
    marks |= {"mark_long": ["1", "3/4"], "mark_wide": ["1", "1/2"], "mark_note": ["", ""]}
    sizes = {"length": "10' 3\"", "width": "8 1/2", "thickness": "4/4", "kiln_dried": "yes"}
    assert owner.send(page, {**sizes, **marks}).status_code == 303
    told = read_piece_sheet(sheet_of(shop, piece))
    assert told.board_m == pytest.approx((123 * 0.0254, 8.5 * 0.0254)) and told.kiln_dried and told.thickness.quarters == 4
    assert [(mark.kind, mark.face) for mark in told.faces.marks] == [(MarkKind.KNOT, Face.B), (MarkKind.HOLE, None)]
    assert "stands in line" in owner.get(page).text
    assert read_back(worked(shop, GRADE), GradeAnswer).marks == 2
    assert "Nothing is told of its faces" not in owner.get(page).text


def test_a_board_of_which_nobody_told_a_mark_is_said_to_be_graded_as_if_clear(owner: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop, 0.2159, 0.2159)
    page = f"/pieces/{piece}/grade"
    assert 'value="8 1/2 in"' in owner.get(page).text  # one width all along is a board's
    owner.send(page, {"length": "10' 3\"", "width": "8 1/2", "thickness": "4/4"})
    owner.get(page)
    assert read_back(worked(shop, GRADE), GradeAnswer).grade == "FAS"
    assert "Nothing is told of its faces" in owner.get(page).text


def test_marks_are_changed_and_taken_away_and_all_else_in_the_sheet_stays(owner: Person, shop: Shop, hand: Hand) -> None:
    piece, before = counted(hand, shop), (DEMO / "piece.toml").read_text(encoding="utf-8")
    measure_piece(hand, piece, before)
    row = {"mark_kind": "crack", "mark_face": "A", "mark_at": "80", "mark_across": "-1/2", "mark_long": "8", "mark_wide": "1/4"}
    assert owner.send(f"/pieces/{piece}/grade", {**row, "kiln_dried": "yes"}).status_code == 303
    was, now = read_piece_sheet(before), read_piece_sheet(sheet_of(shop, piece))
    (crack,) = now.faces.marks
    assert (crack.y0_m + crack.y1_m) / 2 == pytest.approx(-0.0127)
    assert (now.outline and now.outline.area_m2, now.mc) == (was.outline and was.outline.area_m2, was.mc)
    assert "# Heights over a level bench" in sheet_of(shop, piece)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"width": "wide"}, "wide"),
        ({"width": "8", "mark_at": "12"}, "Write it too."),
        ({"width": "8", "mark_at": "x", "mark_across": "1", "mark_long": "1", "mark_wide": "1"}, "x"),
        ({"width": "8", "mark_kind": "wart", "mark_at": "9", "mark_across": "1", "mark_long": "1", "mark_wide": "1"}, "wart"),
    ],
)
def test_what_cannot_be_read_stays_on_the_page_and_nothing_is_written(
    owner: Person, shop: Shop, hand: Hand, fields: dict[str, str], said: str
) -> None:
    piece = counted(hand, shop)
    answer = owner.send(f"/pieces/{piece}/grade", {"length": "8 ft", "thickness": "4/4", **fields})
    assert answer.status_code == 422 and said in answer.text and 'role="alert"' in answer.text
    assert newest(piece_story(shop.book, piece)) is None


def test_looking_needs_no_sign_in_and_the_page_of_the_piece_leads_there(anybody: Person, shop: Shop, hand: Hand) -> None:
    piece = counted(hand, shop)
    assert f'href="/pieces/{piece}/grade"' in anybody.get(f"/pieces/{piece}").text
    assert "<form" not in anybody.get(f"/pieces/{piece}/grade").text.split("<h1>")[1]
