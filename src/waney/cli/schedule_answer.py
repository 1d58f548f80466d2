"""A wood's kiln schedule as the answer that goes out as JSON."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import ranged
from waney.cli.answers_kiln import Evened, KilnSchedule, KilnStep, StepStress
from waney.cli.app import WrittenWrong
from waney.cli.evened import evened
from waney.drying.equalising import equalising_wood
from waney.drying.kiln import CONDITION_UP, LoadNeverDry, Wanted, counted_in_kiln
from waney.drying.kiln_days import KilnDays, kiln_days, stress_by_step
from waney.drying.safe_rate import safe_rate
from waney.drying.schedules import Schedule, Step, code_for, schedule
from waney.drying.sides import WIDE_AND_LONG, Sides
from waney.drying.watch import said_of_stress, shorter, which_count
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import OutOfRange
from waney.figures.scenarios import Scenarios
from waney.figures.sources import cited
from waney.units.share import print_share
from waney.wood.species import NoFigure, Species
from waney.wood.stiffness import across_over_along
from waney.wood.strength import strength_across
from waney.wood.weight import green_moisture

SCENARIOS = Scenarios(seed=1, n=64)
"""Fewer than elsewhere: each is a piece's whole way through the kiln."""
TYPED = Basis(Ground.READING, "what was typed")


@dataclass(frozen=True)
class Asked:
    """What was asked: thickness green [m]; moisture at the start (None: green) and wanted [-]; hours of conditioning; a code;
    what edges and ends do."""

    wood: Species
    thickness_m: float
    start: float | None
    target: float
    condition_h: float
    code: str | None
    sides: Sides = WIDE_AND_LONG

    def __post_init__(self) -> None:
        if not 0.03 <= self.target <= 0.20:
            raise OutOfRange("Wanted moisture", self.target * 100, 3.0, 20.0, "%", "A kiln schedule")
        if self.start is not None and self.start <= self.target:
            raise WrittenWrong(
                f"Wood at {print_share(self.start)} is at {print_share(self.target)} "
                "already: write a higher --mc or a lower --to."
            )
        if not 0.0 <= self.condition_h <= 120.0:
            raise OutOfRange("Conditioning", self.condition_h, 0.0, 120.0, "h", "A kiln schedule")

    @property
    def wanted(self) -> Wanted:
        """As the kiln takes it."""
        return Wanted(self.target, condition_h=self.condition_h, condition_up=CONDITION_UP[self.wood.group])

    @property
    def begins(self) -> Estimate | None:
        """Moisture at the start; None where no table gives it green."""
        if self.start is not None:
            return Estimate.known(self.start, TYPED)
        try:
            return green_moisture(self.wood)
        except NoFigure:
            return None


def schedule_answer(asked: Asked) -> KilnSchedule:
    """The steps, and what a model says of days, water and heat. Raises UnknownSchedule."""
    plan = schedule(asked.code or code_for(asked.wood.id, asked.thickness_m))
    days, why = _days(asked, plan)
    begins, wanted = asked.begins, asked.wanted
    safe, bears = safe_rate(asked.wood.id, asked.thickness_m), strength_across(asked.wood.id)
    return KilnSchedule(
        wood=asked.wood.common,
        thickness_m=asked.thickness_m,
        code=plan.code,
        own_code=asked.code is None,
        from_mc=None if begins is None else ranged(begins),
        target_mc=asked.target,
        steps=tuple(_step(step) for step in plan.steps),
        first_step=1 + plan.steps.index(plan.at(1.0 if begins is None else begins.likely)),
        equalising=_step(wanted.equalising(plan)),
        conditioning=_step(wanted.conditioning(plan)),
        condition_h=asked.condition_h,
        days=None if days is None else ranged(days.days),
        late=0 if days is None else days.late,
        scenarios=0 if days is None else days.scenarios,
        water_m3_kg=None if days is None else ranged(days.water_m3_kg),
        heat_m3_j=None if days is None else ranged(days.heat_m3_j),
        safe_a_day=None if safe is None else safe.a_day,
        safe_basis=None if safe is None else safe.basis,
        sides="" if days is None else _shorter(asked, plan, days),
        stress="" if days is None else said_of_stress(days.course, asked.wood),
        stress_by_step=() if days is None else _by_step(asked, plan, days),
        stress_basis=None if bears is None else bears.basis,
        stiffness_basis=across_over_along(asked.wood.id).basis,
        held_days=None if days is None or days.held is None else ranged(days.held),
        evened=None if days is None else _evened(asked, plan),
        why=why,
        basis=cited("fpl-ah-188", "codes and steps"),
    )


def _days(asked: Asked, plan: Schedule) -> tuple[KilnDays | None, str]:
    try:
        start = asked.begins
        return kiln_days(asked.wood, asked.thickness_m, plan, asked.wanted, SCENARIOS, start, asked.sides), ""
    except (NoFigure, LoadNeverDry) as unknown:
        return None, str(unknown)


def _evened(asked: Asked, plan: Schedule) -> Evened | None:
    try:
        return evened(equalising_wood(asked.wood, asked.thickness_m, plan, asked.target, asked.begins, asked.sides))
    except LoadNeverDry:
        return None


def _shorter(asked: Asked, plan: Schedule, days: KilnDays) -> str:
    """What open edges and bare ends do for the days; empty where that is not much."""
    counting = which_count(asked.sides, asked.thickness_m, lambda one: counted_in_kiln(asked.wood, asked.thickness_m, one, plan))
    return shorter(days.run.days, days.wide_days, *counting)


def _by_step(asked: Asked, plan: Schedule, days: KilnDays) -> tuple[StepStress, ...]:
    """Nothing where the wood's shrinkage or elasticity is not known."""
    try:
        found = stress_by_step(days, asked.wood)
    except NoFigure:
        return ()
    return tuple(
        StepStress(1 + plan.steps.index(step), end, one.surface_index, one.core_index, one.most_strain)
        for step, end, one in found
    )


def _step(step: Step) -> KilnStep:
    return KilnStep(step.from_mc, step.dry_c, step.wet_c, step.humidity, step.emc)
