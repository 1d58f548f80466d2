"""Days, water and heat of one kind of piece by a kiln schedule, with the range that what nobody knows makes of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import accumulate

import numpy as np

from waney.drying.air import DAY, HOUR, filmed
from waney.drying.board import Course, Drying, dry
from waney.drying.doubts import doubts, drawn
from waney.drying.held import days_held
from waney.drying.kiln import (
    MOST_DAYS,
    KilnRun,
    LoadNeverDry,
    Wanted,
    air_by_step,
    counted_in_kiln,
    days_by_step,
    days_of_one,
    energy,
    run_kiln,
)
from waney.drying.pace import MODEL
from waney.drying.safe_rate import safe_rate
from waney.drying.schedules import Schedule, Step
from waney.drying.sides import WIDE_AND_LONG, Sides
from waney.drying.stress import Stresses, stresses
from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.density import WATER
from waney.wood.species import Species
from waney.wood.weight import MOISTURE, SG

MILD, COOL = (25.0, 0.6), (10.0, 0.7)
"""Air that the vents let in [°C, -]: ours, a choice."""
AS_BUILT = 3.0
"""Heat of a kiln as built, walls and leaks with it, over the heat of evaporation alone, at most [-]: fpl-ah-188 (memory)."""
ROUND = 1e-9
"""days that sums of steps may be off"""
KILN_FILM = 1.0
"""Film factor in a kiln: the fitted one is of stacks outdoors."""


@dataclass(frozen=True)
class KilnDays:
    """days: to the target, conditioning included; water_m3_kg: to take out of a cubic metre as sawn; heat_m3_j: what that costs
    the kiln, for a cubic metre; late: scenarios out of `scenarios` that never got there (counted as MOST_DAYS); run: the likely
    piece, look by look; held: days in a kiln that is held to the safe rate, None where there is none; course: the likely piece
    through the steps with its profiles, without equalising; ends: on which day of that each step that it needs is over;
    wide_days: of the likely wide long board, None where it is one."""

    days: Estimate
    water_m3_kg: Estimate
    heat_m3_j: Estimate
    late: int
    scenarios: int
    run: KilnRun
    course: Course
    ends: tuple[tuple[Step, float], ...]
    held: Estimate | None = None
    wide_days: float | None = None


def stress_by_step(days: KilnDays, wood: Species) -> tuple[tuple[Step, float, Stresses], ...]:
    """Of each step that the likely piece needs, with the day on which it is over. Raises NoFigure for a wood whose shrinkage or
    elasticity is not known."""
    whole = stresses(days.course, wood)
    begins = [0.0, *(end for _, end in days.ends)][:-1]
    each = zip(days.ends, begins, strict=True)
    return tuple((step, end, whole.between(begin + ROUND, end + ROUND)) for (step, end), begin in each)


def kiln_days(
    wood: Species, thickness_m: float, plan: Schedule, wanted: Wanted, scenarios: Scenarios, start: Estimate | None = None,
    sides: Sides = WIDE_AND_LONG,
) -> KilnDays:  # fmt: skip
    """Run the likely piece through a schedule, and every scenario's piece to the same target. start: moisture [-]; None: green;
    sides: what its edges and ends do.

    What looking every three hours and conditioning add to the likely piece is added in every scenario.
    Raises LoadNeverDry for a likely piece that never gets there, NoFigure for a wood without gravity or moisture.
    """
    known, safe = doubts(wood, start), safe_rate(wood.id, thickness_m)
    warm, counted = plan.steps[0].dry_c, counted_in_kiln(wood, thickness_m, sides, plan)
    middle = drawn(likely(known), counted, warm)
    run = run_kiln([middle], plan, wanted)
    steps = days_by_step(middle, plan, wanted.target, KILN_FILM)
    added = run.days - sum(days for _, days in steps)
    wide = drawn(likely(known), thickness_m, warm) if counted < thickness_m else None
    draws = scenarios.draws(known)
    pieces = [drawn(values, counted, warm) for values in draws]
    found = [_at_most(partial(days_of_one, piece, plan, wanted.target, KILN_FILM)) for piece in pieces]
    days = np.array([min(one + added, MOST_DAYS) for one in found])
    water = np.array([_water(values[SG], values[MOISTURE], wanted.target) for values in draws])
    wet = summed_up(water, _water(known[SG].likely, known[MOISTURE].likely, wanted.target), MODEL, hard_min=0.0)
    return KilnDays(
        summed_up(days, run.days, MODEL, hard_min=0.0),
        wet,
        _heat(wet, run),
        int((days >= MOST_DAYS).sum()),
        len(found),
        run,
        dry(middle, filmed(air_by_step(steps), KILN_FILM), profiles=True),
        tuple(zip((step for step, _ in steps), accumulate(days for _, days in steps), strict=True)),
        None if safe is None else _held(middle, pieces, plan, wanted, safe.a_day),
        None if wide is None else _at_most(partial(days_of_one, wide, plan, wanted.target, KILN_FILM)) + added,
    )


def _heat(water: Estimate, run: KilnRun) -> Estimate:
    """Heat for the water of a cubic metre [J], from no walls in the weather that costs least to a kiln as built."""
    mild, cool = (energy(run, temperature_c, humidity) for temperature_c, humidity in (MILD, COOL))
    least = min(mild.total, cool.total)
    most = max(cool.total, AS_BUILT * cool.evaporation)
    basis = replace(MODEL, note="heat to evaporate, to warm wood and vented air; the high end for a kiln as built")
    return Estimate(water.likely * cool.total, water.low * least, water.high * most, basis, 0.0)


def _held(middle: Drying, pieces: Sequence[Drying], plan: Schedule, wanted: Wanted, safe_a_day: float) -> Estimate:
    """The same pieces in a kiln held to the safe rate. What looking and conditioning add is conditioning here."""
    added = wanted.condition_h * HOUR / DAY
    likely_days, *found = (
        min(_at_most(partial(days_held, piece, plan, wanted.target, safe_a_day, KILN_FILM)) + added, MOST_DAYS)
        for piece in (middle, *pieces)
    )
    return summed_up(np.array(found), likely_days, MODEL, hard_min=0.0)


def _at_most(days: Callable[[], float]) -> float:
    """Days of a piece; MOST_DAYS where it never gets there."""
    try:
        return days()
    except LoadNeverDry:
        return MOST_DAYS


def _water(gravity: float, start: float, target: float) -> float:
    """Water to take out of a cubic metre as sawn [kg]."""
    return WATER * gravity * max(start - target, 0.0)
