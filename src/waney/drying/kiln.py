"""A kiln load by its sample boards: the schedule is followed by their own moisture, then equalised and conditioned.

What the wood does to the air is not modelled: the kiln is taken to hold what it is set to.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from math import ceil
from statistics import fmean

import numpy as np

from waney.drying.air import DAY, HOUR, AirState, air_steps, filmed, joined, part
from waney.drying.board import Course, Drying, dry
from waney.drying.kernel.records import AirSteps
from waney.drying.schedules import Schedule, Step, holding
from waney.drying.sides import Sides, counted_m
from waney.figures.problem import Problem
from waney.units.share import print_share
from waney.wood.film import latent_heat
from waney.wood.species import Group, Species
from waney.wood.traits import Trait
from waney.wood.vapour import STANDARD_PRESSURE, humidity_ratio, saturation_pressure
from waney.wood.vapour import humidity_ratio_of as ratio_of

BLOCK_H = 3.0
"""Hours between two looks at the samples [h]: the schedule moves on at the next look."""
INTERVALS = 3
"""Intervals from one look to the next."""
AT_ONCE = 8
"""Looks that are run in one go while the step stays: it saves time; moistures agree to 3e-5 with one look at a time."""
MOST_DAYS = 400
AIR_SPEED = 1.5
"""Air between the layers of a kiln [m/s]: 300 ft/min, from memory of fpl-ah-188."""

STACK_M = 1.2
"""Width of a load that the air crosses [m]: 4 ft, common practice, no source."""


CONDITION_UP = {Group.HARD: 0.04, Group.SOFT: 0.03}
"""Equilibrium moisture of conditioning above the target [-]: fpl-ah-188, from memory."""


class LoadNeverDry(Problem):
    """The load does not reach its target in this kiln."""


class Stage(StrEnum):
    """What a kiln is doing; the text is how a page names it."""

    SCHEDULE = "drying by the schedule"
    EQUALISING = "equalising"
    CONDITIONING = "conditioning"


@dataclass(frozen=True)
class Wanted:
    """What a load is dried to. target: mean moisture [-]; equalise: whether the driest waits for the wettest; condition_h: hours
    of conditioning, 0 for none; condition_up: its equilibrium moisture above the target [-], see CONDITION_UP; equalise_down: how
    far below the target the driest may come before the others are waited for [-]."""

    target: float
    equalise: bool = True
    condition_h: float = 0.0
    condition_up: float = 0.04
    equalise_down: float = 0.02

    def equalising(self, plan: Schedule) -> Step:
        """The air that holds the driest where it is, at the schedule's hottest."""
        return holding(plan.at(0.0).dry_c, self.target - self.equalise_down)

    def conditioning(self, plan: Schedule) -> Step:
        """The air that takes the stresses out at the end."""
        return holding(plan.at(0.0).dry_c, self.target + self.condition_up)


@dataclass(frozen=True)
class Look:
    """One look at the samples: days since the start, what the kiln is doing, its step; mean moisture and temperature of each."""

    days: float
    stage: Stage
    step: Step
    moistures: tuple[float, ...]
    temperatures_c: tuple[float, ...]


@dataclass(frozen=True)
class KilnRun:
    """What the samples did, look by look, how they ended, and water and heat per square metre of each sample's face."""

    looks: tuple[Look, ...]
    ended: tuple[Drying, ...]
    water_kg_m2: tuple[float, ...]
    heat_j_m2: tuple[float, ...]

    @property
    def days(self) -> float:
        """From the start to the end [days]."""
        return self.looks[-1].days


def controlling(moistures: Sequence[float]) -> float:
    """Moisture that the schedule goes by [-]: the mean of the wetter half of the samples. fpl-ah-188, hardwoods, from memory."""
    wettest = sorted(moistures, reverse=True)[: (len(moistures) + 1) // 2]
    return sum(wettest) / len(wettest)


@lru_cache(maxsize=512)
def kiln_air(step: Step, hours: float = BLOCK_H, pieces: int = INTERVALS) -> AirSteps:
    """The air of one step, in `pieces` equal intervals."""
    one = air_steps([(hours * HOUR / pieces, AirState(step.dry_c, step.humidity, AIR_SPEED, stack_m=STACK_M))])
    return AirSteps(*(np.repeat(column, pieces) for column in one))


def air_by_step(steps: Sequence[tuple[Step, float]], block_h: float = 6.0) -> AirSteps:
    """The air of steps with their days, in intervals of about `block_h`."""
    return joined([kiln_air(step, 24.0 * days, max(ceil(24.0 * days / block_h), 1)) for step, days in steps if days > 0.0])


def counted_in_kiln(wood: Species, thickness_m: float, sides: Sides, plan: Schedule) -> float:
    """Thickness of the wide board that dries in the same days in heated air [m]; by the film of the schedule's middle step."""
    air = kiln_air(plan.steps[len(plan.steps) // 2], pieces=1)
    return counted_m(thickness_m, sides, wood.needed(Trait.SG_GREEN).likely, air)


class _Load:
    """Samples on their way through a kiln."""

    def __init__(self, samples: Sequence[Drying], film: float) -> None:
        self.samples = tuple(samples)
        self.film = film
        self.looks: list[Look] = []
        self.water = np.zeros(len(samples))
        self.heat = np.zeros(len(samples))
        self.days = 0.0

    @property
    def moistures(self) -> tuple[float, ...]:
        return tuple(sample.mean for sample in self.samples)

    def until(self, step: Step, stage: Stage, over: Callable[[Sequence[float]], bool]) -> None:
        """Looks of one step, up to and with the first at which `over` says so of the moistures; AT_ONCE at most."""
        air = filmed(kiln_air(step, AT_ONCE * BLOCK_H, AT_ONCE * INTERVALS), self.film)
        courses = [dry(sample, air) for sample in self.samples]
        means = np.array([course.mean[INTERVALS - 1 :: INTERVALS] for course in courses]).T
        last = next((i for i, found in enumerate(means.tolist()) if over(found)), AT_ONCE - 1)
        if last < AT_ONCE - 1:
            courses = [dry(sample, part(air, 0, (last + 1) * INTERVALS)) for sample in self.samples]
        self._took(courses, step, stage, INTERVALS, BLOCK_H)

    def condition(self, step: Step, hours: float) -> None:
        """Some hours of conditioning, as one look."""
        air = filmed(kiln_air(step, hours), self.film)
        self._took([dry(sample, air) for sample in self.samples], step, Stage.CONDITIONING, air.seconds.size, hours)

    def _took(self, courses: Sequence[Course], step: Step, stage: Stage, every: int, hours: float) -> None:
        """Keeps what the samples did, a look after every so many intervals, so many hours each."""
        self.samples = tuple(course.end for course in courses)
        self.water += [course.left_kg_m2[-1] for course in courses]
        self.heat += [course.heat_j_m2[-1] for course in courses]
        for at in range(every - 1, courses[0].days.size, every):
            self.days += hours * HOUR / DAY
            moistures = tuple(float(course.mean[at]) for course in courses)
            warm = tuple(float(course.temperature_c[at]) for course in courses)
            self.looks.append(Look(self.days, stage, step, moistures, warm))
        if self.days > MOST_DAYS:
            raise LoadNeverDry(
                f"After {MOST_DAYS} days the samples stand at {', '.join(map(print_share, self.moistures))}: "
                "this schedule does not dry them."
            )

    def result(self) -> KilnRun:
        return KilnRun(tuple(self.looks), self.samples, tuple(self.water), tuple(self.heat))


def run_kiln(samples: Sequence[Drying], plan: Schedule, wanted: Wanted, film: float = 1.0) -> KilnRun:
    """Take sample boards through a schedule with its own moisture control, then equalise and condition.

    Equalising begins when the driest sample is `equalise_down` below the target and holds the equilibrium there until the
    wettest is at the target. Without it the load is done when the mean is at the target. film: film factor of the model [-].
    Raises LoadNeverDry.
    Source of the rules: fpl-ah-188, from memory.
    """
    load = _Load(samples, film)
    while not _through(load.moistures, wanted):
        step = plan.at(controlling(load.moistures))
        load.until(step, Stage.SCHEDULE, lambda now: _through(now, wanted) or plan.at(controlling(now)) is not step)  # noqa: B023
    if wanted.equalise:
        even = wanted.equalising(plan)
        while max(load.moistures) > wanted.target:
            load.until(even, Stage.EQUALISING, lambda now: max(now) <= wanted.target)
    if wanted.condition_h > 0.0:
        load.condition(wanted.conditioning(plan), wanted.condition_h)
    return load.result()


def days_of_one(piece: Drying, plan: Schedule, target: float, film: float, block_h: float = 6.0) -> float:
    """Days that one piece takes by its own moisture from where it is to `target` [-], without equalising; film: film factor [-].

    As `run_kiln` with that piece as the only sample, but that each step is run to its end in one go. Raises LoadNeverDry.
    """
    return sum(days for _, days in days_by_step(piece, plan, target, film, block_h))


def days_by_step(
    piece: Drying, plan: Schedule, target: float, film: float, block_h: float = 6.0
) -> tuple[tuple[Step, float], ...]:
    """The same, step by step: each step that the piece needs, with its days. Raises LoadNeverDry."""
    found: list[tuple[Step, float]] = []
    count = int(MOST_DAYS * 24 / block_h)
    ends = [step.from_mc for step in plan.steps[1:]] + [target]
    for step, end in zip(plan.steps, ends, strict=True):
        stop = max(end if end is not None else target, target)
        if piece.mean > stop:
            course = dry(piece, filmed(kiln_air(step, count * block_h, count), film), stop_at=stop)
            reached = course.days_to(stop)
            if reached is None:
                raise LoadNeverDry(
                    f"After {MOST_DAYS} days at {step.dry_c:.0f} °C the piece stands at {print_share(course.end.mean, 1)}, "
                    f"not at {print_share(stop)}."
                )
            found.append((step, reached))
            piece = course.end
    return tuple(found)


def _through(moistures: Sequence[float], wanted: Wanted) -> bool:
    if wanted.equalise:
        return min(moistures) <= wanted.target - wanted.equalise_down or max(moistures) <= wanted.target
    return sum(moistures) / len(moistures) <= wanted.target


@dataclass(frozen=True)
class Energy:
    """Heat that a kilogram of water costs [J/kg]: to evaporate it, to warm the wood and the air that carries it off; no walls."""

    evaporation: float
    wood: float
    air: float

    @property
    def total(self) -> float:
        """All of it [J/kg]."""
        return self.evaporation + self.wood + self.air


def energy(run: KilnRun, outdoor_c: float, outdoor_humidity: float) -> Energy:
    """Heat per kilogram of water by sample means: vented air comes in as it is outdoors and leaves as it is in the kiln."""
    water, given = sum(run.water_kg_m2), sum(run.heat_j_m2)
    latent = latent_heat(fmean(look.step.wet_c for look in run.looks))
    outside = humidity_ratio(outdoor_c, outdoor_humidity)
    weights, airs = [], []
    before = [run.looks[0].moistures, *(look.moistures for look in run.looks)]
    for look, was in zip(run.looks, before, strict=False):
        lost = max(sum(was) - sum(look.moistures), 0.0)
        inside = ratio_of(look.step.humidity * saturation_pressure(look.step.dry_c), STANDARD_PRESSURE)
        weights.append(lost)
        airs.append(1010.0 * (look.step.dry_c - outdoor_c) / max(inside - outside, 1e-3))
    vented = float(np.average(airs, weights=weights)) if sum(weights) > 0.0 else 0.0
    return Energy(latent, max(given / water - latent, 0.0), vented)
