"""A stack as a yard knows it: bands by date, readings that count and those that do not, what nobody told widens the answer."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.drying.band import Band, around, band, days_of
from waney.drying.either import anywhere
from waney.drying.evidence import MoistureRead, WeightRead
from waney.drying.known_sides import KnownSides
from waney.drying.meter import Correction
from waney.drying.meter_sheet import MeterSheet, read_meter_sheet
from waney.drying.moisture_told import How, MoistureTold, Where, moisture_of
from waney.drying.outdoors import Exposure
from waney.drying.piece_read import PieceRead, lined
from waney.drying.prongs import NoSuchSign, stress_of
from waney.drying.sample_board import SampleBoard, Section
from waney.drying.weighing import WeighingScale, Weight, gain_from, weighed, weight_of
from waney.drying.yard_stack import Untold, YardDates, YardStack, yard_dates
from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.units.sheet import SheetProblems
from waney.wood.climate import station
from waney.wood.species import species
from waney.yard.acts.drying import Prongs

PLACE = station("IN", "Indianapolis")
APRIL = date(2026, 4, 1)
OAK = species("white oak")
FEW = Scenarios(3, 40)
SHEET = MeterSheet()


def piece(name: str, thickness_m: float | None = 0.0286, **told: object) -> PieceRead:
    return PieceRead(name, "white oak", thickness_m, 2.5, 0.2, APRIL, **told)  # type: ignore[arg-type]


def dates(pieces: tuple[PieceRead, ...], exposures: tuple[Exposure, ...] = (Exposure.OPEN,), **more: object) -> YardDates:
    climates = more.get("climates", (PLACE,))
    return yard_dates(YardStack(climates, exposures, 0.20, pieces, SHEET), FEW, lambda _share: None)  # type: ignore[arg-type]


WEIGHED = (
    (date(2026, 4, 1), Weight(13.0, 0.02)),
    (date(2026, 5, 1), Weight(10.9, 0.02)),
    (date(2026, 5, 20), Weight(10.1, 0.02)),
)


@pytest.fixture(scope="module")
def found() -> YardDates:
    """Two thicknesses, one piece weighed three times, one of which nothing can be said."""
    return dates((piece("A", weights=WEIGHED), piece("B"), piece("C"), piece("D", 0.054), piece("E", None)))


# bands


@given(st.lists(st.floats(0.2, 1.5), min_size=5, max_size=12), st.integers(3, 40))
@settings(max_examples=25, deadline=None)
def test_a_band_holds_its_middle_and_lies_within_what_its_particles_do(starts: list[float], days: int) -> None:
    daily = np.array([np.linspace(start, 0.2, days) for start in starts])
    made = band(daily, np.full(len(starts), 1.0 / len(starts)), days_of(days - 1))
    assert np.all(made.low <= made.likely) and np.all(made.likely <= made.high)
    assert made.low.min() >= 0.2 - 1e-12 and made.high.max() <= max(starts) + 1e-12


def test_a_band_after_the_last_reading_is_stretched_and_before_it_is_not() -> None:
    daily = np.tile(np.linspace(1.0, 0.2, 81), (3, 1))
    plain, longer = (band(daily, np.full(3, 1 / 3), days_of(80), last=40.0, stretch=np.array(each)) for each in ([1.0], [2.0]))
    assert plain.on(40) == longer.on(40)
    assert longer.on(60)[1] == pytest.approx(plain.on(50)[1])  # twice the time after the reading


def test_whichever_of_several_is_so_lies_within_the_band_around_them() -> None:
    days = np.array([0.0, 10.0])
    low, high = (Band(days, one - 0.1, one, one + 0.1) for one in (np.array([0.8, 0.3]), np.array([0.9, 0.6])))
    both = around((low, high))
    assert both.on(10.0) == pytest.approx((0.2, 0.45, 0.7))


# lines of a stack


def test_pieces_that_were_read_are_lines_of_their_own_and_the_slowest_comes_first(found: YardDates) -> None:
    assert found.lines[0].lined.pieces == ("D",)
    assert sorted(line.lined.pieces for line in found.lines) == [("A",), ("B", "C"), ("D",)]
    assert found.left == ("E: not counted, because the thickness is not known: measure it.",)


def test_squares_live_edges_and_boards_that_nobody_read_are_no_line_together() -> None:
    sized = (0.0286, 0.0286, 0.2, 0.21, 0.06)
    given = [replace(piece(name), width_m=width) for name, width in zip("ABCDE", sized, strict=True)]
    lines, _ = lined([*given[:4], replace(given[4], known=KnownSides(live_edge=True))], SHEET)
    assert {one.pieces for one in lines} == {("A", "B"), ("C", "D", "E")}
    square, boards = sorted((one.line.sides for one in lines), key=lambda sides: sides.width_m or 0.0)
    assert square.dry_from_edges and (square.width_m, boards.width_m) == (0.0286, 0.21)
    assert not boards.edges_open  # bark may be on one of them


def test_the_band_reaches_the_target_on_the_day_that_is_said(found: YardDates) -> None:
    for line in found.lines:
        forecast = line.dates.forecast
        assert forecast.band.on(forecast.after.days.likely)[1] == pytest.approx(0.20, abs=0.01)
        assert forecast.band.on(forecast.after.days.high)[2] == pytest.approx(0.20, abs=0.01)


def test_readings_lie_as_points_in_their_band_and_weights_follow_the_weighing_scale(found: YardDates) -> None:
    (line,) = (line for line in found.lines if line.lined.pieces == ("A",))
    forecast = line.dates.forecast
    assert forecast.kg is not None
    assert [day for day, _ in line.points] == [0.0, 30.0, 49.0]
    for (_, weight), (day, mc) in zip(WEIGHED, line.points, strict=True):
        low, likely, high = forecast.kg.on(day)
        assert low <= weight.kg <= high and likely == pytest.approx(weight.kg, rel=0.02)
        assert mc.low <= forecast.band.on(day)[1] <= mc.high
    assert forecast.band.on(90)[2] - forecast.band.on(90)[0] < forecast.unread.on(90)[2] - forecast.unread.on(90)[0]


def test_what_nobody_told_widens_the_answer() -> None:
    told, shelter = dates((piece("A"),)), dates((piece("A"),), (Exposure.OPEN, Exposure.ROOF))
    place = dates((piece("A"),), climates=anywhere())
    widths = [each.lines[0].dates.forecast.after.days.width for each in (told, shelter, place)]
    assert widths[0] < min(widths[1:])


def test_what_to_tell_first_is_what_narrows_the_answer_most_and_it_does_so() -> None:
    both = (Exposure.OPEN, Exposure.ROOF)
    (line,) = dates((piece("A"),), both, climates=anywhere()).lines
    assert not dates((piece("A"),)).lines[0].telling
    assert {one.what for one in line.telling} == {Untold.PLACE, Untold.SHELTER}
    narrow, wide = line.telling
    assert narrow.told <= wide.told < wide.now == pytest.approx(line.dates.forecast.after.days.width)
    # the same stack asked about again with each place told, as a shop would: in the mean it is as wide as was said, but for the
    # particles, of which there are fewer where several ways are tried
    told = [dates((piece("A"),), both, climates=(one,)).lines[0].dates.forecast.after.days.width for one in anywhere()]
    (place,) = (one for one in line.telling if one.what is Untold.PLACE)
    assert place.told == pytest.approx(sum(told) / len(told), rel=0.1)


def test_a_name_that_two_woods_share_widens_the_answer() -> None:
    both, northern, southern = (
        dates((replace(piece("A"), wood=name),)).lines[0] for name in ("red oak", "northern red oak", "southern red oak")
    )
    assert [wood.id for wood in both.lined.woods] == ["oak_northern_red", "oak_southern_red"]
    days, others = both.dates.forecast.after.days, [one.dates.forecast.after.days for one in (northern, southern)]
    assert (days.low, days.high) == (min(one.low for one in others), max(one.high for one in others))
    (line,) = dates((replace(piece("A"), wood="oak"),)).left
    assert "say which" in line


# readings that count


def reads(one: PieceRead) -> tuple[tuple[object, ...], tuple[str, ...]]:
    (line,), _ = lined((one,), SHEET)
    return tuple(read for _, read in line.line.reads), line.line.said


def told(day: date, mc: float, where: Where, how: How = How.PINS, **more: object) -> MoistureTold:
    return MoistureTold(day, mc, how, where, 20.0, True, **more)  # type: ignore[arg-type]


def test_shell_and_core_of_one_day_are_one_reading_and_a_core_alone_is_none() -> None:
    may, june = date(2026, 5, 1), date(2026, 6, 1)
    both = piece("A", moistures=(told(may, 0.15, Where.SHELL), told(may, 0.24, Where.CORE), told(june, 0.2, Where.CORE)))
    (read,), said = reads(both)
    assert isinstance(read, MoistureRead) and read.mc.likely == pytest.approx(0.15 + 2 / 3 * 0.09)  # a parabola's mean
    assert said == ("A core without a shell of the same day is not counted: read both.",)
    (shell,), _ = reads(piece("A", moistures=(told(may, 0.15, Where.SHELL),)))
    assert isinstance(shell, MoistureRead) and shell.at_least


def test_a_meter_past_saturation_says_no_more_than_wetter() -> None:
    (read,), said = reads(piece("A", moistures=(told(date(2026, 5, 1), 0.45, Where.WHOLE),)))
    assert isinstance(read, MoistureRead) and read.at_least and "cannot tell above 30 %" in said[0]


def test_a_sample_board_counts_from_the_day_it_was_cut_on() -> None:
    cut = date(2026, 5, 1)
    board = SampleBoard(weighed([4.0], WeighingScale(0.001)), (Section(0.18, 0.1), Section(0.168, 0.1)))
    one = piece("A", weights=((date(2026, 5, 9), Weight(3.4, 0.01)),), board=board, board_day=cut, before_cut=1)
    (line,), _ = lined((one,), SHEET)
    assert [(day, type(read)) for day, read in line.line.reads] == [
        (cut, MoistureRead), (cut, WeightRead), (date(2026, 5, 9), WeightRead),
    ]  # fmt: skip
    assert line.line.volume_m3 is None and "before it was cut" in line.line.said[0]


def test_readings_from_before_the_stickers_are_told_and_not_counted() -> None:
    one = piece("A", weights=((date(2026, 3, 1), Weight(14.0, 0.02)), (APRIL, Weight(13.0, 0.02))))
    found, said = reads(one)
    assert len(found) == 1 and said == ("Readings from before it came on stickers are not counted.",)


# a meter, what its maker prints, prongs, weights


METER = """format = "waney-meter/1"
units = "in"
made_for = "70 F"
[[wood]]
species = "white oak"
reads = [7, 12, 20]
is = [8, 13.5, 22]
"""


def test_a_species_correction_comes_from_the_typed_in_table_alone() -> None:
    sheet = read_meter_sheet(METER)
    assert sheet.tables == {OAK.id: Correction(((0.07, 0.08), (0.12, 0.135), (0.20, 0.22)))}
    read = MoistureTold(APRIL, 0.12, How.PINS, Where.WHOLE, sheet.own_c)
    by_table, without = moisture_of(read, OAK, sheet), moisture_of(read, OAK, SHEET)
    assert by_table.mc.likely == pytest.approx(0.135) and by_table.said == ""
    assert without.mc.width > by_table.mc.width and "No species table" in without.said
    beyond = moisture_of(MoistureTold(APRIL, 0.24, How.PINS, Where.WHOLE, sheet.own_c), OAK, sheet)
    assert "read as it stands" in beyond.said
    set_to_it = moisture_of(MoistureTold(APRIL, 0.12, How.PINS, Where.WHOLE, 20.0, set_to="white oak"), OAK, SHEET)
    assert set_to_it.mc.width == pytest.approx(by_table.mc.width)


@pytest.mark.parametrize("wrong", ["is = [8, 13.5]", "reads = [12, 7, 20]", 'species = "cheddar"'])
def test_what_is_wrong_in_a_meter_sheet_is_said_with_its_line(wrong: str) -> None:
    key = wrong.split(" ")[0]
    bad = "\n".join(wrong if line.startswith(f"{key} ") else line for line in METER.splitlines())
    with pytest.raises(SheetProblems, match="line "):
        read_meter_sheet(bad)


def test_what_prongs_do_is_a_word_for_stress() -> None:
    # casehardened: prongs bend in; free of stress: they stay straight (seen, wengert-prongs); reverse: out (AH-188, from memory)
    assert [stress_of(seen, 24.0).word for seen in Prongs] == ["casehardened", "free of stress", "reverse casehardened"]
    assert {row["seen"] for row in table("prong_signs")} == set(Prongs)
    assert "look again 24 hours" in stress_of(Prongs.IN, 1.0).said
    with pytest.raises(NoSuchSign):
        stress_of("sang", None)


@given(st.floats(0.5, 80.0), st.floats(0.01, 0.5))
@settings(max_examples=25)
def test_a_loss_is_never_taken_for_a_gain(kg: float, mark_kg: float) -> None:
    last = weight_of(kg, WeighingScale(mark_kg))
    assert gain_from(last) >= kg
    assert weight_of(kg, WeighingScale(mark_kg), ends=True).error_kg > last.error_kg
