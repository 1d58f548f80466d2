"""Mill sheets: five answers are enough; every blank is said; every mistake has its line."""

from __future__ import annotations

from dataclasses import MISSING, fields
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.estimate import Ground
from waney.sawing.mill import End, Feed, Mill
from waney.sawing.sheets.mill_sheet import MillSheet, read_mill_sheet
from waney.units.sheet import SheetProblems

EXAMPLES = Path(__file__).parents[2] / "docs" / "examples"
ASKED = """format = "waney-mill/1"
units = "in"
kerf = 0.083
widest_cut = 28
highest = 31
lowest = 1
bed_length = "20 ft"
"""


def example(name: str) -> str:
    return (EXAMPLES / name).read_text(encoding="utf-8")


def problems_of(text: str) -> dict[str, tuple[int, str]]:
    with pytest.raises(SheetProblems) as caught:
        read_mill_sheet(text)
    return {problem.key: (problem.line, problem.sentence) for problem in caught.value.problems}


def test_five_answers_are_enough() -> None:
    mill = read_mill_sheet(ASKED).mill
    sizes = (mill.kerf_m, mill.widest_cut_m, mill.highest_m, mill.lowest_m, mill.bed_length_m)
    # 1 in = 25.4 mm exactly
    assert sizes == pytest.approx((0.0021082, 0.7112, 0.7874, 0.0254, 6.096), abs=1e-12)


def test_every_blank_field_of_the_mill_is_said() -> None:
    said = {default.field for default in read_mill_sheet(ASKED).defaults}
    names = {"thickest_m": "thickest", "sawing_sd_m": "set_alike", "feeds": "feed", "step_m": "step"}
    optional = {item.name for item in fields(Mill) if item.default is not MISSING or item.default_factory is not MISSING}
    wanted = {
        names.get(name, name.removesuffix("_m").removesuffix("_kg").removesuffix("_cents").removesuffix("_m2"))
        for name in optional
    }
    assert wanted - {"name"} <= said


def test_nothing_is_said_to_be_a_default_when_all_is_typed() -> None:
    assert read_mill_sheet(example("mill-full.toml")).defaults == ()


def test_a_default_stands_on_common_practice_or_is_not_counted_at_all() -> None:
    for default in read_mill_sheet(ASKED).defaults:
        assert default.basis is None or default.basis.ground is Ground.DEFAULT
        assert (default.basis is None) == default.value.startswith("not typed")


def test_no_money_is_built_in() -> None:
    mill = read_mill_sheet(ASKED).mill
    assert (mill.hourly_cents, mill.blade_cents, mill.blade_life_m2) == (None, None, None)


def test_the_full_example_is_read_field_by_field() -> None:
    sheet = read_mill_sheet(example("mill-full.toml"))
    mill = sheet.mill
    assert (sheet.currency, mill.name, mill.sawyer_stands_at) == ("EUR", "Brunnenhof", End.TOP)
    assert mill.bed_length_m == pytest.approx(6.2)
    assert (mill.step_m, mill.scale_error_m, mill.backstop_lowest_m, mill.backstop_highest_m) == (0.001, 0.0005, 0.015, 0.26)
    assert mill.crossbars_m == (0.15, 1.35, 2.55, 3.75, 4.95, 6.05)
    assert (mill.heaviest_log_kg, mill.heaviest_turn_alone_kg, mill.heaviest_turn_helped_kg) == (2500, 180, 420)
    assert mill.feeds == (Feed(0.15, 10.0, 7.0), Feed(0.5, 4.0, 2.5))
    assert (mill.hourly_cents, mill.blade_cents, mill.blade_life_m2) == (4000, 2400, 60)
    assert (mill.minutes_per_pass, mill.minutes_per_turn, mill.minutes_per_edging, mill.minutes_per_loading) == (1.2, 3, 4, 8)
    assert mill.sawing_sd_m is not None
    assert str(mill.sawing_sd_m.basis) == "own record: 8 boards set alike"


@pytest.mark.parametrize(
    ("written", "metres"), [('"1/8 in"', 0.003175), ("0.0625", 0.0015875), ('"1/32 in"', 0.00079375), ('"1 mm"', 0.001)]
)
def test_the_four_bed_scales(written: str, metres: float) -> None:
    assert read_mill_sheet(ASKED + f"step = {written}\n").mill.step_m == metres


def test_the_usual_bed_scale_goes_with_the_units() -> None:
    metric = 'format="waney-mill/1"\nunits="mm"\nkerf=2\nwidest_cut=700\nhighest=800\nlowest=25\nbed_length=6000\n'
    assert (read_mill_sheet(ASKED).mill.step_m, read_mill_sheet(metric).mill.step_m) == (0.0015875, 0.001)


def test_an_odd_kerf_is_remarked_upon_and_kept() -> None:
    sheet = read_mill_sheet(ASKED.replace("0.083", "0.25"))
    assert sheet.mill.kerf_m == pytest.approx(0.00635)
    assert "measure the cut" in sheet.remarks[0]
    assert read_mill_sheet(ASKED).remarks == ()


@pytest.mark.parametrize(
    ("line", "key", "word"),
    [
        ("step = 0.1", "step", "1/16 in"),
        ("set_alike = [1, 1.01]", "set_alike", "6 or more"),
        ("set_alike = [1, 1, 1, 1, 1, 1]", "set_alike", "read alike"),
        ("hourly = 30", "hourly", "currency"),
        ("crossbars = [10, 300]", "crossbars", "beyond the end of the bed"),
        ("backstop_highest = 0", "backstop_highest", "above the lowest"),
        ("sawyer_stands_at = 'bottom'", "sawyer_stands_at", "butt"),
        ("heaviest_log = '2 tons'", "heaviest_log", "short tons"),
        ("minutes_per_turn = -1", "minutes_per_turn", "0 to 600"),
        ("backstop_low = 2", "backstop_low", "did you mean backstop_lowest?"),
        ("feed = 20", "feed", "[[feed]]"),
        ("kerf_m = 0.002", "kerf_m", "did you mean kerf?"),
        ("blade_life = '60 m'", "blade_life", "m2"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_what_to_write(line: str, key: str, word: str) -> None:
    found = problems_of(f"{ASKED}{line}\n")
    assert list(found) == [key]
    assert found[key][0] == 8
    assert word in found[key][1]


def test_all_problems_come_at_once() -> None:
    text = ASKED.replace("kerf = 0.083\n", "").replace("highest = 31", "highest = 'high'") + "colour = 'red'\nturns = 3\n"
    assert problems_of(text).keys() == {"kerf", "highest", "colour", "turns"}


def test_a_sheet_without_units_blames_no_length_for_it() -> None:
    assert problems_of(ASKED.replace('units = "in"\n', "")).keys() == {"units"}


def test_a_blade_that_cannot_rise_above_its_lowest_stand_is_refused() -> None:
    assert "highest" in problems_of(ASKED.replace("lowest = 1", "lowest = 35"))


def test_two_feeds_of_one_width_are_refused_and_feeds_are_put_in_order() -> None:
    feed = "[[feed]]\nwidth = {}\nsoft_per_minute = '20 ft'\nhard_per_minute = '10 ft'\n"
    assert "feed" in problems_of(ASKED + feed.format(6) + feed.format(6))
    widths = [each.width_m for each in read_mill_sheet(ASKED + feed.format(12) + feed.format(6)).mill.feeds]
    assert widths == pytest.approx([0.1524, 0.3048])


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_a_damaged_sheet_is_read_or_answered_with_sentences(data: st.DataObject) -> None:
    text = example("mill-full.toml")
    for _ in range(data.draw(st.integers(1, 4))):
        start = data.draw(st.integers(0, len(text)))
        end = min(len(text), start + data.draw(st.integers(0, 30)))
        text = (
            text[:start]
            + data.draw(st.text(max_size=8) | st.sampled_from(["= ", '"', "[", "-9e99", "0xFF", "\n[x]\n"]))
            + text[end:]
        )
    try:
        assert isinstance(read_mill_sheet(text), MillSheet)
    except SheetProblems as problem:
        lines = text.count("\n") + 2
        assert all(1 <= each.line <= lines and 10 < len(each.sentence) < 300 for each in problem.problems)  # noqa: PT017
