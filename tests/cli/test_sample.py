"""waney sample as a person calls it: sections and weights of a sample board, its tag, a kiln's steps, dates outdoors."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from waney.cli.app import Ended

from .calling import EXAMPLES, METER, asked, run

SECTIONS = ("--section", "182 g, 101 g", "--section", "176 g, 99 g")
BOARD = ("sample", *SECTIONS, "--board", "8.8 lb")
SHEET = str(EXAMPLES / "stack-mixed.toml")
POUND = 0.45359237
MEAN = (182 / 101 + 176 / 99) / 2 - 1
DRY_LB = 8.8 / (1 + MEAN)
"""Worked example A9 (seen formula): OD = 100 W / (100 + M0)."""
WOOD = ("--wood", "black walnut", "--thickness", "4/4")
HERE = ("--state", "IN", "--place", "Indianapolis")


@pytest.fixture(autouse=True)
def _few(monkeypatch: pytest.MonkeyPatch) -> None:
    """A quarter of the particles: enough for every claim here."""
    monkeypatch.setattr("waney.cli.sample_answer.PARTICLES", 64)


def test_a_board_is_reckoned_as_by_hand() -> None:
    found = asked(*BOARD, "--target", "8", "--cut", "2026-04-01", "--weighed", "2026-05-06, 7.2 lb")["boards"][0]  # type: ignore[index]
    assert found["dry_kg"]["likely"] == pytest.approx(DRY_LB * POUND)
    assert found["target_kg"]["likely"] == pytest.approx(DRY_LB * 1.08 * POUND)
    cut, later = found["reads"]
    assert cut["moisture"]["likely"] == pytest.approx(MEAN) and cut["lost_a_day"] is None
    assert later["moisture"]["likely"] == pytest.approx(7.2 / DRY_LB - 1)
    assert later["lost_a_day"] == pytest.approx((8.8 - 7.2) / DRY_LB / 35)


def test_later_weights_narrow_the_dates_and_both_ways_to_the_moisture_agree(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        "waney.cli.sample_answer.PARTICLES", 256
    )  # the widths of three ranges, of which few particles tell little
    words = (*BOARD, "--cut", "2026-04-01", *WOOD, *HERE)
    boards = [
        asked(*words, *more)["boards"][0]  # type: ignore[index]
        for more in ((), ("--weighed", "2026-04-22, 7.4 lb", "--weighed", "2026-05-06, 6.8 lb"))
    ]
    before, first, second = (
        found["high"] - found["low"]
        for found in (boards[0]["dates"]["before_days"], boards[0]["dates"]["days"], boards[1]["dates"]["days"])
    )
    assert second < first < before
    plain, both = boards[1]["reads"][-1]["moisture"], boards[1]["dates"]["moisture"]
    assert both["low"] < plain["likely"] < both["high"] and plain["low"] < both["likely"] < plain["high"]


def test_a_board_in_a_wide_pile_dries_later() -> None:
    words = (*BOARD, "--cut", "2026-04-01", *WOOD, *HERE)
    package, pile = (
        asked(*words, *more)["boards"][0]["dates"]["days"]["likely"]  # type: ignore[index]
        for more in ((), ("--pile-width", "12 ft"))
    )
    assert pile > 1.1 * package


def test_dates_outdoors_by_weather_of_ones_own(tmp_path: Path) -> None:
    rows = tmp_path / "shed.csv"
    rows.write_text("month,t_c,rh_pct\n" + "".join(f"{month},18,65\n" for month in range(1, 13)), encoding="utf-8")
    words = (*BOARD, "--cut", "2026-04-01", *WOOD, "--rows", str(rows))
    dates: Any = asked(*words)["boards"][0]["dates"]  # type: ignore[index]
    assert dates["place"] == "your own weather (shed.csv)" and dates["days"]["low"] < dates["days"]["high"]
    code, _, error = run(*BOARD, *WOOD, "--rows", str(rows))
    assert code == Ended.WRITTEN and "--cut" in error


def test_a_kilns_steps_are_told_by_weight() -> None:
    found = asked(*BOARD, *WOOD, "--kiln")["boards"][0]  # type: ignore[index]
    assert found["code"] == "T6-D4"  # black walnut 4/4, Agriculture Handbook 188 (memory)
    weights = {step["from_mc"]: step["kg"]["likely"] for step in found["steps"]}
    assert weights[0.50] == pytest.approx(DRY_LB * 1.5 * POUND)
    assert list(weights.values()) == sorted(weights.values(), reverse=True)


def test_the_text_gives_the_tag_the_scale_and_the_cautions() -> None:
    code, said, _ = run(*BOARD, "--kiln", *WOOD)
    assert code == Ended.ANSWERED
    assert "on the tag: at 8 % it weighs 5.31 lb" in said and "One mark of this weighing scale" in said
    assert "the next step begins when" in said and "Wood sections in an oven" in said


def test_the_boards_of_a_stack_sheet_are_followed() -> None:
    document = asked("sample", SHEET)
    assert [one["board"] for one in document["boards"]] == ["walnut boards"]  # type: ignore[index, attr-defined]
    assert document == asked("sample", SHEET, "--units", "mm")


def test_what_a_meter_read_of_a_board_is_put_right_by_its_makers_table(tmp_path: Path) -> None:
    meter, sheet = tmp_path / "meter.toml", tmp_path / "stack.toml"
    meter.write_text(METER.replace("white oak", "black walnut"), encoding="utf-8")
    read = "\n[[piece.moisture]]\nday = 2026-08-01\nreads = 16\n"
    boards = (EXAMPLES / "stack-mixed.toml").read_text(encoding="utf-8").partition('[[piece]]\nname = "oak')[0]
    sheet.write_text(boards + read, encoding="utf-8")
    plain, right = (asked("sample", str(sheet), *more)["boards"][0]["dates"] for more in ((), ("--meter", str(meter))))  # type: ignore[index]
    assert right["moisture"]["likely"] > plain["moisture"]["likely"], "the table makes 17.75 % of 16 %"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("sample",), "Say the boards once"),
        (("sample", *SECTIONS), "--board is missing"),
        (("sample", "--section", "182 g, 101 g", "--board", "8.8 lb"), "two moisture sections"),
        (("sample", "--section", "182 g", "--board", "8.8 lb"), "is not wet, oven dry"),
        ((*BOARD, "--weighed", "7.2 lb"), "is not day, weight"),
        ((*BOARD, "--weighed", "May, 7.2 lb"), "is not a day"),
        ((*BOARD, "--weighed", "2026-05-06, 4.2 lb"), "weigh again"),
        ((*BOARD, "--cut", "2026-06-01", "--weighed", "2026-05-06, 7.2 lb"), "before the board was cut"),
        ((*BOARD, "--kiln"), "--kiln needs"),
        ((*BOARD, *HERE), "Dates outdoors need --state"),
        ((*BOARD, "--exposure", "cellar"), "none of open"),
        ((*BOARD, "--meter", "meter.toml"), "leave it out without a sheet"),
        (("sample", SHEET, "--pile-width", "12 ft"), "Leave out --pile-width beside a stack sheet"),
        (("sample", SHEET, "--exposure", "roof"), "Leave out --exposure beside"),
        (("sample", SHEET, "--mark", "1 lb"), "Leave out --mark beside"),
        (("sample", SHEET, *SECTIONS, *HERE), "Leave out --section, --state and --place beside"),
    ],
)
def test_slips_are_told_in_a_line(words: tuple[str, ...], told: str) -> None:
    code, _, error = run(*words)
    assert code in (Ended.WRITTEN, Ended.SHEET) and told in error and len(error.splitlines()) == 1
