"""Equalising in days: begun and ended by the samples as the book has it; the farther apart the pieces, the longer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import exp, sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.drying.test_hard_chamber import ROOM, lot

from waney.drying.board import Drying
from waney.drying.doubts import doubts, drawn
from waney.drying.equalising import (
    APART,
    MOISTURE_APART,
    RATE_APART,
    Equalising,
    equalising,
    equalising_of,
    equalising_wood,
    samples_of,
)
from waney.drying.kiln import LoadNeverDry, Look, Stage, Wanted, days_of_one, run_kiln
from waney.drying.kiln_sheet import KilnSheet
from waney.drying.load import load
from waney.drying.schedules import code_for, schedule
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely
from waney.papers.load_words import evens
from waney.wood.species import species

MAPLE, PLAN, THICK = species("maple_sugar"), schedule("T8-C3"), 0.0286
START = Estimate.known(0.20, Basis(Ground.READING, "meter"))
FEW = Scenarios(seed=1, n=8)


def looks(moisture_apart: float, rate_apart: float, target: float = 0.07) -> tuple[Look, ...]:
    samples = samples_of(piece_of(MAPLE, THICK, 0.20), moisture_apart, rate_apart)
    return run_kiln(samples, PLAN, Wanted(target)).looks


def days_in(found: tuple[Look, ...], stage: Stage) -> float:
    ends = [look.days for look in found if look.stage is stage]
    before = [look.days for look in found if look.stage is Stage.SCHEDULE]
    return 0.0 if not ends else ends[-1] - (before[-1] if stage is Stage.EQUALISING else 0.0)


def test_pieces_that_do_not_differ_need_none_and_are_one_piece() -> None:
    found = looks(0.0, 0.0)
    assert days_in(found, Stage.EQUALISING) == 0.0
    alone = days_of_one(piece_of(MAPLE, THICK, 0.20), PLAN, 0.07, 1.0, 3.0)
    assert found[-1].days == pytest.approx(alone, abs=0.125 * (len(PLAN.steps) + 1))


@settings(max_examples=8, deadline=None)
@given(st.floats(0.0, 0.2), st.floats(0.0, 0.35), st.floats(1.2, 2.0))
def test_the_farther_apart_the_longer(moisture: float, rate: float, wider: float) -> None:
    near, far = looks(moisture, rate), looks(moisture * wider, rate * wider)
    # a look is three hours: how far from it a run ends is chance
    assert days_in(far, Stage.EQUALISING) >= days_in(near, Stage.EQUALISING) - 0.25
    assert far[-1].days >= near[-1].days - 0.25


def test_it_begins_with_the_driest_two_below_holds_that_air_and_ends_with_the_wettest_at_the_target() -> None:
    # wengert-equalising (seen), AH-188 (memory): 2 % below the target, EMC the same, until the wettest is at the target
    found = looks(0.15, 0.35)
    begun = next(look for look in found if look.stage is Stage.EQUALISING)
    before = found[found.index(begun) - 1]
    assert 0.045 < min(before.moistures) <= 0.05 and max(before.moistures) > 0.07
    assert begun.step.emc == pytest.approx(0.05, abs=1e-4)
    assert max(found[-1].moistures) <= 0.07 < max(found[-2].moistures)
    assert min(found[-1].moistures) >= min(before.moistures) - 0.001, "the driest waits"


def test_samples_are_the_5_25_50_75_95_percent_pieces_wet_and_slow_alike() -> None:
    middle = piece_of(MAPLE, THICK, 0.20)
    five = samples_of(middle, 0.15, 0.20)
    assert five[2].mean == pytest.approx(0.20) and five[2].factor == middle.factor
    # 1.645 standard deviations of both together, half of the square to each: 1.645 / sqrt 2 = 1.163
    assert five[4].mean / 0.20 == pytest.approx(exp(0.15 * 1.163), rel=1e-3)
    assert five[4].factor / middle.factor == pytest.approx(exp(-0.20 * 1.163), rel=1e-3)
    assert [one.mean for one in five] == sorted(one.mean for one in five)


def test_how_far_moistures_lie_apart_is_what_samples_of_redwood_came_to() -> None:
    # fpj-kiln-samples (abstract, seen): 12 samples within 10.8 %, 6 within 15.9 % of the lot; Student's t at 95 %: 2.201, 2.571
    low, high = APART[MOISTURE_APART].low, APART[MOISTURE_APART].high
    for count, within, t in ((12, 0.108, 2.201), (6, 0.159, 2.571)):
        assert low < within * sqrt(count) / t < high


@pytest.mark.parametrize("wood", ["maple_sugar", "oak_northern_red", "walnut_black"])
def test_green_4_4_hardwood_takes_from_hours_to_about_four_days(wood: str) -> None:
    # wengert-equalising (trade magazine, seen): six hours in one load, four days in another
    one = species(wood)
    found = equalising_wood(one, THICK, schedule(code_for(wood, THICK)), 0.07, scenarios=FEW)
    assert found.days.low <= 0.25 and 2.5 <= found.days.high <= 6.0
    assert found.whole.likely == pytest.approx(found.begins.likely + found.days.likely) and found.late == 0


def test_the_likely_lot_is_a_run_of_its_own_samples() -> None:
    found = equalising_wood(MAPLE, THICK, PLAN, 0.07, START, scenarios=FEW)
    middle = drawn(likely(doubts(MAPLE, START)), THICK, PLAN.steps[0].dry_c)
    run = run_kiln(samples_of(middle, APART[MOISTURE_APART].likely, APART[RATE_APART].likely), PLAN, Wanted(0.07))
    assert found.whole.likely == run.days and found.at_end[2] == max(run.looks[-1].moistures) <= 0.07
    assert found.at_begin[0] <= 0.05 and list(found.at_begin) == sorted(found.at_begin)


def test_what_takes_more_than_400_days_is_counted_as_late_and_is_no_quick_equalising() -> None:
    half = Estimate.known(0.5, START.basis)
    found = equalising_wood(species("oak_white"), 0.105, schedule("T3-C1"), 0.07, half, scenarios=Scenarios(1, 4))
    assert found.late > 0 and found.whole.high == 400.0
    assert found.begins.high < 395.0, "of the runs that were there"
    assert f"In {found.late} of 4 runs with drawn figures it was not over after 400 days" in evens(found)
    assert "runs" not in evens(replace(found, late=0))


def test_a_lot_that_never_gets_there_does_not_pull_its_equalising_down() -> None:
    def or_never(values: Mapping[str, float]) -> Drying:
        if values[RATE_APART] < APART[RATE_APART].likely:
            raise LoadNeverDry
        return drawn(values, THICK, PLAN.steps[0].dry_c)

    found = equalising(or_never, doubts(MAPLE, START), PLAN, 0.07, FEW)
    assert 0 < found.late < FEW.n and found.whole.high == 400.0
    assert found.days.low > 0.0 and found.begins.high < 10.0, "4/4 maple needs hours at least, by those that were there"


def test_in_a_load_it_is_that_of_the_lot_that_sets_the_pace_and_in_vacuum_there_is_none() -> None:
    shed = KilnSheet("shed", 3.2, 1.3, 1.2, 3000.0)
    slow, quick = lot("slow", "maple_sugar", 0.0286, 0.25), lot("quick", "maple_sugar", 0.0286, 0.12)
    told = [equalising_of(load(shed, lots, Scenarios(1, 2)), Scenarios(1, 2)) for lots in ([slow], [slow, quick])]
    assert isinstance(told[0], Equalising) and told[0] == told[1]
    assert equalising_of(load(ROOM, [slow], Scenarios(1, 2)), FEW) is None
