"""Stacks: lines by themselves, the slowest last; watch in a word and two numbers; a sheet with what is wrong in it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from waney.drying.chamber import Dehumidified
from waney.drying.evidence import MoistureRead, WeightRead
from waney.drying.outdoors import PACKAGE, Exposure, outdoor_air
from waney.drying.particles import Case
from waney.drying.safe_rate import safe_rate
from waney.drying.sawn import sawn_m
from waney.drying.spring import spring_after
from waney.drying.stack import BadStack, Line, Stack, StackDates, stack_dates
from waney.drying.stack_sheet import read_stack_sheet
from waney.drying.watch import expected, expected_loss, read_loss, said_of_loss
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.units.sheet import SheetProblems
from waney.units.thickness import parse_thickness
from waney.wood.climate import station
from waney.wood.species import species

EXAMPLE = (Path(__file__).parents[2] / "docs" / "examples" / "stack-mixed.toml").read_text(encoding="utf-8")
PLACE = station("IN", "Indianapolis")
WALNUT, OAK = species("walnut_black"), species("oak_white")
FEW = Scenarios(3, 48)


def stack(start: date, *lines: Line, exposure: Exposure = Exposure.OPEN) -> Stack:
    return Stack(PLACE, start, exposure, 0.20, lines)


def line(thickness: str, *reads: tuple[date, WeightRead | MoistureRead]) -> Line:
    return Line("a line", WALNUT, sawn_m(parse_thickness(thickness, None)), 10, reads)


def test_a_mixed_stack_is_ready_with_its_slowest_line_and_never_averaged() -> None:
    found = stack_dates(stack(date(2026, 4, 1), line("4/4"), line("8/4")), FEW)
    thin, thick = (one.forecast.after.days for one in found.lines)
    assert thin.likely < thick.likely
    assert (found.after.low, found.after.likely, found.after.high) == (thick.low, thick.likely, thick.high)
    alone = stack_dates(stack(date(2026, 4, 1), line("4/4")), FEW)
    assert alone.after == thin


def of_spring(found: StackDates) -> list[str]:
    return [remark for remark in found.lines[0].remarks if "spring" in remark]


def test_a_stack_begun_in_autumn_waits_for_spring_and_says_so() -> None:
    # stacked in autumn it will not reach 20 % until spring: extension advice on air-drying (user needs, S24)
    autumn, early = (
        stack_dates(stack(day, line(of)), FEW) for day, of in ((date(2026, 10, 10), "8/4"), (date(2026, 4, 1), "4/4"))
    )
    assert of_spring(autumn) == ["Will not reach 20 % before spring 2027 (less than one chance in twenty)."]
    assert not of_spring(early)


@pytest.mark.parametrize("month", [3, 4, 5, 6])
def test_a_thick_stack_begun_before_summer_says_that_it_needs_another(month: int) -> None:
    # 12/4 walnut in the open needs more than one season (FPL-GTR-117, memory: 8/4 alone takes 150 days and more)
    found = stack_dates(stack(date(2026, month, 25), line("12/4")), FEW)
    assert of_spring(found)[0].startswith("Will") and "spring 2027" in of_spring(found)[0]


def test_spring_is_counted_from_the_last_reading_on() -> None:
    # seen on 1 March 2027 the spring of that year is about to begin: the next winter is the one that matters
    wet = Estimate(0.60, 0.54, 0.66, Basis(Ground.READING, "test"), 0.0)
    begun, read = date(2026, 4, 1), date(2027, 3, 1)
    thick = replace(line("16/4", (read, MoistureRead(0.0, wet))), wood=OAK)
    assert "spring 2028" in of_spring(stack_dates(stack(begun, thick), FEW))[0]
    told = replace(stack(begun, line("12/4")), spring=date(2027, 3, 20))
    assert "spring 2027" in of_spring(stack_dates(told, FEW))[0]


@pytest.mark.parametrize(
    ("day", "year"), [(date(2026, 12, 1), 2027), (date(2027, 2, 18), 2027), (date(2027, 2, 19), 2028), (date(2027, 3, 25), 2028)]
)
def test_a_spring_that_is_about_to_begin_is_not_the_one_that_matters(day: date, year: int) -> None:
    assert spring_after(day).year == year and (spring_after(day) - day).days >= 30


def test_nothing_is_said_of_spring_in_a_chamber_that_makes_its_own_air() -> None:
    chamber = Dehumidified(25.0, 0.85)
    held = Stack(PLACE, date(2026, 10, 10), Exposure.DEHUMIDIFIER, 0.20, (line("8/4"),), chamber=chamber)
    found = stack_dates(held, FEW)
    assert found.after.likely > 60 and not of_spring(found)


def test_two_weights_tell_a_loss_in_a_word_and_two_numbers() -> None:
    safe = safe_rate(OAK.id, 0.0286)
    assert safe is not None
    reads = [WeightRead(0.0, 18.0, 0.0), WeightRead(10.0, 13.0, 0.0)]
    loss = read_loss(reads, 10.0)
    assert loss == pytest.approx(0.05)  # 5 kg of 10 kg in ten days
    assert said_of_loss(loss, safe).startswith("too fast: 5.0 of ")
    assert said_of_loss(0.001, safe).startswith("safe: 0.1 of ")
    assert "gained 1.0 % a day" in said_of_loss(-0.01, safe)
    assert read_loss(reads[:1], 10.0) is None and "two weights" in said_of_loss(None, safe)


def test_a_thin_piece_with_a_fan_is_expected_to_lose_faster() -> None:
    cases = [
        Case(WALNUT, thickness, outdoor_air(PLACE, date(2026, 6, 1), 400, exposure), 0.20)
        for thickness, exposure in ((0.0286, Exposure.FAN), (0.0286, Exposure.ROOF), (0.054, Exposure.ROOF))
    ]
    fan, roof, thick = (expected_loss(expected(case))[0] for case in cases)
    assert fan > roof > thick


def test_the_example_sheet_holds_boards_weights_and_meters() -> None:
    found = read_stack_sheet(EXAMPLE)
    walnut, oak = found.lines
    assert (found.start, found.target, walnut.count) == (date(2026, 4, 1), 0.20, 40)
    # sections by hand: 182/101 - 1 = 80.2 %, 176/99 - 1 = 77.8 %
    assert walnut.board is not None and walnut.board.mc == pytest.approx((182 / 101 + 176 / 99) / 2 - 1)
    # 66 + 63 - 4 lb, one end after the other
    weight = oak.reads[0][1]
    assert isinstance(weight, WeightRead) and weight.kg == pytest.approx(125 * 0.45359237)
    assert oak.volume_m3 == pytest.approx(2.125 * 18 * 96 * 0.0254**3)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('place = "Indianapolis"', 'place = "Indianapolos"', "Indianapolis"),
        ('species = "white oak"', 'species = "wite oak"', "white oak"),
        ('dry = ["101 g", "99 g"]', 'dry = ["101 g"]', "as many"),
        ('dry = ["101 g", "99 g"]', 'dry = ["201 g", "99 g"]', "weigh again"),
        ('exposure = "open"', 'exposure = "barn"', "roof"),
        ('tare = "4 lb"', 'tare = "400 lb"', "leaves no wood"),
        ("count = 40", "count = 0", "count"),
    ],
)
def test_what_is_wrong_in_a_sheet_is_told_with_its_line(old: str, new: str, told: str) -> None:
    with pytest.raises(SheetProblems, match=told) as found:
        read_stack_sheet(EXAMPLE.replace(old, new))
    assert "line " in str(found.value)


def test_a_sheet_says_how_wide_the_stack_is_and_how_far_apart_its_layers_lie() -> None:
    told = EXAMPLE.replace('exposure = "open"', 'exposure = "open"\npile_width = "8 ft"\nsticker = 1')
    found = read_stack_sheet(told)
    assert (found.passage.wide_m, found.passage.sticker_m) == pytest.approx((2.4384, 0.0254))
    assert read_stack_sheet(EXAMPLE).passage == PACKAGE
    with pytest.raises(SheetProblems, match=r"24\.38 m wide"):
        read_stack_sheet(told.replace("8 ft", "80 ft"))


def test_a_sheet_without_pieces_and_a_stack_without_lines_are_refused() -> None:
    with pytest.raises(SheetProblems, match="piece"):
        read_stack_sheet(EXAMPLE.partition("[[piece]]")[0])
    with pytest.raises(BadStack):
        stack_dates(stack(date(2026, 4, 1)), FEW)
