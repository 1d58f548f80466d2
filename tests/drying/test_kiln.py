"""Schedules are assembled as the book does; kilns follow their samples; published kiln times are met."""

from __future__ import annotations

from itertools import pairwise
from math import log2

import pytest

from waney.drying.air import filmed
from waney.drying.kiln import KilnRun, LoadNeverDry, Stage, Wanted, controlling, days_of_one, energy, kiln_air, run_kiln
from waney.drying.schedules import UnknownSchedule, code_for, holding, schedule
from waney.drying.wood_piece import piece_of
from waney.figures.tables import table
from waney.wood.emc import equilibrium_moisture
from waney.wood.species import species

INCH_4_4 = 0.0286


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32.0


def test_t4_d2_is_assembled_as_the_book_works_it_out() -> None:
    # kiln rules of AH-188, worked assembly for 4/4 upland red oak (memory): start %, dry bulb °F, wet bulb °F
    worked = [
        (None, 110, 106),
        (50, 110, 105),
        (40, 110, 102),
        (35, 110, 96),
        (30, 120, 90),
        (25, 130, 80),
        (20, 140, 90),
        (15, 180, 130),
    ]
    steps = schedule("T4-D2", None).steps
    found = [
        (None if s.from_mc is None else round(s.from_mc * 100), round(fahrenheit(s.dry_c)), round(fahrenheit(s.wet_c)))
        for s in steps
    ]
    assert found == worked


def test_a_wet_bulb_that_few_kilns_hold_is_raised_to_90_f() -> None:
    assert min(fahrenheit(step.wet_c) for step in schedule("T4-D2").steps) == pytest.approx(90.0, abs=0.1)


@pytest.mark.parametrize(
    "code", sorted({row[column] for row in table("kiln_codes") for column in ("up_to_6_4", "at_8_4") if row[column]})
)
def test_every_schedule_only_gets_hotter_and_drier(code: str) -> None:
    steps = schedule(code).steps
    assert all(later.dry_c >= earlier.dry_c for earlier, later in pairwise(steps))
    assert all(later.humidity <= earlier.humidity + 0.15 for earlier, later in pairwise(steps))
    assert steps[-1].emc < 0.06


@pytest.mark.parametrize("code", ["T4", "T99-D2", "oak", "T4-G1", ""])
def test_an_unknown_schedule_is_answered_with_how_to_write_one(code: str) -> None:
    with pytest.raises(UnknownSchedule, match="T4-D2"):
        schedule(code)


def test_codes_go_by_wood_and_thickness() -> None:
    assert code_for("oak_northern_red", INCH_4_4) == "T4-D2"
    assert code_for("oak_northern_red", 0.054) == "T3-D1"
    assert code_for("maple_sugar", 0.08) == "T3-C1"  # 10/4 and more: T3 at most, depression 1
    with pytest.raises(UnknownSchedule, match="pear"):
        code_for("pear", INCH_4_4)


def test_the_wetter_half_rules() -> None:
    assert controlling([0.30, 0.50, 0.40]) == pytest.approx(0.45)
    assert controlling([0.2]) == 0.2


def test_holding_air_holds_the_moisture_asked_for() -> None:
    step = holding(71.0, 0.10)
    assert equilibrium_moisture(step.dry_c, step.humidity) == pytest.approx(0.10, abs=1e-6)


@pytest.fixture(scope="module")
def equalised() -> KilnRun:
    wood = species("maple_sugar")
    samples = [piece_of(wood, INCH_4_4, mc, factor=f) for mc, f in ((0.6, 0.8), (0.5, 1.0), (0.45, 1.3))]
    return run_kiln(samples, schedule("T8-C3"), Wanted(0.07, condition_h=18.0))


def test_equalising_brings_the_samples_together(equalised: KilnRun) -> None:
    stages = [look.stage for look in equalised.looks]
    assert [s for i, s in enumerate(stages) if i == 0 or s is not stages[i - 1]] == [
        Stage.SCHEDULE,
        Stage.EQUALISING,
        Stage.CONDITIONING,
    ]
    before = next(look for look in reversed(equalised.looks) if look.stage is Stage.SCHEDULE)
    after = next(look for look in reversed(equalised.looks) if look.stage is Stage.EQUALISING)
    assert max(after.moistures) - min(after.moistures) < 0.9 * (max(before.moistures) - min(before.moistures))
    assert max(after.moistures) <= 0.07


def test_conditioning_wets_the_surface_again(equalised: KilnRun) -> None:
    assert all(piece.moistures[0] > piece.moistures[-1] for piece in equalised.ended)


def test_water_is_what_the_samples_lost(equalised: KilnRun) -> None:
    gravity = 0.56
    for start, piece, water in zip((0.6, 0.5, 0.45), equalised.ended, equalised.water_kg_m2, strict=True):
        assert water == pytest.approx((start - piece.mean) * 1000 * gravity * INCH_4_4 / 2, rel=1e-9)


def test_heat_is_more_than_the_latent_heat_and_less_than_three_times(equalised: KilnRun) -> None:
    # 1.5 to 3 times with walls and leaks (AH-188, memory); here without them, so the low end and a little below
    heat = energy(equalised, 10.0, 0.7)
    assert 1.2 < heat.total / heat.evaporation < 2.5


def test_one_piece_alone_is_a_load_of_one() -> None:
    piece = piece_of(species("basswood"), INCH_4_4, 0.8)
    plan = schedule("T12-E7")
    alone = days_of_one(piece, plan, 0.07, 1.0, 3.0)
    # steps end on a look (three hours) in a load, on the minute here
    assert run_kiln([piece], plan, Wanted(0.07, equalise=False)).days == pytest.approx(alone, abs=0.125 * (len(plan.steps) + 1))


def test_wood_that_cannot_get_there_is_told() -> None:
    piece = piece_of(species("oak_white"), 0.1, 0.8, factor=0.1)
    with pytest.raises(LoadNeverDry, match="days"):
        run_kiln([piece], schedule("T3-A1"), Wanted(0.04, equalise=False))


@pytest.mark.parametrize("row", [row for row in table("kiln_drying_times") if row["species_id"]], ids=lambda row: row["printed"])
def test_published_kiln_days_from_20_percent_are_met(row: dict[str, str]) -> None:
    # FPL data from memory and one seen statement (worked example E4): the printed range, widened by a half at each end; the model
    # was fitted to their middles, so this says that it can follow them, not that it foresaw them
    piece = piece_of(species(row["species_id"]), INCH_4_4, 0.20)
    days = days_of_one(piece, schedule(code_for(row["species_id"], INCH_4_4)), 0.06, 1.0)
    assert float(row["days_min_20"]) / 1.5 <= days <= 1.5 * float(row["days_max_20"])


def test_white_oak_takes_a_week_or_two_from_air_dry_and_green_what_the_manual_prints() -> None:
    # worked example E4 (OSU Extension EM 8612, seen): air-dried one to two weeks; AH-188 (memory): green 20 to 30 days. That it
    # can take more than a month green is a kiln held to the safe rate: tests/drying/test_held.py
    plan, wood = schedule(code_for("oak_white", INCH_4_4)), species("oak_white")
    air_dried, green = (days_of_one(piece_of(wood, INCH_4_4, mc), plan, 0.07, 1.0) for mc in (0.22, None))
    assert 7.0 <= air_dried <= 14.0
    assert 20.0 <= green <= 30.0


def test_air_of_a_step_is_alike_in_every_interval() -> None:
    step = schedule("T8-C3").steps[0]
    air = kiln_air(step, 3.0, 3)
    assert air.seconds.sum() == 3 * 3600.0 and air.vapour.min() == air.vapour.max()
    assert filmed(air, 2.0).resistance[0] == air.resistance[0] / 2.0


@pytest.mark.parametrize("wood", ["oak_northern_red", "maple_sugar", "pine_eastern_white"])
def test_twice_as_thick_takes_between_the_rule_of_the_trade_and_the_square(wood: str) -> None:
    # t ~ thickness^1.5 in the usual range, 2 for thick pieces (AH-188, memory); the model lies at the slow side of it
    plan = schedule("T5-C2")
    thin, thick = (days_of_one(piece_of(species(wood), thickness, 0.6), plan, 0.07, 1.0) for thickness in (0.0286, 0.0572))
    assert 1.5 <= log2(thick / thin) <= 2.0
