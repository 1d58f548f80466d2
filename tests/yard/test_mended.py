"""What went wrong at the mill and is put right: names exchanged, a jumbled boule, a paper tally typed in later."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from waney.yard.acts.mill import CameOff, Off
from waney.yard.acts.pieces import NamesExchanged
from waney.yard.book.book import Book
from waney.yard.book.days import day
from waney.yard.book.examining import examine
from waney.yard.book.looking import history, named, open_tasks, pieces
from waney.yard.book.stories import piece_story
from waney.yard.problems import BadAct
from waney.yard.services.hand import Hand
from waney.yard.services.lists import Came
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import carry_to, open_day, take_off
from waney.yard.services.pieces import exchange_names, name_spot, put_boule_in_order, tag_piece
from waney.yard.services.typed import TypedLine, take_in_typed

from .conftest import NOW, Ids

ROOT = Path(__file__).parents[2]
SHEET = (ROOT / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")


def clock() -> datetime:
    return NOW


@pytest.fixture
def jo(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


def sawn(jo: Hand, ids: Ids, count: int) -> tuple[str, tuple[str, ...]]:
    """A log and so many pieces off it, each a millimetre thicker than the one before."""
    log = add_log(jo, NewLog(SHEET, code="W")).id
    off = tuple(ids() for _ in range(count))
    for n, piece in enumerate(off, 1):
        take_off(jo, CameOff(piece, log=log, order=n, thickness_m=0.05 + n / 1000))
    return log, off


def test_exchanged_names_change_places_and_all_else_stays_with_the_wood(book: Book, jo: Hand, ids: Ids) -> None:
    log, (first, second, third) = sawn(jo, ids, 3)
    before = {one.id: one for one in pieces(book, log)}
    exchange_names(jo, first, third, "the tags hang on the wrong ones")
    after = {one.id: one for one in pieces(book, log)}
    assert (after[first].name, after[third].name) == (before[third].name, before[first].name)
    assert after[second] == before[second]
    for piece in (first, third):
        assert (after[piece].thickness_m, after[piece].boule_place) == (before[piece].thickness_m, before[piece].boule_place)
        assert "names-exchanged" in [event.kind for event in history(book, f"piece:{piece}")]
    assert named(book, before[first].name) == f"piece:{third}"
    assert examine(book).unsound == ()


def test_names_exchanged_twice_are_as_they_were(book: Book, jo: Hand, ids: Ids) -> None:
    log, (first, second) = sawn(jo, ids, 2)
    before = [one.name for one in pieces(book, log)]
    exchange_names(jo, first, second)
    exchange_names(jo, second, first)
    assert [one.name for one in pieces(book, log)] == before


def test_a_name_that_was_exchanged_can_be_written_on_nothing_else(book: Book, jo: Hand, ids: Ids) -> None:
    log, (first, second) = sawn(jo, ids, 2)
    before = {one.id: one.name for one in pieces(book, log)}
    exchange_names(jo, first, second)
    tasks = {task.id for task in open_tasks(book)}
    tag_piece(jo, second, before[second])  # it stands on the first now
    assert {task.id for task in open_tasks(book)} - tasks, "two pieces may not have one name; somebody is asked"
    assert named(book, before[second]) == f"piece:{first}"


def test_names_are_exchanged_between_two_different_pieces(ids: Ids) -> None:
    one, other, third = ids(), ids(), ids()
    for wrong in ((one,), (one, one), (one, other, third)):
        with pytest.raises(BadAct):
            NamesExchanged(wrong)


def test_a_jumbled_boule_is_put_in_order_and_history_keeps_the_mistake(book: Book, jo: Hand, ids: Ids) -> None:
    log, off = sawn(jo, ids, 3)
    put_boule_in_order(jo, log, off[::-1], "by the widths of their faces")
    assert [one.boule_place for one in pieces(book, log)] == [3, 2, 1]
    told = [event.kind for event in history(book, f"piece:{off[0]}")]
    assert told == ["came-off", "boule-put-in-order"]


def test_a_typed_tally_is_a_piece_a_line_in_the_order_of_the_paper(book: Book, jo: Hand, ids: Ids) -> None:
    log, before = sawn(jo, ids, 2)
    today = open_day(jo, "2026-05-04").id
    lines = (
        TypedLine("", 0.0508, (0.30, 0.28), 2.4, remark="curly near the butt"),
        TypedLine("", 0.0508, (), None, Off.THICK),
        TypedLine(),
    )
    taken = take_in_typed(jo, ids(), today, log, "", lines)
    assert {one.came for one in taken} == {Came.WRITTEN}
    typed = [one for one in pieces(book, log) if one.id not in before]
    assert [one.boule_place for one in typed] == [3, 4, 5]
    assert [(one.thickness_m, one.least_width_m, one.most_width_m, one.length_m, one.how) for one in typed] == [
        (0.0508, 0.28, 0.30, 2.4, "as meant"),
        (0.0508, None, None, None, "thick"),
        (None, None, None, None, "as meant"),
    ]
    assert [note.words for note in piece_story(book, typed[0].id).notes] == ["curly near the butt"]


def test_the_same_sheet_of_paper_sent_twice_is_written_once(book: Book, jo: Hand, ids: Ids) -> None:
    log, _ = sawn(jo, ids, 1)
    today, paper, lines = open_day(jo, "2026-05-04").id, ids(), (TypedLine("", 0.03), TypedLine("", 0.04))
    take_in_typed(jo, paper, today, log, "", lines)
    again = take_in_typed(jo, paper, today, log, "", lines)
    assert {one.came for one in again} == {Came.BEFORE}
    assert len(pieces(book, log)) == 3


def test_what_comes_off_is_carried_to_the_spot_that_was_told_last(book: Book, jo: Hand, ids: Ids) -> None:
    today = open_day(jo, "2026-05-04").id
    shed, rack = name_spot(jo, "shed").id, name_spot(jo, "rack").id
    found = day(book, today)
    assert found is not None and (found.spot, found.spot_called) == ("", "")
    for spot, called in ((shed, "shed"), (rack, "rack"), ("", "")):
        carry_to(jo, today, spot)
        found = day(book, today)
        assert found is not None and (found.spot, found.spot_called) == (spot, called)
