"""waney dry as a person calls it: dates for a mixed stack, narrowed by two weighings, from options or a sheet."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from waney.cli.app import Ended

from .calling import EXAMPLES, asked, run

HERE = ("--state", "IN", "--place", "Indianapolis", "--start", "2026-04-01")
MIXED = ("dry", "--piece", "white oak, 8/4, 6", "--piece", "black walnut, 4/4, 40", *HERE)
TWO = ("--weighed", "2, 2026-04-02, 17.8 lb", "--weighed", "2, 2026-05-20, 14.2 lb")


@pytest.fixture(autouse=True)
def _few(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quarter of the particles: enough for every claim here."""
    monkeypatch.setattr("waney.drying.stack.PARTICLES", 64)


def test_two_weighings_narrow_the_dates_of_their_line_alone() -> None:
    plain, narrowed = asked(*MIXED), asked(*MIXED, *TWO)
    oak, walnut = ([document["lines"][at]["days"] for document in (plain, narrowed)] for at in (0, 1))  # type: ignore[index]
    assert oak[0] == oak[1]
    assert walnut[1]["high"] - walnut[1]["low"] < walnut[0]["high"] - walnut[0]["low"]
    assert plain["format"] == "waney-dry/1"


def test_the_text_gives_dates_basis_loss_and_cautions() -> None:
    code, said, _ = run(*MIXED, *TWO)
    assert code == Ended.ANSWERED
    assert "2. black walnut, 4/4 (40): 2026-" in said and "before it was read" in said and "On the tag, at 20 %" in said
    assert "losing, by the last two weights: safe" in said and "The whole stack, ready with its slowest line" in said
    assert "FPL-GTR-117" in said and "normal months" in said and "A stack can tip." in said


def test_a_sheet_says_the_same_in_both_views(tmp_path: Path) -> None:
    sheet, written = str(EXAMPLES / "stack-mixed.toml"), tmp_path / "dry.json"
    _, said, _ = run("dry", sheet, "--units", "mm", "--json", str(written))
    assert json.loads(written.read_text(encoding="utf-8")) == asked("dry", sheet)
    assert " kg" in said and " lb" not in said


def test_a_heavy_piece_of_known_size_is_weighed_one_end_at_a_time() -> None:
    sized = ("dry", "--piece", "white oak, 8/4, 6, 8 ft x 18 in", *HERE)
    ends, whole = (
        asked(*sized, "--weighed", f"1, 2026-05-01, {said}")["lines"][0]["dry_kg"]  # type: ignore[index]
        for said in ("66 lb + 63 lb", "129 lb")
    )
    assert ends["likely"] == pytest.approx(whole["likely"], rel=0.02)
    # sizes alone: 2 1/8 x 18 x 96 in of gravity 0.60 (Wood Handbook Table 5-3a), 62.43 lb/ft3 of water
    assert whole["low"] < 2.125 * 18 * 96 / 1728 * 0.60 * 62.43 * 0.45359237 < whole["high"]


def test_a_stack_bought_half_dry_is_counted_from_its_first_reading() -> None:
    words = ("dry", "--piece", "black walnut, 8/4, 8", *HERE)
    green, dried = (asked(*words, *more)["lines"][0] for more in ((), ("--read", "1, 2026-04-01, 24 %")))  # type: ignore[index]
    assert dried["days"]["high"] < green["days"]["low"]
    assert dried["moisture"]["low"] < 0.24 < dried["moisture"]["high"]
    assert "drier than green" in dried["remarks"][0]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("dry",), "Say the stack once"),
        (("dry", "--piece", "white oak, 4/4"), "--state"),
        (("dry", "--piece", "white oak", *HERE), "wood, thickness, count"),
        (("dry", "--piece", "white oak, 4/4, many", *HERE), "wood, thickness, count"),
        (("dry", "--piece", "white oak, 4/4, 2, 8 ft", *HERE), "length x width"),
        ((*MIXED, "--weighed", "3, 2026-05-01, 40 lb"), "no line"),
        ((*MIXED, "--weighed", "1, May, 40 lb"), "is not a day"),
        ((*MIXED, "--weighed", "1, 2026-05-01"), "line, day, reading"),
        ((*MIXED, "--weighed", "1, 2026-03-01, 40 lb"), "start"),
        ((*MIXED, "--exposure", "cellar"), "none of open"),
        ((*MIXED, "--weighed", "1, 2036-05-01, 40 lb"), "beyond"),
    ],
)
def test_slips_are_told_in_a_line(words: tuple[str, ...], told: str) -> None:
    code, _, error = run(*words)
    assert code in (Ended.WRITTEN, Ended.SHEET) and told in error
