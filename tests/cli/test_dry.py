"""waney dry as a person calls it: dates for a mixed stack, narrowed by two weighings, from options or a sheet."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from waney.cli.app import Ended

from .calling import EXAMPLES, METER, asked, run

HERE = ("--state", "IN", "--place", "Indianapolis", "--start", "2026-04-01")
MIXED = ("dry", "--piece", "white oak, 8/4, 6", "--piece", "black walnut, 4/4, 40", *HERE)
TWO = ("--weighed", "2, 2026-04-02, 17.8 lb", "--weighed", "2, 2026-05-20, 13.0 lb")


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


def test_a_wide_pile_is_dry_later_and_a_width_that_none_has_is_refused() -> None:
    package, pile = (asked(*MIXED, *more)["lines"][1]["days"]["likely"] for more in ((), ("--pile-width", "12 ft")))  # type: ignore[index]
    assert pile > 1.1 * package
    code, _, error = run(*MIXED, "--pile-width", "60 ft")
    assert code == Ended.SHEET and "18.29 m wide" in error


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


def test_squares_and_short_pieces_are_ready_earlier_and_what_they_hold_inside_is_a_range() -> None:
    def line(size: str, *words: str) -> Any:
        document: Any = asked("dry", "--piece", f"white oak, 8/4, 6{size}", *HERE, *words)
        return document["lines"][0]

    plain, wide, square = line(""), line(", 8 ft x 12 in"), line(", 8 ft x 2 1/8 in")
    assert wide["days"] == plain["days"] and wide["remarks"] == plain["remarks"]
    assert not any("edges" in one or "ends" in one for one in plain["remarks"])
    assert square["days"]["likely"] < 0.6 * plain["days"]["likely"] and "by its edges too" in square["remarks"][0]
    bark, bare = line(", 8 ft x 2 1/8 in", "--edges", "bark"), line(", 2 ft x 12 in", "--ends", "bare")
    assert bark["days"] == plain["days"] and "closed by bark" in bark["remarks"][0]
    assert bare["days"]["likely"] < plain["days"]["likely"] and "bare ends too" in bare["remarks"][0]
    read = line("", "--read", "1, 2026-08-01, 25 %")
    for at, mean in (("inside_now", read["moisture"]["likely"]), ("inside_end", 0.20)):
        found = read[at]
        assert found["mean_mc"] == pytest.approx(mean) and found["core_mc"]["low"] < found["core_mc"]["high"]
        assert found["face_mc"]["likely"] < mean < found["core_mc"]["likely"]
    assert plain["inside_now"] is None and plain["core_now"] == ""


def test_a_heavy_piece_of_known_size_is_weighed_one_end_at_a_time() -> None:
    sized = ("dry", "--piece", "white oak, 8/4, 6, 8 ft x 18 in", *HERE)
    ends, whole = (
        asked(*sized, "--weighed", f"1, 2026-05-01, {said}")["lines"][0]["dry_kg"]  # type: ignore[index]
        for said in ("66 lb + 63 lb", "129 lb")
    )
    assert ends["likely"] == pytest.approx(whole["likely"], rel=0.02)
    # sizes alone: 2 1/8 x 18 x 96 in of gravity 0.60 (Wood Handbook Table 5-3a), 62.43 lb/ft3 of water
    assert whole["low"] < 2.125 * 18 * 96 / 1728 * 0.60 * 62.43 * 0.45359237 < whole["high"]


def remarks(*arguments: str) -> list[str]:
    document: Any = asked(*arguments)
    return [remark for line in document["lines"] for remark in line["remarks"]]


@pytest.mark.parametrize(
    ("reading", "told"),
    [("45 %", "often far wetter than the 45 % shown"), ("2 %", "cannot tell below 4 %"), ("18 %", "No species")],
)
def test_a_meter_says_what_it_cannot_tell(reading: str, told: str) -> None:
    # above 30 % and below 4 % no meter is believed: Wood Handbook FPL-GTR-190, chapter 13 (seen)
    assert any(
        told in one for one in remarks("dry", "--piece", "white oak, 4/4, 6", *HERE, "--read", f"1, 2026-05-01, {reading}")
    )


def test_a_meter_past_saturation_in_a_sheet_says_so_and_in_which_direction_it_errs() -> None:
    assert any("often far wetter than the 34 % shown" in one for one in remarks("dry", str(EXAMPLES / "stack-mixed.toml")))


def test_wood_too_dry_for_a_meter_is_dry_and_not_wetter() -> None:
    document: Any = asked("dry", "--piece", "white oak, 4/4, 6", *HERE, "--read", "1, 2026-08-01, 3 %")
    plain: Any = asked("dry", "--piece", "white oak, 4/4, 6", *HERE)
    assert document["lines"][0]["days"]["likely"] < plain["lines"][0]["days"]["likely"]


SEASON = ("--weighed", "1, 2026-04-01, 92 lb", "--weighed", "1, 2026-06-20, 79 lb")


def test_weights_of_a_piece_of_unknown_size_that_narrow_nothing_say_what_would() -> None:
    unknown, sized = (("dry", "--piece", f"black walnut, 8/4, 6{size}", *HERE, *SEASON) for size in ("", ", 8 ft x 18 in"))
    document: Any = asked(*unknown)
    line = document["lines"][0]
    before, after = line["before_days"], line["days"]
    assert after["high"] - after["low"] >= before["high"] - before["low"]
    assert any("length and width of the piece" in one for one in line["remarks"])
    narrower: Any = asked(*sized)
    assert narrower["days"]["high"] - narrower["days"]["low"] < before["high"] - before["low"]
    assert not any("does not narrow" in one for one in narrower["lines"][0]["remarks"])


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
        ((*MIXED, "--ends", "waxed"), "none of coated"),
        ((*MIXED, "--weighed", "1, 2036-05-01, 40 lb"), "beyond"),
    ],
)
def test_slips_are_told_in_a_line(words: tuple[str, ...], told: str) -> None:
    code, _, error = run(*words)
    assert code in (Ended.WRITTEN, Ended.SHEET) and told in error


SHEET = str(EXAMPLES / "stack-mixed.toml")


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("--state", "IN"),
        ("--place", "Indianapolis"),
        ("--start", "2026-04-01"),
        ("--exposure", "roof"),
        ("--target", "15 %"),
        ("--pile-width", "12 ft"),
        ("--edges", "bark"),
        ("--ends", "bare"),
        ("--mark", "1 lb"),
    ],
)
def test_what_a_sheet_says_itself_is_refused_beside_it_by_its_name(option: str, value: str) -> None:
    code, said, error = run("dry", SHEET, option, value)
    assert (code, said) == (Ended.WRITTEN, "") and f"Leave out {option} beside" in error and len(error.splitlines()) == 1


def test_several_options_beside_a_sheet_are_named_in_one_sentence() -> None:
    _, _, error = run("dry", SHEET, "--pile-width", "12 ft", "--ends", "bare", "--mark", "1 lb")
    assert "Leave out --pile-width, --ends and --mark beside" in error


def test_beside_a_sheet_a_weight_has_the_mark_of_the_sheet_unless_another_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.drying.stack.PARTICLES", 16)
    words = ("dry", SHEET, "--weighed", "1, 2026-05-20, 6.6 lb")
    as_told, same, coarse = (
        asked(*words, *more)["lines"][0]["dry_kg"] for more in ((), ("--mark", "0.1 lb"), ("--mark", "2 lb"))
    )  # type: ignore[index]
    assert as_told == same, "the sheet says 0.1 lb"
    assert coarse["high"] - coarse["low"] > same["high"] - same["low"]


NO_TABLE = "No species table was typed in: the meter was read as it stands, with a wider range."


def test_a_meter_sheet_puts_right_what_was_read_of_the_woods_it_has_and_of_no_other(tmp_path: Path) -> None:
    meter = tmp_path / "meter.toml"
    meter.write_text(METER, encoding="utf-8")
    read = (*MIXED, "--target", "16 %", "--read", "1, 2026-04-01, 20 %", "--read", "2, 2026-04-01, 20 %")
    plain, right = (asked(*read, *more)["lines"] for more in ((), ("--meter", str(meter))))
    (oak, walnut), (oak_right, walnut_right) = plain, right  # type: ignore[misc]
    assert NO_TABLE in oak["remarks"] and NO_TABLE not in oak_right["remarks"]
    # read as it goes on stickers, before the model has a say: a row of the table, 20 is 22
    assert oak["moisture"]["likely"] == pytest.approx(0.20, abs=0.005)
    assert oak_right["moisture"]["likely"] == pytest.approx(0.22, abs=0.005)
    assert walnut == walnut_right and NO_TABLE in walnut["remarks"]


def test_a_meter_sheet_is_for_readings_and_its_slips_are_told_by_its_name(tmp_path: Path) -> None:
    meter = tmp_path / "meter.toml"
    meter.write_text(METER.replace("13.5, 22", "13.5"), encoding="utf-8")
    code, _, error = run(*MIXED, "--read", "1, 2026-08-01, 16 %", "--meter", str(meter))
    assert code == Ended.SHEET and "meter.toml" in error and "2 figures stand beside 3" in error
    code, _, error = run(*MIXED, "--meter", str(meter))
    assert code == Ended.WRITTEN and "add --read" in error


def days(*arguments: str) -> dict[str, float]:
    found: dict[str, float] = asked(*arguments)["days"]  # type: ignore[assignment]
    return found


def epw(folder: Path, warmer: float) -> str:
    """A weather file of building simulation: a year whose July is so much warmer than its January [K]."""
    head = ["LOCATION,Ferndale,XX,XX,0,0,0,0,0,0", *(f"HEAD {n}" for n in range(7))]
    rows = []
    for month in range(1, 13):
        at = 8.0 + warmer * (1.0 - abs(month - 7) / 6.0)
        rows += [f"2026,{month},1,{hour % 24 + 1},60,A7,{at:.2f},0,70" for hour in range(720)]
    path = folder / f"{warmer:.0f}.epw"
    path.write_text("\n".join([*head, *rows]), encoding="utf-8")
    return str(path)


def test_weather_of_ones_own_by_the_hour_takes_the_place_of_the_stations(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.drying.stack.PARTICLES", 16)
    mild, warm = (epw(tmp_path, by) for by in (6.0, 20.0))
    words = ("dry", "--piece", "black walnut, 4/4, 40", "--start", "2026-04-01", "--rows")
    assert days(*words, warm)["likely"] < days(*words, mild)["likely"]
    code, said, _ = run(*words, warm)
    assert code == Ended.ANSWERED and "Weather: Ferndale, XX, XX, the hours of the year given" in said
    by_sheet = ("dry", str(EXAMPLES / "stack-mixed.toml"), "--rows", warm)
    assert asked(*by_sheet)["place"] == "Ferndale, XX, XX"
    code, said, _ = run("emc", "--rows", warm)
    assert code == Ended.ANSWERED and "January" in said


MONTHS = "month,t_c,rh_pct\n" + "".join(f"{month},{14.0 + 8.0 * (1.0 - abs(month - 7) / 6.0):.1f},70\n" for month in range(1, 13))


@pytest.mark.parametrize("wording", ["waney dry", "waney sample"])
def test_months_of_ones_own_are_called_so_and_a_sheet_then_needs_no_place(wording: str, tmp_path: Path) -> None:
    rows, sheet = tmp_path / "shed.csv", tmp_path / "stack.toml"
    rows.write_text(MONTHS, encoding="utf-8")
    text = (EXAMPLES / "stack-mixed.toml").read_text("utf-8")
    sheet.write_text(text.replace('state = "IN"\n', "").replace('place = "Indianapolis"\n', ""), encoding="utf-8")
    command = wording.split()[1]
    code, _, error = run(command, str(sheet))
    assert code == Ended.SHEET and "state" in error and "place" in error
    code, said, _ = run(command, str(sheet), "--rows", str(rows))
    assert code == Ended.ANSWERED and "your own weather (shed.csv)" in said
    if command == "dry":
        assert "Weather: your own weather (shed.csv), the twelve months given, taken for normal ones, and" in said


def test_hours_in_a_chamber_that_the_sun_warms_count_by_their_months_and_it_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("waney.drying.stack.PARTICLES", 16)
    words = ("dry", "--piece", "red maple, 4/4, 40", "--start", "2026-04-01", "--exposure", "sun", "--rows")
    assert "means of the months of the hours given" in str(asked(*words, epw(tmp_path, 15.0))["air"])


def test_a_chamber_that_the_sun_warms_is_sooner_than_the_open_and_says_what_was_assumed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.drying.stack.PARTICLES", 16)
    words = ("dry", "--piece", "red maple, 4/4, 40", *HERE)
    by_sun = asked(*words, "--exposure", "sun")
    assert by_sun["days"]["likely"] < days(*words)["likely"]  # type: ignore[index]
    assert "a dull, a usual and a good one" in str(by_sun["air"])
    code, _, told = run(*words, "--exposure", "dehumidifier")
    assert code != Ended.ANSWERED and "[chamber]" in told


CHAMBER = """format = "waney-stack/1"
units = "in"
state = "IN"
place = "Indianapolis"
start = 2026-11-01
exposure = "dehumidifier"
target = "10 %"

[chamber]
inside = "110 F"
humidity = "35 %"

[[piece]]
species = "red maple"
thickness = "4/4"
"""


def test_a_chamber_with_a_dehumidifier_is_told_by_what_is_read_in_it(tmp_path: Path) -> None:
    sheet = tmp_path / "stack.toml"
    sheet.write_text(CHAMBER, encoding="utf-8")
    code, said, _ = run("dry", str(sheet))
    assert code == Ended.ANSWERED and "in a chamber with a dehumidifier" in said and "what the chamber is held at" in said
    placed = asked("dry", str(sheet))
    sheet.write_text(CHAMBER.replace('state = "IN"\nplace = "Indianapolis"\n', ""), encoding="utf-8")
    anywhere = asked("dry", str(sheet))
    assert anywhere["days"] == placed["days"] and (anywhere["place"], placed["place"]) == ("", "Indianapolis, IN")
    for old, new, told in (
        ('humidity = "35 %"\n', "", "humidity"),
        ('humidity = "35 %"', 'humidity = "2 %"', "no air to dry in"),
        ('[chamber]\ninside = "110 F"\nhumidity = "35 %"\n', "", "needs .chamber. with inside and humidity"),
        ('exposure = "dehumidifier"', 'exposure = "roof"', "stands in no chamber"),
    ):
        sheet.write_text(CHAMBER.replace(old, new), encoding="utf-8")
        code, _, said = run("dry", str(sheet))
        assert code != Ended.ANSWERED and told.replace(".", "") in said.replace("[", "").replace("]", ""), said
