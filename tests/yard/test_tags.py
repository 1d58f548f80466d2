"""Tags that are stapled on: the name a piece has by them, taken back, one that is on another piece; which tag somebody means."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.yard.acts.mill import CameOff
from waney.yard.acts.pieces import Tagged
from waney.yard.book.applying.pen import TaskKind
from waney.yard.book.book import Book
from waney.yard.book.examining import examine
from waney.yard.book.looking import history, named, open_tasks, pieces
from waney.yard.book.tags import free_names, known_tags, stapled
from waney.yard.known_tags import KnownTags, TagRun, in_the_way, meant
from waney.yard.names import CHARACTERS, LETTERS, Name
from waney.yard.problems import BadName
from waney.yard.services.hand import Hand
from waney.yard.services.logs import NewLog, add_log
from waney.yard.services.mill import names_for_paper, open_day, settle, take_back, take_off
from waney.yard.services.pieces import exchange_names, tag_piece

from .conftest import NOW, Ids

SHEET = (Path(__file__).parents[2] / "docs" / "examples" / "log-taped.toml").read_text(encoding="utf-8")


def clock() -> datetime:
    return NOW


@pytest.fixture
def jo(book: Book, ids: Ids) -> Hand:
    return Hand(book, ids(), "", clock, ids)


class Mill:
    """A log of a day, and three pieces off it, W-1 to W-3."""

    def __init__(self, jo: Hand, ids: Ids) -> None:
        self.jo, self.day = jo, open_day(jo, "2026-05-04").id
        self.log = add_log(jo, NewLog(SHEET, code="W")).id
        self.off = [ids() for _ in range(3)]
        for n, piece in enumerate(self.off, 1):
            take_off(jo, CameOff(piece, day=self.day, log=self.log, order=n, name=str(Name("W", n))))

    def names(self) -> list[str]:
        return [one.name for one in pieces(self.jo.book, self.log)]

    def undo(self, piece: str) -> None:
        """Take back the last that was told of it and not taken back."""
        told = history(self.jo.book, f"piece:{piece}")
        back = {one.act.command for one in told if one.kind == "taken-back"}  # type: ignore[union-attr]
        last = [one for one in told if one.kind != "taken-back" and one.command not in back][-1]
        take_back(self.jo, last.command, last.stream)


@pytest.fixture
def mill(jo: Hand, ids: Ids) -> Mill:
    return Mill(jo, ids)


def test_a_tag_names_its_piece_and_taken_back_it_is_called_as_before(book: Book, jo: Hand, mill: Mill) -> None:
    first, second = map(str, names_for_paper(jo, 2))
    tag_piece(jo, mill.off[1], first)
    tag_piece(jo, mill.off[1], second)
    assert mill.names()[1] == second
    assert [(one.name, one.crayon) for one in stapled(book, mill.day)] == [(each, str(Name("W", 2))) for each in (first, second)]
    mill.undo(mill.off[1])
    assert mill.names()[1] == first
    mill.undo(mill.off[1])
    assert mill.names() == [str(Name("W", n)) for n in (1, 2, 3)] and stapled(book, mill.day) == ()
    mill.undo(mill.off[1])  # the tag is off again, so nothing keeps the piece itself from having been a slip
    assert mill.names() == [str(Name("W", n)) for n in (1, 3)]
    assert open_tasks(book) == () and examine(book).unsound == ()


def test_a_piece_with_its_tag_on_is_taken_back_by_somebody_who_is_asked(book: Book, jo: Hand, mill: Mill) -> None:
    tag_piece(jo, mill.off[2], str(names_for_paper(jo, 1)[0]))
    slip = history(book, f"piece:{mill.off[2]}")[0]
    take_back(jo, slip.command, slip.stream)
    [task] = open_tasks(book)
    assert "more was told of it" in task.words and len(mill.names()) == 3


def test_a_tag_that_is_on_another_piece_is_refused_with_a_sentence_and_the_piece_keeps_its_name(
    book: Book, jo: Hand, mill: Mill
) -> None:
    tag, own = str(names_for_paper(jo, 1)[0]), str(Name("W", 2))
    tag_piece(jo, mill.off[0], tag)
    answer = tag_piece(jo, mill.off[1], tag)
    assert answer.sentence == f"{tag} stands on something else already; this piece stays {own}: look at both tags."
    assert mill.names() == [tag, own, str(Name("W", 3))] and named(book, tag) == f"piece:{mill.off[0]}"
    assert [one.piece for one in stapled(book, mill.day)] == [mill.off[0]] and len(open_tasks(book)) == 1
    mill.undo(mill.off[1])  # what changed nothing is taken back, and changes nothing but that nobody is asked any more
    assert mill.names()[:2] == [tag, own] and open_tasks(book) == () and examine(book).unsound == ()
    assert "tag of a log" in in_the_way(known_tags(book), Name("W", 0))
    assert tag_piece(jo, mill.off[1], str(Name("W", 0))).tasks


def test_the_crayon_name_is_what_stood_there_before_any_tag_one_taken_back_too(book: Book, jo: Hand, mill: Mill) -> None:
    first, second, third = map(str, names_for_paper(jo, 3))
    tag_piece(jo, mill.off[1], first)
    slip = history(book, f"piece:{mill.off[1]}")[-1]
    tag_piece(jo, mill.off[1], second)
    take_back(jo, slip.command, slip.stream)
    crayon = str(Name("W", 2))
    assert [(one.name, one.crayon) for one in stapled(book, mill.day)] == [(second, crayon)]
    exchange_names(jo, mill.off[1], mill.off[2])
    tag_piece(jo, mill.off[1], third)
    assert [one.crayon for one in stapled(book, mill.day) if one.name == third] == [str(Name("W", 3))]
    assert examine(book).unsound == ()


def test_a_tag_of_a_piece_that_was_taken_back_is_asked_about_and_names_nothing(book: Book, jo: Hand, mill: Mill) -> None:
    mill.undo(mill.off[2])
    tag = str(names_for_paper(jo, 1)[0])
    assert jo.write(Tagged(mill.off[2], tag)).tasks and named(book, tag) is None and len(open_tasks(book)) == 1
    mill.undo(mill.off[2])
    assert open_tasks(book) == () and examine(book).unsound == ()


def test_the_name_from_before_is_given_to_no_other_piece_and_a_tag_is_not_taken_back_over_it(
    book: Book, jo: Hand, mill: Mill, ids: Ids
) -> None:
    names_for_paper(jo, 3, "W")  # W-4 to W-6
    crayon, tag = Name("W", 4), str(names_for_paper(jo, 1)[0])
    take_off(jo, CameOff(piece := ids(), day=mill.day, log=mill.log, name=str(crayon)))
    tag_piece(jo, piece, tag)
    assert crayon not in free_names(book, "W")
    assert not any(run.holds(crayon) for run in known_tags(book).free)
    take_off(jo, CameOff(ids(), day=mill.day, log=mill.log, name=str(crayon)))  # by somebody who wrote it all the same
    mill.undo(piece)
    [task] = open_tasks(book)
    assert f"{crayon} stands on another piece by now" in task.words and named(book, tag) == f"piece:{piece}"
    settle(jo, task.id, later_holds=True)  # it was a slip all the same: the tag is free, the piece needs another name
    [again] = open_tasks(book)
    given = Name("W", 7)
    assert again.kind == TaskKind.RETAG and f"this is {given} now" in again.words and again.about == f"piece:{piece}"
    assert named(book, tag) is None and named(book, str(given)) == f"piece:{piece}"
    assert examine(book).unsound == ()
    tag_piece(jo, piece, tag)
    mill.undo(piece)
    assert named(book, str(given)) == f"piece:{piece}" and len(open_tasks(book)) == 1 and examine(book).unsound == ()


def test_a_name_that_a_piece_got_otherwise_since_then_stays(book: Book, jo: Hand, mill: Mill) -> None:
    tag = str(names_for_paper(jo, 1)[0])
    tag_piece(jo, mill.off[0], tag)
    slip = history(book, f"piece:{mill.off[0]}")[-1]
    exchange_names(jo, mill.off[0], mill.off[2])
    assert stapled(book, mill.day) == ()
    take_back(jo, slip.command, slip.stream)
    assert mill.names() == [str(Name("W", 3)), str(Name("W", 2)), tag] and examine(book).unsound == ()


# which tag is meant

KNOWN = KnownTags((TagRun("C", 10, 40), TagRun("XYC", 12, 14)), (TagRun("W", 1, 3), TagRun("AB", 120, 140)))


def test_four_characters_from_the_end_are_enough_with_dashes_and_small_letters_or_without() -> None:
    name = Name("AB", 123)
    check = str(name)[-1]
    for written in (str(name), f"ab 123 {check.lower()}", f"123{check}", f"WANEY:{name}", f"b-123-{check}"):
        assert meant(KNOWN, written) == name
    assert "another piece already" in in_the_way(KNOWN, name) and in_the_way(KNOWN, name, str(name)) == ""
    assert in_the_way(KNOWN, Name("C", 10)) == "" and in_the_way(KNOWN, Name("VV", 5)) == ""
    with pytest.raises(BadName, match="too short"):
        meant(KNOWN, f"23{check}")


@given(st.integers(10, 40), st.data())
def test_a_wrong_character_of_a_free_tag_is_never_read_as_another_free_tag_of_its_sheet(number: int, data: st.DataObject) -> None:
    right = str(Name("C", number)).replace("-", "")
    place = data.draw(st.integers(0, 3))
    wrong = right[:place] + data.draw(st.sampled_from([each for each in CHARACTERS if each != right[place]])) + right[place + 1 :]
    try:
        read = meant(KNOWN, wrong)
    except BadName:
        return
    assert read.code != "C"


def test_what_fits_two_tags_is_asked_about() -> None:
    codes = [x + y for x in LETTERS for y in LETTERS]
    one, other = next((a, b) for a in codes for b in codes if a < b and ending(a, 771) == ending(b, 771))
    known = KnownTags((TagRun(one, 771, 771), TagRun(other, 771, 771)))
    with pytest.raises(BadName, match=f"may be {Name(one, 771)} or {Name(other, 771)}; type all of it"):
        meant(known, ending(one, 771))
    assert meant(known, f"{other}{ending(other, 771)}") == Name(other, 771)


def ending(code: str, number: int) -> str:
    return str(Name(code, number)).replace("-", "")[len(code) :]


def test_what_the_book_knows_of_its_names_are_runs(book: Book, jo: Hand, mill: Mill) -> None:
    ahead = names_for_paper(jo, 5)
    code = ahead[0].code
    tag_piece(jo, mill.off[0], str(ahead[2]))
    assert known_tags(book) == KnownTags((TagRun(code, 1, 2), TagRun(code, 4, 5)), (TagRun(code, 3, 3), TagRun("W", 2, 3)))
