"""Loads in a kiln that the sun warms: by the weather from the day they go in, as the same boards on a stack in that chamber."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from math import ceil

import pytest

from waney.drying.air import filmed
from waney.drying.board import dry
from waney.drying.chamber import SUN_CHAMBERS, SunChamber, sun_air_for
from waney.drying.evidence import MoistureRead
from waney.drying.kiln import LoadNeverDry
from waney.drying.kiln_sheet import BadKiln, Heat, KilnSheet
from waney.drying.kilns_sheet import read_kilns
from waney.drying.load import Load, load
from waney.drying.load_plan import Aim, company, proposals
from waney.drying.lot import Lot
from waney.drying.milder import milder_for
from waney.drying.outdoors import Exposure
from waney.drying.pace import likely_pace
from waney.drying.pile_parts import PilePiece
from waney.drying.stack import Line, Stack, line_dates
from waney.drying.sun_kiln import SUN_DAYS, NoWeather, SunKiln
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.units.sheet import SheetProblems
from waney.wood.climate import station
from waney.wood.species import species

MADISON = station("WI", "Madison")
SPRING, AUTUMN = date(2026, 5, 1), date(2026, 10, 1)
SHED = KilnSheet("sun shed", 3.6, 1.2, 1.2, 3000.0, Heat.SUN, sun=SunKiln(climate=MADISON, start=SPRING))
READ = Basis(Ground.READING, "test")
FEW = Scenarios(1, 8)
SHEET = """format = "waney-kilns/1"
units = "in"
[[kiln]]
name = "sun shed"
length = "12 ft"
width = 48
height = 48
bears = "6000 lb"
heat = "sun"
"""


def lot(name: str, wood: str, thickness_m: float, mc: float, target: float = 0.12) -> Lot:
    start = Estimate(mc, 0.9 * mc, 1.1 * mc, READ, 0.0)
    pieces = tuple(PilePiece(f"{name} {n}", 2.4, 0.25, thickness_m, Estimate(20.0, 18.0, 22.0, READ)) for n in range(4))
    return Lot(name, species(wood), thickness_m, start, target, pieces)


MAPLE, OAK = lot("maple", "maple_red", 0.0286, 0.30), lot("oak", "oak_northern_red", 0.054, 0.30)


def begun(start: date, sun: SunKiln | None = None) -> KilnSheet:
    return replace(SHED, sun=replace(sun or SunKiln(climate=MADISON), start=start))


def test_a_lot_takes_the_days_of_the_same_board_on_a_stack_in_that_chamber() -> None:
    # the page of a stack and that of a load stand on one law; only film and edges are told apart by a per cent or two
    found = load(SHED, [MAPLE], Scenarios(1, 1)).days.likely
    air = sun_air_for(MAPLE.wood, 0.0286, MADISON, SPRING, SUN_DAYS, SUN_CHAMBERS[1], SHED.passage)
    board = dry(piece_of(MAPLE.wood, 0.0286, 0.30), filmed(air, likely_pace().film), stop_at=0.12)
    assert found == pytest.approx(board.days_to(0.12), rel=0.05)


def test_what_goes_in_in_autumn_takes_longer_than_in_spring() -> None:
    spring, autumn = (load(begun(day), [MAPLE], Scenarios(1, 1)).days.likely for day in (SPRING, AUTUMN))
    assert autumn > 1.5 * spring


@pytest.mark.long
def test_two_thermometers_narrow_the_days_of_a_load() -> None:
    read = SunKiln(SunChamber(14.0, 4.0), MADISON)
    guessed, known = (load(begun(SPRING, sun), [MAPLE], Scenarios(1, 24)).days for sun in (None, read))
    assert known.width < guessed.width


def test_a_mixed_load_is_as_slow_as_its_slowest_and_tells_who_must_leave() -> None:
    found: Load = load(SHED, [MAPLE, OAK], FEW)
    alone = load(SHED, [OAK], FEW)
    assert found.pace is OAK and found.plan is None and found.days.likely == pytest.approx(alone.days.likely)
    maple, oak = found.travellers
    assert maple.early and not oak.early and maple.ready_days.likely < oak.ready_days.likely
    assert found.water_kg.likely > alone.water_kg.likely


def test_a_chamber_that_is_warmer_than_a_wood_bears_is_said_to_be_too_hard_for_it() -> None:
    hot = SunKiln(SunChamber(40.0, 20.0), MADISON)
    wet = lot("wet oak", "oak_white", 0.0286, 0.60)
    mild, hard = (load(begun(SPRING, sun), [wet], Scenarios(1, 1)).travellers[0].judged for sun in (None, hot))
    assert len(hard.hard) > len(mild.hard) and any("day" in one for one in hard.hard)
    helps = milder_for(load(begun(SPRING, hot), [wet], Scenarios(1, 1)))
    assert helps is not None and helps.begin is None
    ((name, from_mc),) = helps.from_mc
    assert name == "wet oak" and (from_mc is None or from_mc < 0.60)


def test_a_wood_without_a_schedule_may_be_dried_by_the_sun() -> None:
    found = load(SHED, [lot("pear", "pear", 0.0286, 0.30)], Scenarios(1, 1))
    assert 10.0 < found.days.likely < 300.0 and found.travellers[0].judged.unjudged


@pytest.mark.long
def test_a_load_is_as_sure_as_the_same_board_on_a_stack_in_that_chamber() -> None:
    # what nobody knows of the place, the wood, the piece and the weather is the same: the ranges are alike within a third
    read = SunChamber(14.0, 4.0)
    ours = load(begun(SPRING, SunKiln(read, MADISON)), [MAPLE], Scenarios(1, 64)).days
    line = Line("maple", MAPLE.wood, 0.0286, 4, ((SPRING, MoistureRead(0.0, MAPLE.start)),))
    stack = Stack(MADISON, SPRING, Exposure.SUN, MAPLE.target, (line,), chamber=read, passage=SHED.passage)
    theirs = line_dates(line, stack, Scenarios(1, 64)).forecast.after.days
    assert ours.likely == pytest.approx(theirs.likely, rel=0.10)
    assert 0.67 < ours.width / theirs.width < 1.5


def test_a_chamber_that_is_vented_at_a_heat_gets_no_hotter_and_dries_slower() -> None:
    hot = begun(SPRING, SunKiln(SunChamber(30.0, 10.0), MADISON))
    free, held = (load(kiln, [MAPLE], Scenarios(1, 1)).days.likely for kiln in (hot, replace(hot, hottest_c=30.0)))
    assert held > 1.1 * free


def test_a_lot_that_never_gets_there_stays_out_and_says_what_it_comes_to() -> None:
    dry = lot("too dry", "oak_white", 0.0286, 0.30, 0.03)
    for one in proposals(SHED, [MAPLE, dry], FEW):
        assert [each.pile.pieces for each in one.loads] == [MAPLE.pieces]
        assert len(one.out) == 4 and all("too dry stands at" in why and "wanted at 3 %" in why for _, why in one.out)
    (two,) = company(SHED, [MAPLE, dry])
    assert "After 730 days of sun too dry stands at" in two.against[0]
    with pytest.raises(LoadNeverDry):
        proposals(SHED, [dry], FEW)


@pytest.mark.long
def test_the_next_load_goes_in_when_the_one_before_is_dry() -> None:
    alone = next(one for one in proposals(SHED, [MAPLE, OAK], Scenarios(1, 1)) if Aim.ALONE in one.aims)
    first, second = alone.loads
    assert first.load.kiln.sun is not None and second.load.kiln.sun is not None
    begins = first.load.kiln.sun.start, second.load.kiln.sun.start
    assert begins == (SPRING, SPRING + timedelta(ceil(first.load.days.likely)))


def test_without_weather_or_a_day_nothing_is_said() -> None:
    for sun, told in ((SunKiln(start=SPRING), "where it stands"), (SunKiln(climate=MADISON), "on which day")):
        with pytest.raises(NoWeather, match=told):
            load(replace(SHED, sun=sun), [MAPLE], FEW)
    with pytest.raises(BadKiln, match="the sun warms"):
        replace(SHED, heat=Heat.AIR)


def test_a_sheet_says_where_a_kiln_stands_and_what_was_read_in_it_or_neither() -> None:
    (plain,) = read_kilns(SHEET)
    assert plain.sun == SunKiln()
    where = '[kiln.sun]\nstate = "WI"\nplace = "Madison"\n'
    (placed,) = read_kilns(SHEET + where)
    assert placed.sun is not None and placed.sun.climate == MADISON and placed.sun.chamber is None
    warm = 'day_inside = "104 F"\nday_outside = "86 F"\nnight_inside = "68 F"\nnight_outside = "59 F"\n'
    (read,) = read_kilns(SHEET + where + warm)
    # 10 K by day and 5 by night above the outdoor air then, which is 4 above and 3 below the mean of the day
    assert read.sun is not None and read.sun.chamber == SunChamber(pytest.approx(14.0), pytest.approx(2.0))
    assert read.sun.at(station("IN", "Indianapolis"), AUTUMN) == replace(read.sun, start=AUTUMN)
    with pytest.raises(SheetProblems, match="place"):
        read_kilns(SHEET + where.replace("Madison", "Nowhere"))
    with pytest.raises(SheetProblems, match="place"):
        read_kilns(SHEET + '[kiln.sun]\nstate = "WI"\n')
    with pytest.raises(SheetProblems, match="day_inside"):
        read_kilns(SHEET + '[kiln.sun]\nair_speed = "300 ft/min"\n')
    with pytest.raises(SheetProblems, match="night_inside"):
        read_kilns(SHEET + where + warm.replace('night_inside = "68 F"\n', ""))
    with pytest.raises(SheetProblems, match="the sun warms"):
        read_kilns(SHEET.replace('"sun"', '"air"') + where)
