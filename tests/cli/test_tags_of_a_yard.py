"""Tags printed ahead for a yard bear names that it gave out for them, and to nobody else."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from waney.cli.money import hand_of
from waney.papers import tags
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.book import make_book, open_book
from waney.yard.book.engine import in_folder
from waney.yard.book.looking import next_code, next_free, pieces
from waney.yard.services.mill import take_names
from waney.yard.services.pieces import count_piece
from waney.yard.services.printer import Misses, keep_misses

from .calling import SLIP, WRITTEN, asked, run

ASH = "4a1c1b0e-8f7a-4c8e-9d54-0f1f6f0a1b2c"


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A yard in which a piece bears K-3 and a phone took K-4 to K-9 along."""
    monkeypatch.chdir(tmp_path)
    book = make_book(in_folder(tmp_path / "yard"), datetime(2026, 5, 4, 8, tzinfo=UTC))
    hand = hand_of(book)
    taken = take_names(hand, "K", 3, hand.device)
    count_piece(hand, PieceCounted(ASH, "white ash", str(taken[2])))
    take_names(hand, "K", 6, hand.device)
    book.close()
    return tmp_path / "yard"


def stands(yard: Path, code: str) -> int:
    book = open_book(in_folder(yard))
    try:
        return next_free(book, code)[0]
    finally:
        book.close()


def numbers(names: list[str]) -> list[int]:
    return [int(name.split("-")[1]) for name in names]


@pytest.mark.parametrize("option", ["--yard", "--book"])
def test_names_that_are_borne_or_given_out_are_not_printed_and_what_is_printed_is_given_out(yard: Path, option: str) -> None:
    words = ("tags", "tags.pdf", option, str(yard), "--code", "K", "--count", "4")
    assert numbers(asked(*words)["names"]) == [10, 11, 12, 13]
    assert numbers(asked(*words)["names"]) == [14, 15, 16, 17]
    assert stands(yard, "K") == 18


def test_tags_of_a_yard_are_moved_as_it_keeps_it_for_their_sheet_unless_something_else_is_said(
    yard: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = open_book(in_folder(yard))
    keep_misses(hand_of(book), "Letter 4 x 2", Misses(1.0, -0.5, 1.01))
    book.close()
    moved, lays_out = [], tags.laid_out

    def laid_out(some: Any, stock: Any, calibration: tags.Calibration, **how: Any) -> tags.TagSheets:
        moved.append((calibration.right_mm, calibration.down_mm, calibration.size))
        return lays_out(some, stock, calibration, **how)

    monkeypatch.setattr(tags, "laid_out", laid_out)
    words = ("tags", "tags.pdf", "--yard", str(yard), "--count", "1")
    for more in ((), ("--shift", "2 mm, 0 mm"), ("--size", "1"), ("--stock", "a4 99 x 57")):
        asked(*words, *more)
    assert list(dict.fromkeys(moved)) == [(1.0, -0.5, 1.01), (2.0, 0.0, 1.01), (1.0, -0.5, 1.0), (0.0, 0.0, 1.0)]


def test_without_letters_the_yard_gives_the_next_that_nothing_carries(yard: Path) -> None:
    book = open_book(in_folder(yard))
    code = next_code(book)
    book.close()
    names = asked("tags", "tags.pdf", "--yard", str(yard), "--count", "2")["names"]
    assert [name.split("-")[0] for name in names] == [code, code] and numbers(names) == [1, 2]


def test_the_app_gives_none_of_them_out_again(yard: Path) -> None:
    printed = asked("tags", "tags.pdf", "--yard", str(yard), "--code", "K", "--count", "4")["names"]
    book = open_book(in_folder(yard))
    hand = hand_of(book)
    assert not {str(name) for name in take_names(hand, "K", 20, hand.device)} & set(printed)
    assert [piece.name.split("-")[1] for piece in pieces(book)] == ["3"]
    book.close()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--code", "K", "--first", "20"), "leave out --first"),
        (("--code", "K", "--log-tag"), "number 0"),
        (("--code", "K", "--line", "a", "--line", "b", "--line", "c", "--line", "d"), "room for"),
        (("--code", "K", "--used", "90"), "labels used"),
        (("--code", "K", "--count", "1001"), "a thousand numbers"),
        (("--code", "no"), "no"),
    ],
)
def test_what_cannot_be_printed_is_not_given_out(yard: Path, words: tuple[str, ...], sentence: str) -> None:
    code, _, told = run("tags", "tags.pdf", "--yard", str(yard), *words)
    assert code in (SLIP, WRITTEN) and sentence in told
    assert stands(yard, "K") == 10 and not Path("tags.pdf").exists()


def test_a_yard_that_is_not_there_is_said(tmp_path: Path) -> None:
    code, _, told = run("tags", str(tmp_path / "tags.pdf"), "--yard", str(tmp_path / "none"))
    assert code == SLIP and "There is no book" in told
