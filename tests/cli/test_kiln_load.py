"""waney kiln-load as a person calls it: who may share, who sets the pace, who must leave, several proposals."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from waney.cli.app import Ended

from .calling import EXAMPLES, METER, asked, run

KILNS, LOAD = str(EXAMPLES / "kilns-two.toml"), str(EXAMPLES / "load-mixed.toml")
SHED = ("kiln-load", KILNS, LOAD, "--kiln", "shed kiln")


@pytest.fixture(scope="module")
def answer() -> Any:
    return asked(*SHED)


def test_every_two_lots_are_told_whether_they_may_share_and_no_load_breaks_it(answer: Any) -> None:
    apart = {frozenset(two["lots"]) for two in answer["sharing"] if two["against"]}
    assert len(answer["sharing"]) == 3 and apart
    for one in answer["proposals"]:
        for load in one["loads"]:
            names = {lot["lot"] for lot in load["lots"]}
            assert not any(pair <= names for pair in apart)


def test_every_proposal_takes_all_pieces_once_and_the_fewest_days_come_first(answer: Any) -> None:
    for one in answer["proposals"]:
        taken = sum(lot["pieces"] for load in one["loads"] for lot in load["lots"])
        assert taken + len(one["left_out"]) == 34
        assert len(one["loads"]) >= answer["least_loads"]
        assert one["days"]["likely"] == pytest.approx(sum(load["days"]["likely"] for load in one["loads"]))
        evened = one["days_evened"]
        assert evened["likely"] == pytest.approx(sum(load["evened"]["whole"]["likely"] for load in one["loads"]))
        assert evened["likely"] > one["days"]["likely"]
    likely = [one["days"]["likely"] for one in answer["proposals"]]
    assert len(likely) >= 2 and likely == sorted(likely)


def test_a_lot_that_leaves_early_is_ready_first_and_overdried_if_it_stays(answer: Any) -> None:
    early = [(load, lot) for one in answer["proposals"] for load in one["loads"] for lot in load["lots"] if lot["leaves_early"]]
    assert early
    for load, lot in early:
        assert lot["ready_days"]["likely"] < load["days"]["likely"] and lot["mc_at_end"]["likely"] < 0.07


def test_every_lot_says_what_its_middle_holds_as_it_comes_out_and_every_load_where_it_pulls_most(answer: Any) -> None:
    for load in (load for proposal in answer["proposals"] for load in proposal["loads"]):
        for lot in load["lots"]:
            assert lot["face_mc"]["likely"] < lot["core_mc"]["likely"] and lot["core_mc"]["low"] < lot["core_mc"]["high"]
        assert load["stress"].split(":")[0] in [lot["lot"] for lot in load["lots"]]
        assert load["evened"]["whole"]["likely"] > load["days"]["likely"]


def test_a_lot_that_a_meter_could_not_tell_says_so(tmp_path: Path) -> None:
    sheet = tmp_path / "load.toml"
    sheet.write_text(
        'format = "waney-load/1"\nunits = "in"\n[[lot]]\nspecies = "white ash"\nthickness = "4/4"\nmoisture = 40\n'
        'meter = "pins"\nlength = "8 ft"\nwidth = 8\ncount = 4\n',
        encoding="utf-8",
    )
    code, said, _ = run("kiln-load", KILNS, str(sheet), "--kiln", "shed kiln")
    assert code == Ended.ANSWERED and "often far wetter than the 40 %" in " ".join(said.split())


def test_a_lot_of_a_wood_that_the_meters_table_has_goes_in_with_what_the_table_says(tmp_path: Path) -> None:
    sheet, meter = tmp_path / "load.toml", tmp_path / "meter.toml"
    lot = '[[lot]]\nspecies = "{}"\nthickness = "4/4"\nlength = "8 ft"\nwidth = 8\n'
    lot += 'moisture = 12\nmeter = "pins"\nwood_at = "68 F"\n'
    two = lot.format("white oak") + lot.format("white ash")
    sheet.write_text(f'format = "waney-load/1"\nunits = "in"\n{two}', encoding="utf-8")
    meter.write_text(METER, encoding="utf-8")
    oak, ash = asked("kiln-load", KILNS, str(sheet), "--kiln", "shed kiln", "--meter", str(meter))["lots"]  # type: ignore[misc]
    assert oak["moisture"]["likely"] == pytest.approx(0.135) and oak["minded"] == []  # a row of the table: 12 is 13.5
    assert ash["moisture"]["likely"] == pytest.approx(0.12) and "No species table" in ash["minded"][0]


def test_the_text_says_it_in_the_shops_units() -> None:
    code, said, _ = run(*SHED)
    assert code == Ended.ANSWERED
    for words in (
        "Who may share:",
        "oak with ash boards: yes",
        "sets the pace by T",
        "must leave after",
        "water to take out",
        "kWh",
        "The middle of a piece comes out at ",
        "drying stress, a risk and no promise: worst in ",
        "Equalising: ",
        "; with equalising ",
        "order of these ways is that of their days without equalising",
        "With it, a lot whose pieces differ takes ",
    ):
        assert words in said
    assert " lb" in said and "Steam and hot plates burn." in said and "°C" not in said


def test_plates_have_their_own_cautions_and_a_word_about_bark(tmp_path: Path) -> None:
    one = tmp_path / "one.toml"
    lot = '[[lot]]\nspecies = "red maple"\nthickness = "4/4"\nmoisture = 12\nlength = "8 ft"\nwidth = 8\n'
    one.write_text(f'format = "waney-load/1"\nunits = "in"\n{lot}', encoding="utf-8")
    code, said, _ = run("kiln-load", KILNS, str(one), "--kiln", "plate kiln")
    # docs/methods/vacuum.md: by the model vacuum is slower than heated air, so every load in vacuum says what its days lack
    assert "do not choose between kilns by them" in " ".join(said.split()) and "pieces as narrow as these" not in said
    assert code == Ended.ANSWERED and "take bark off" in said and "full pressure before you touch the door" in said
    assert "Who may share" not in said and "1 load" in said


CUPPED = """format = "waney-load/1"
units = "in"
[[lot]]
name = "maple"
species = "red maple"
thickness = "4/4"
moisture = 12
[[lot.piece]]
name = "A"
length = "8 ft"
width = 8
bark = "on"
[[lot.piece]]
name = "B"
length = "8 ft"
width = 8
cup = "1/4"
count = 2
[[lot.piece]]
name = "C"
length = "8 ft"
width = 8
cup = "1/16"
[[lot.piece]]
name = "longest"
length = "14 ft"
width = 8
cup = "1/2"
"""


def test_on_plates_cup_and_bark_of_the_pieces_that_lie_in_the_load_are_told_in_text_and_json(tmp_path: Path) -> None:
    sheet = tmp_path / "load.toml"
    sheet.write_text(CUPPED, encoding="utf-8")
    plain = " ".join(run("kiln-load", KILNS, str(sheet), "--kiln", "plate kiln")[1].split())
    assert "A layer between plates takes pieces whose thicknesses differ by 1/16 in or less." in plain
    assert "B 1, B 2 are cupped by 1/4 in: a plate touches them here and there alone. Lay them by themselves" in plain
    assert "C is cupped by 1/16 in: as little as a layer takes." in plain
    assert "Bark is still on A: take it off" in plain
    assert "longest is cupped" not in plain and "Stays out: longest" in plain, "it is in no load"
    (load,) = asked("kiln-load", KILNS, str(sheet), "--kiln", "plate kiln")["proposals"][0]["loads"]  # type: ignore[index]
    told = load["on_plates"]
    assert told["bark"] == ["A"] and {name for name, _ in told["cups"]} == {"B 1", "B 2", "C"}
    assert told["within_m"] == pytest.approx(0.0254 / 16) and max(cup for _, cup in told["cups"]) == pytest.approx(0.0254 / 4)
    assert any(one.startswith("B 1, B 2 are cupped by 6 mm") for one in told["said"]) and len(told["said"]) == 4


def test_in_heated_air_nothing_is_said_of_cups(tmp_path: Path) -> None:
    sheet = tmp_path / "load.toml"
    sheet.write_text(CUPPED.partition('[[lot.piece]]\nname = "longest"')[0], encoding="utf-8")
    document: Any = asked("kiln-load", KILNS, str(sheet), "--kiln", "shed kiln")
    assert [load["on_plates"] for one in document["proposals"] for load in one["loads"]] == [None] * len(document["proposals"])


def test_in_vacuum_narrow_pieces_hear_that_their_edges_are_not_counted(tmp_path: Path) -> None:
    one = tmp_path / "one.toml"
    lot = '[[lot]]\nspecies = "red maple"\nthickness = "8/4"\nmoisture = 12\nlength = "8 ft"\nwidth = 2.5\ncount = 3\n'
    for edges, told in (("open", True), ("bark", False)):
        one.write_text(f'format = "waney-load/1"\nunits = "in"\n{lot}edges = "{edges}"\n', encoding="utf-8")
        code, said, _ = run("kiln-load", KILNS, str(one), "--kiln", "plate kiln")
        assert code == Ended.ANSWERED and ("pieces as narrow as these may be dry sooner" in " ".join(said.split())) is told


def test_in_vacuum_wet_oak_does_not_travel_with_dry_maple_and_hears_that_the_chamber_is_too_hard(tmp_path: Path) -> None:
    sheet = tmp_path / "two.toml"
    lots = (("oak", "white oak", 60), ("maple", "red maple", 15))
    lot = '[[lot]]\nname = "{}"\nspecies = "{}"\nthickness = "4/4"\nmoisture = {}\nlength = "8 ft"\nwidth = 8\n'
    sheet.write_text('format = "waney-load/1"\nunits = "in"\n' + "".join(lot.format(*one) for one in lots), encoding="utf-8")
    code, said, _ = run("kiln-load", KILNS, str(sheet), "--kiln", "plate kiln")
    assert code == Ended.ANSWERED
    # 110 °F is the first step of T4-C2 (AH-188, memory), 2.5 % a day the safe rate of 4/4 white oak (wengert-oak-rates, seen)
    assert "oak with maple: no. " in said and "its own schedule has air of 110 °F." in said
    assert "maple, as it comes in, bears more." in said
    assert "of 2.5 % a day" in said and "2 loads" in said and "°C" not in said
    assert "A chamber too hard for a wood checks it" in said, "alone the oak has nobody to object to, and is told all the same"
    plain = " ".join(said.split())
    assert "As it is, by the model, the chamber suits oak from " in plain and "air-dry them first" in plain


def test_in_vacuum_wet_maple_hears_what_to_begin_with_and_for_how_long(tmp_path: Path) -> None:
    sheet = tmp_path / "wet.toml"
    lot = '[[lot]]\nname = "maple"\nspecies = "red maple"\nthickness = "4/4"\nmoisture = 60\n'
    lot += 'length = "8 ft"\nwidth = 8\nsapwood = true\n'
    sheet.write_text(f'format = "waney-load/1"\nunits = "in"\n{lot}', encoding="utf-8")
    plain = " ".join(run("kiln-load", KILNS, str(sheet), "--kiln", "plate kiln")[1].split())
    found = re.search(r"suits maple from (\d+)\.?\d* % on\. To get there: begin at (\d+) °F and (\d+) mbar", plain)
    assert found is not None, plain
    assert 8 < int(found[1]) < 60 and int(found[2]) < 140 and "then as it is set, likely for" in plain


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (("kiln-load", KILNS, LOAD), Ended.SHEET, "shed kiln, plate kiln"),
        (("kiln-load", LOAD, KILNS), Ended.SHEET, "load-mixed.toml"),
        (("kiln-load", KILNS), Ended.WRITTEN, "LOTS"),
    ],
)
def test_slips_are_told_in_a_line(words: tuple[str, ...], code: Ended, told: str) -> None:
    ended, _, error = run(*words)
    assert ended == code and told.lower() in error.lower() and len(error.strip().splitlines()) == 1


def test_pieces_that_fit_nowhere_end_with_the_reason(tmp_path: Path) -> None:
    long = tmp_path / "long.toml"
    lot = '[[lot]]\nspecies = "white ash"\nthickness = "4/4"\nmoisture = 20\nlength = "14 ft"\nwidth = 8\n'
    long.write_text(f'format = "waney-load/1"\nunits = "in"\n{lot}', encoding="utf-8")
    code, _, error = run("kiln-load", KILNS, str(long), "--kiln", "shed kiln")
    assert code == Ended.NO and "longer than the room" in error


SUN, SOON = str(EXAMPLES / "kiln-sun.toml"), ("--start", "2026-05-20")


def test_by_the_sun_a_load_dries_by_the_weather_from_the_day_it_goes_in(tmp_path: Path) -> None:
    boards = tmp_path / "boards.toml"
    boards.write_text(
        'format = "waney-load/1"\nunits = "in"\ntarget = 10\n[[lot]]\nspecies = "white ash"\nthickness = "4/4"\n'
        'moisture = 25\nlength = "8 ft"\nwidth = 8\ncount = 12\n',
        encoding="utf-8",
    )
    _, said, _ = run("kiln-load", SUN, str(boards), *SOON)
    said = " ".join(said.split())
    assert "glass shed, sun: Weather: Madison, WI, normal months from 20 May 2026 on" in said
    assert "as its two thermometers say" in said and "by T" not in said and "Equalising" not in said
    spring, autumn = (
        asked("kiln-load", SUN, str(boards), "--start", day)["proposals"][0]["days"]["likely"]  # type: ignore[index]
        for day in ("2026-05-20", "2026-10-20")
    )
    assert spring < autumn


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((SUN, LOAD), "Say with --start on which day"),
        ((KILNS, LOAD, "--kiln", "shed kiln", *SOON), "does not dry by the weather"),
        ((SUN, LOAD, "--start", "soon"), "--start"),
    ],
)
def test_slips_about_a_kiln_that_the_sun_warms_are_told_in_a_line(words: tuple[str, ...], told: str) -> None:
    ended, _, error = run("kiln-load", *words)
    assert ended == Ended.WRITTEN and told in " ".join(error.split())
