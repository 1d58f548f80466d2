"""Days by a schedule with their range: what they are of, and what is counted as never."""

from __future__ import annotations

import numpy as np
import pytest

from waney.drying.doubts import doubts, drawn
from waney.drying.kiln import Wanted, energy, run_kiln
from waney.drying.kiln_days import COOL, MILD, kiln_days
from waney.drying.sawn import NoGreenThickness, sawn_m
from waney.drying.schedules import schedule
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.units.thickness import parse_thickness
from waney.wood.species import species

CHERRY, PLAN, WANTED = species("cherry_black"), schedule("T8-B4"), Wanted(0.07)
START = Estimate.known(0.25, Basis(Ground.READING, "meter"))


def test_the_range_is_that_of_whole_kiln_runs() -> None:
    few = Scenarios(seed=3, n=12)
    found = kiln_days(CHERRY, 0.0286, PLAN, WANTED, few, START)
    whole = [
        run_kiln([drawn(values, 0.0286, PLAN.steps[0].dry_c)], PLAN, WANTED).days for values in few.draws(doubts(CHERRY, START))
    ]
    # a look every three hours at each of the steps moves a run's end
    assert (found.days.low, found.days.high) == pytest.approx(np.quantile(whole, (0.05, 0.95)), abs=0.125 * len(PLAN.steps))
    assert found.late == 0 and found.run.days == found.days.likely


def test_a_moisture_in_doubt_widens_days_and_water() -> None:
    few = Scenarios(seed=3, n=32)
    doubtful = Estimate(0.25, 0.18, 0.35, Basis(Ground.READING, "meter"))
    sure, wide = (kiln_days(CHERRY, 0.0286, PLAN, WANTED, few, start) for start in (START, doubtful))
    assert wide.days.width > sure.days.width and wide.water_m3_kg.width > sure.water_m3_kg.width


def test_what_takes_more_than_400_days_is_counted_as_late() -> None:
    found = kiln_days(species("oak_white"), 0.115, schedule("T3-C1"), WANTED, Scenarios(1, 12), Estimate.known(0.5, START.basis))
    assert found.late > 0 and found.days.high == 400.0


def test_heat_begins_with_the_weather_that_costs_least() -> None:
    # oak from 20 %: damp mild air let into a dry kiln has to be changed so often that it costs more than cool air
    found = kiln_days(species("oak_white"), 0.0286, schedule("T4-C2"), WANTED, Scenarios(1, 1), Estimate.known(0.20, START.basis))
    mild, cool = (energy(found.run, *air).total for air in (MILD, COOL))
    assert mild > cool and found.heat_m3_j.low == pytest.approx(found.heat_m3_j.likely)


def test_quarters_stand_for_the_green_target_and_a_typed_size_for_itself() -> None:
    # data/lumber_thickness.csv: 8/4 is sawn 2 1/8 in green (sawmill practice, no source)
    assert sawn_m(parse_thickness("8/4", None)) == pytest.approx(2.125 * 0.0254)
    assert sawn_m(parse_thickness("54 mm", None)) == 0.054
    with pytest.raises(NoGreenThickness, match="16/4"):
        sawn_m(parse_thickness("9/4", None))
