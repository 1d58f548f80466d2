"""waney schedule and waney heat-treat: the book's steps, days with a range, minutes to the core and no certificate."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from waney.cli.app import Ended
from waney.figures.scenarios import Scenarios

from .calling import DEMO, asked, run

ASH = ("heat-treat", "white ash", "8/4", "10 in", "--dry-bulb", "160 F", "--start", "60 F")


def test_the_steps_of_t4_d2_are_those_of_the_book_s_worked_assembly() -> None:
    said = run("schedule", "northern red oak", "4/4")[1].splitlines()
    # worked assembly of AH-188 for 4/4 upland red oak (memory): dry bulb, depression; wet bulbs of 90 °F and more
    worked = [(110, 4), (110, 5), (110, 8), (110, 14), (120, 30), (130, 40), (140, 50), (180, 50)]
    for line, (dry, depression) in zip(said[2:10], worked, strict=True):
        assert f"{dry} °F" in line and f" {depression} °F" in line
    assert "schedule T4-D2" in said[0]


def test_a_code_from_memory_is_said_to_be_so() -> None:
    said = run("schedule", "northern red oak", "4/4")[1]
    assert "a day, as seen in wengert-oak-rates." in said and "a day, from memory" not in said
    assert "from memory: check them against the book" in said and "Steam and hot plates burn" in said


def test_days_hold_the_seen_statement_on_white_oak() -> None:
    # OSU Extension EM 8612 (seen): air-dried 4/4 white oak one to two weeks in the kiln
    days: Any = asked("schedule", "white oak", "4/4", "--mc", "20")["days"]
    assert days["low"] <= 14.0 and days["high"] >= 7.0 and days["low"] < days["likely"] < days["high"]


def test_water_is_dry_mass_times_what_the_moisture_falls() -> None:
    found: Any = asked("schedule", "black cherry", "4/4", "--mc", "20", "--to", "8")
    # Wood Handbook Table 5-3b: black cherry, specific gravity 0.47 green
    assert found["water_m3_kg"]["likely"] == pytest.approx(1000 * 0.47 * 0.12, rel=1e-9)
    assert found["first_step"] == next(i for i, s in enumerate(found["steps"], 1) if s["from_mc"] == 0.20)


def test_heat_is_that_of_its_water_from_no_walls_to_a_kiln_as_built() -> None:
    """Evaporation 2.26 to 2.5 MJ/kg (steam tables); kilns as built take 1.5 to 3 times that (AH-188, memory)."""
    found = asked("schedule", "white oak", "4/4")
    heat, water = found["heat_m3_j"], found["water_m3_kg"]
    each = {end: heat[end] / water[end] / 1e6 for end in ("low", "likely", "high")}  # type: ignore[index]
    assert 2.26 < each["low"] < each["likely"] < each["high"]
    assert 1.2 * 2.26 < each["likely"] < 2.0 * 2.5 and 3.0 * 2.26 <= each["high"] <= 3.0 * 2.5
    assert "Heat for 1,000 board feet: " in run("schedule", "white oak", "4/4")[1]


def test_wetter_thicker_and_conditioned_takes_longer() -> None:
    def days(*words: str) -> float:
        found: Any = asked("schedule", "black cherry", *words)["days"]
        return float(found["likely"])

    short = days("4/4", "--mc", "20")
    assert days("4/4", "--mc", "40") > short and days("8/4", "--mc", "20") > short
    assert days("4/4", "--mc", "20", "--condition", "24") == pytest.approx(short + 1.0)


def test_drying_stress_is_told_step_by_step_as_a_risk(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.cli.schedule_answer.SCENARIOS", Scenarios(1, 4))
    found: Any = asked("schedule", "northern red oak", "4/4")
    steps = found["stress_by_step"]
    assert [one["step"] for one in steps] == list(range(1, 1 + len(found["steps"])))
    days = [one["until_day"] for one in steps]
    assert days == sorted(days) and days[-1] <= found["days"]["likely"] + 1e-9
    # the surface is pulled first, the core at the end; the whole way has the highest of all steps
    assert steps[0]["surface"]["least"] > steps[0]["core"]["most"] and steps[-1]["surface"]["most"] < steps[-1]["core"]["least"]
    assert all(one[where]["least"] == one[where]["most"] for one in steps for where in ("surface", "core"))  # one figure was read
    assert f"pulled to {max(one['surface']['most'] for one in steps):.2f} of what green wood bears" in found["stress"]
    assert f"kept from shrinking by {max(one['kept'] for one in steps) * 100:.1f} %" in found["stress"]
    said = run("schedule", "northern red oak", "4/4")[1]
    assert "a risk and no promise" in said and "by step, at its highest in step" in said
    assert "What it bears across the grain: fpl-gtr-282" in said


def test_a_wood_of_which_only_dry_wood_was_read_has_a_range_in_words_and_in_json(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.cli.schedule_answer.SCENARIOS", Scenarios(1, 4))
    found: Any = asked("schedule", "black walnut", "4/4")
    most = max((one["surface"] for one in found["stress_by_step"]), key=lambda taken: float(taken["most"]))
    # nothing green was read of it, so that it may bear half of what it does dry
    assert most["most"] == pytest.approx(2.0 * most["least"])
    assert f"pulled to {most['least']:.2f} to {most['most']:.2f} of what this wood bears (a figure of dry wood" in found["stress"]
    assert most["most"] > 1.0 and "above 1 it may check" in found["stress"]
    assert found["stress_basis"]["key"] == "wood-handbook-retyped"
    said = " ".join(run("schedule", "black walnut", "4/4")[1].split())
    assert "What it bears across the grain: wood-handbook-retyped (read at 12 % only)" in said
    assert f"surface {most['least']:.2f} to {most['most']:.2f}" in said


def test_narrow_pieces_take_fewer_days_by_a_schedule_and_wide_ones_what_they_did(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("waney.cli.schedule_answer.SCENARIOS", Scenarios(1, 4))

    def days(*sized: str) -> tuple[float, str]:
        found: Any = asked("schedule", "white oak", "8/4", "--mc", "20", *sized)
        return float(found["days"]["likely"]), str(found["sides"])

    plain, wide, square = days(), days("--width", "12 in", "--length", "8 ft"), days("--width", "2 1/8 in")
    assert wide == plain and plain[1] == ""
    assert square[0] < 0.6 * plain[0] and "by its edges too" in square[1]
    assert days("--width", "2 1/8 in", "--edges", "bark") == plain
    short = days("--length", "2 ft", "--ends", "bare")
    assert square[0] < short[0] < plain[0] and "so coat them" in short[1]


def test_a_wood_without_a_code_is_asked_for_one_and_takes_it() -> None:
    code, _, told = run("schedule", "pear", "4/4")
    assert code == Ended.SHEET and "write a code such as T3-A1" in told
    found = asked("schedule", "pear", "4/4", "--code", "T6-C3", "--mc", "25")
    assert found["own_code"] is False and found["code"] == "T6-C3"


def test_both_views_tell_the_same_schedule() -> None:
    inches, metric = (run("schedule", "black walnut", "8/4", "--units", view)[1].splitlines() for view in ("in", "mm"))
    pairs = [(a.split(), b.split()) for a, b in zip(inches[2:8], metric[2:8], strict=True)]
    assert all(a[-1] == b[-1] and a[-3:-1] == b[-3:-1] for a, b in pairs)
    assert "110 °F" in inches[2] and "43 °C" in metric[2]  # T3 begins at 110 °F (AH-188, memory)


@pytest.mark.parametrize("words", [("--mc", "6"), ("--to", "50"), ("--condition", "500"), ("--code", "oak")])
def test_what_cannot_be_dried_is_answered_with_a_sentence(words: tuple[str, ...]) -> None:
    code, said, told = run("schedule", "black cherry", "4/4", *words)
    assert code in (Ended.SHEET, Ended.WRITTEN) and not said and told.count("\n") == 1


def test_quarters_without_a_green_size_are_asked_for() -> None:
    code, _, told = run("schedule", "black cherry", "9/4")
    assert code == Ended.SHEET and "write what it measures" in told


def test_heating_is_no_certificate_and_says_what_the_record_needs() -> None:
    code, said, _ = run(*ASH, "--wet-bulb", "150 F")
    assert code == 0 and "not a certificate" in said and "probe in the core" in said
    assert "133 °F" in said


def test_minutes_of_saturated_heating_hold_the_published_cell() -> None:
    # Wood Handbook Table 20-4 (seen): red maple, 2 in by 6 in, green, 71.1 °C, from 15.6 °C: 50 min saturated,
    # 59 min at a depression of 5.6 K
    words = ("red maple", "2 in", "6 in", "--dry-bulb", "71.1 C", "--start", "15.6 C")
    for published, air in ((50.0, ("--steam",)), (59.0, ("--wet-bulb", "65.5 C"))):
        found: Any = asked("heat-treat", *words, *air)["minutes"]
        assert found["low"] <= published <= found["high"] and found["likely"] == pytest.approx(published, rel=0.16)


def minutes(*words: str) -> float:
    """The likely minutes until the core is hot enough."""
    found: Any = asked(*words)["minutes"]
    return float(found["likely"])


def test_colder_thicker_drier_air_and_no_stickers_take_longer() -> None:
    base = minutes(*ASH, "--wet-bulb", "150 F")
    assert minutes(*ASH[:-1], "20 F", "--wet-bulb", "150 F") > base
    assert minutes(*ASH, "--wet-bulb", "140 F") > base > minutes(*ASH, "--steam")
    assert minutes("heat-treat", "white ash", "12/4", *ASH[3:], "--wet-bulb", "150 F") > base
    assert 2.0 * base <= minutes(*ASH, "--wet-bulb", "150 F", "--solid") <= 10.0 * base  # FPL-RP-607, seen


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "--steam"),
        (("--wet-bulb", "120 F", "--core", "161 F"), "make it hotter"),
        (("--wet-bulb", "170 F"), "which is which"),
        (("--steam", "--core", "10 C"), "already"),
    ],
)
def test_air_that_cannot_do_it_is_answered_with_what_to_write(words: tuple[str, ...], said: str) -> None:
    code, _, told = run(*ASH, *words)
    assert code in (Ended.SHEET, Ended.WRITTEN) and said in told


def test_where_the_wet_bulb_is_below_the_core_the_wood_must_dry_first_and_is_told_so() -> None:
    code, said, _ = run(*ASH, "--wet-bulb", "120 F")
    assert code == 0 and "until it has dried" in " ".join(said.split()) and " hours, " in said
    assert minutes(*ASH, "--wet-bulb", "120 F") > 3.0 * minutes(*ASH, "--wet-bulb", "150 F")
    assert "until it has dried" not in " ".join(run(*ASH, "--wet-bulb", "150 F")[1].split())


def test_frozen_wood_is_told_of() -> None:
    assert "Frozen wood" in run(*ASH[:-1], "20 F", "--steam")[1] and "Frozen" not in run(*ASH, "--steam")[1]


RECORD = DEMO / "core-record.csv"


def test_a_core_record_is_judged_with_its_minutes_and_its_gap() -> None:
    # by hand: 56 °C and more from minute 80 on; read to 105, then from 130 to 160: 25 and 30 minutes
    found: Any = asked("heat-treat", "--record", str(RECORD))
    assert (found["longest_min"], found["in_all_min"], found["across_min"], found["shown"]) == (30.0, 55.0, 80.0, True)
    assert found["gaps"] == [{"from_min": 105.0, "to_min": 130.0}]
    code, said, _ = run("heat-treat", "--record", str(RECORD), "--core", "58 C", "--hold", "40", "--units", "mm")
    assert code == 0 and said.startswith("Not shown: 58 °C held for 40 minutes") and "not a certificate" in said
    assert "25 minutes from minute 105 on" in said


def test_a_record_is_judged_alone_and_one_that_cannot_be_read_is_told_by_its_lines(tmp_path: Path) -> None:
    bad = tmp_path / "bad.csv"
    bad.write_text("minutes,core_f\n0,120\nlater,133\n", encoding="utf-8")
    code, _, told = run("heat-treat", "--record", str(bad))
    assert code == Ended.SHEET and "line 3: 'later' is no time" in told
    code, _, told = run("heat-treat", "white ash", "--record", str(RECORD))
    assert code == Ended.WRITTEN and "--core and --hold alone" in told
    code, _, told = run("heat-treat", "white ash")
    assert code == Ended.WRITTEN and "--record" in told
