"""Load: lots that share a kiln. The slowest sets the pace by its own moisture; the others follow its air, none is averaged."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from math import log10

import numpy as np

from waney.drying.air import part
from waney.drying.board import Course, Drying, dry
from waney.drying.hard_chamber import Judged, Ways, judged
from waney.drying.inside import Inside, inside_of
from waney.drying.kernel.records import AirSteps
from waney.drying.kiln import MOST_DAYS, LoadNeverDry, air_by_step, days_by_step
from waney.drying.kiln_days import KILN_FILM
from waney.drying.kiln_sheet import IN_AIR, BadKiln, Heat, KilnSheet
from waney.drying.lot import PERMEABILITY, BadLot, Lot
from waney.drying.objections import objections
from waney.drying.pace import MODEL
from waney.drying.schedules import Schedule, Step, UnknownSchedule
from waney.drying.sides import middle_over
from waney.drying.sun_kiln import SUN_DAYS
from waney.drying.vacuum import MINUTES, RADIO_FILM_W, cycle_steps, plate_steps
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.units.share import print_share

BLOCK_H = 6.0
MOST_VACUUM_DAYS = 120.0
MILD_C = 15.0
"""Wood as it goes into a kiln that the sun warms [°C]: gone in a day, so that it hardly matters."""
OVERDRY = 0.01
"""Further below its target than this at the end [-], a lot is taken out when it is ready: common practice, no source."""
READY = 0.005
"""So near its target a lot is ready [-]."""
SCENARIOS = Scenarios(seed=1, n=32)
HEAT_FILM = "kiln.heat"
_LIKELY_W, _LEAST_W, _MOST_W = RADIO_FILM_W
_GUESS = Basis(Ground.DEFAULT, "", "heat of radio frequency: a guess, no source")
RADIO_HEAT = Estimate(log10(_LIKELY_W), log10(_LEAST_W), log10(_MOST_W), _GUESS)
"""Logarithm of that heat; named as a doubt, so that it widens every range of such a load."""


@dataclass(frozen=True)
class Traveller:
    """One lot in a load. ready_days: when it is at its target (the load's end where it is not); mc_at_end: its mean moisture then
    if it stays to the end [-]; inside: middle and face as it comes out; early: whether it must leave when it is ready; late:
    scenarios in which it is not ready at the end; judged: why it may not travel in this load and, in vacuum, where the chamber
    is too hard for it anyway."""

    lot: Lot
    ready_days: Estimate
    mc_at_end: Estimate
    inside: Inside
    early: bool
    late: int
    judged: Judged

    @property
    def against(self) -> tuple[str, ...]:
        """Why it may not travel in this load, as sentences."""
        return self.judged.against


@dataclass(frozen=True)
class Load:
    """Lots in one kiln. plan: the schedule that rules, None in vacuum and by the sun; pace: the lot that sets the pace; days:
    until that one is at its target, without equalising and conditioning; water_kg and heat_j: of all lots, each until it leaves;
    heat for the wood and its water alone, no walls, no vented air."""

    kiln: KilnSheet
    plan: Schedule | None
    pace: Lot
    travellers: tuple[Traveller, ...]
    days: Estimate
    water_kg: Estimate
    heat_j: Estimate
    scenarios: int

    @property
    def goes_in(self) -> date | None:
        """By the sun the day on which it goes in; None elsewhere."""
        return None if self.kiln.sun is None else self.kiln.sun.start

    @property
    def against(self) -> tuple[str, ...]:
        """All that speaks against it."""
        return tuple(why for one in self.travellers for why in one.against)


@dataclass(frozen=True)
class Way:
    """The air that the pace-setter makes of a kiln, and how long it needs; steps with their days, none without a schedule."""

    air: AirSteps
    days: float
    steps: tuple[tuple[Step, float], ...]


def way(kiln: KilnSheet, pace: Lot, plan: Schedule | None, values: Mapping[str, float]) -> Way:
    """The pace-setter alone through its schedule, in vacuum or by the sun. Raises LoadNeverDry, BadKiln, NoWeather."""
    if plan is None:
        return _sunned(kiln, pace, values) if kiln.heat is Heat.SUN else _vacuum(kiln, pace, values)
    piece = pace.piece(values, kiln, plan.steps[0].dry_c)
    steps = days_by_step(piece, plan, pace.target, KILN_FILM, BLOCK_H)
    if (days := sum(each for _, each in steps)) > MOST_DAYS:
        raise LoadNeverDry(
            f"{pace.name} would take {days:.0f} days by {plan.code}, more than {MOST_DAYS}: thinner or drier wood."
        )
    return Way(air_by_step(steps, BLOCK_H), days, steps)


def _vacuum(kiln: KilnSheet, pace: Lot, values: Mapping[str, float]) -> Way:
    chamber = chamber_of(kiln, 10.0 ** values.get(HEAT_FILM, RADIO_HEAT.likely))
    return _through(chamber, pace, pace.piece(values, kiln, float(chamber.source[0])), f"{MOST_VACUUM_DAYS:.0f} days in vacuum")


def _sunned(kiln: KilnSheet, pace: Lot, values: Mapping[str, float]) -> Way:
    assert kiln.sun is not None, "a kiln that the sun warms knows of it"
    board = pace.piece(values, kiln, MILD_C)
    return _through(kiln.sun.air(board, kiln.passage, values, kiln.hottest_c), pace, board, f"{SUN_DAYS} days of sun")


def _through(air: AirSteps, pace: Lot, piece: Drying, how_long: str) -> Way:
    """As far as the pace-setter needs it. Raises LoadNeverDry."""
    course = dry(piece, air, stop_at=pace.target)
    days = course.days_to(pace.target)
    if days is None:
        raise LoadNeverDry(
            f"After {how_long} {pace.name} stands at {print_share(course.end.mean, 1)}, wanted at {print_share(pace.target)}."
        )
    return Way(part(air, 0, course.mean.size), days, ())


def chamber_of(kiln: KilnSheet, radio_w: float = RADIO_FILM_W[0]) -> AirSteps:
    """Air of a vacuum kiln for as long as the model looks ahead; radio_w: heat of radio frequency [W/(m2 K)]. Raises BadKiln for
    heat that no model here knows."""
    plates = kiln.plates or (kiln.radio.with_heat(radio_w) if kiln.radio is not None else None)
    if plates is not None:
        return plate_steps(plates, MOST_VACUUM_DAYS, 6.0 * MINUTES)
    if kiln.cycle is not None:
        return cycle_steps(kiln.cycle, MOST_VACUUM_DAYS, 1.5 * MINUTES)
    told = " without its temperature and pressure" if kiln.heat is Heat.RADIO else ""
    raise BadKiln(f"{kiln.name}: no model here knows a load by {kiln.heat}{told}: go by sample boards and core records.")


def kiln_doubts(kiln: KilnSheet) -> dict[str, Estimate]:
    """What is not known of the kiln itself: heat that radio frequency sets free; how warm the sun makes it, the weather."""
    by_sun = {} if kiln.sun is None else kiln.sun.doubts()
    return {HEAT_FILM: RADIO_HEAT} if kiln.radio is not None else by_sun


def held(plan: Schedule, hottest_c: float | None) -> Schedule:
    """The schedule in a kiln that gets no hotter: the dry bulb stays there, the depression as it is."""
    if hottest_c is None:
        return plan
    steps = (Step(s.from_mc, min(s.dry_c, hottest_c), min(s.dry_c, hottest_c) - (s.dry_c - s.wet_c)) for s in plan.steps)
    return Schedule(plan.code, tuple(steps))


@lru_cache(maxsize=256)
def days_alone(lot: Lot, kiln: KilnSheet) -> float:
    """Days of a lot by itself at its likely figures; kept, because lots are put in order by it again and again. Raises
    LoadNeverDry, BadKiln, UnknownSchedule."""
    plan = held(lot.plan, kiln.hottest_c) if kiln.heat is Heat.AIR else None
    return way(kiln, lot, plan, likely({**lot.doubts(), **kiln_doubts(kiln)})).days


def load(kiln: KilnSheet, lots: Sequence[Lot], scenarios: Scenarios = SCENARIOS) -> Load:
    """What happens to lots that share a kiln. The slowest sets the pace by its own schedule; where somebody objects to that, by
    the first schedule of the others that nobody objects to, if there is one.

    Raises BadLot for none or two of one name, LoadNeverDry, BadKiln, UnknownSchedule, NoFigure.
    """
    if not lots or len({lot.name for lot in lots}) < len(lots):
        raise BadLot("A load needs lots, each with a name of its own.")
    known = {name: one for lot in lots for name, one in lot.doubts().items()} | kiln_doubts(kiln)
    middle = likely(known)
    ruling = _ruling(kiln, lots, middle)
    pace, plan, best = ruling.pace, ruling.plan, ruling.followed
    most = MOST_DAYS if plan else SUN_DAYS if kiln.heat is Heat.SUN else MOST_VACUUM_DAYS
    never = replace(way(kiln, pace, plan, middle), days=most)
    draws = [_followed(kiln, pace, plan, lots, values, never) for values in scenarios.draws(known)]
    travellers = tuple(_traveller(i, lot, best, draws, ruling) for i, lot in enumerate(lots))
    early = [one.early for one in travellers]
    wet = [one.water(early) for one in draws]
    heat = [one.heat(early) for one in draws]
    return Load(
        kiln,
        plan,
        pace,
        travellers,
        _spread([one.days for one in draws], best.days),
        _spread(wet, best.water(early)),
        _spread(heat, best.heat(early)),
        scenarios.n,
    )


def borne_days(kiln: KilnSheet, lots: Sequence[Lot]) -> float | None:
    """Likely days of lots in a kiln that is too hard for none of them, and where none has anything against the others; None where
    it is, or where one never gets dry. Raises BadKiln, UnknownSchedule, NoFigure."""
    middle = likely({name: one for lot in lots for name, one in lot.doubts().items()} | kiln_doubts(kiln))
    try:
        ruling = _ruling(kiln, lots, middle)
    except LoadNeverDry:
        return None
    return None if any(one.hard or one.against for one in ruling.judged) else ruling.followed.days


@dataclass(frozen=True)
class _Ruling:
    """A schedule and who sets the pace by it; what that does to the lots in the likely case, and what is said of each."""

    pace: Lot
    plan: Schedule | None
    followed: _Followed
    judged: tuple[Judged, ...]


def _ruling(kiln: KilnSheet, lots: Sequence[Lot], middle: Mapping[str, float]) -> _Ruling:
    """The slowest by its own schedule, or the first schedule that nobody objects to."""
    slowest_first = sorted(lots, key=lambda lot: (-days_alone(lot, kiln), lot.name))
    if kiln.heat is not Heat.AIR:
        return _paced(kiln, slowest_first, lots, None, middle)
    plans = {plan.code: plan for plan in (held(lot.plan, kiln.hottest_c) for lot in slowest_first)}
    first: _Ruling | None = None
    for plan in plans.values():
        tried = _paced(kiln, slowest_first, lots, plan, middle)
        if not any(one.against for one in tried.judged):
            return tried
        first = first or tried
    assert first is not None, "every lot has a schedule"
    return first


def _paced(
    kiln: KilnSheet, slowest_first: Sequence[Lot], lots: Sequence[Lot], plan: Schedule | None, middle: Mapping[str, float]
) -> _Ruling:
    """By this schedule: the first lot at whose end all others are ready, by their own moistures, never by a mean."""
    for pace in slowest_first:
        followed = _followed(kiln, pace, plan, lots, middle)
        if all(end <= lot.target + READY for lot, end in zip(lots, followed.ends, strict=True)):
            break
    if plan is None:
        air = way(kiln, pace, None, middle).air
        return _Ruling(pace, None, followed, judged(lots, [ways_in(kiln, lot, air, middle) for lot in lots], kiln.cycle))
    return _Ruling(pace, plan, followed, tuple(map(Judged, _against(kiln, pace, plan, lots, middle))))


def _against(
    kiln: KilnSheet, pace: Lot, plan: Schedule, lots: Sequence[Lot], middle: Mapping[str, float]
) -> tuple[tuple[str, ...], ...]:
    made = way(kiln, pace, plan, middle)
    found = []
    for lot in lots:
        own = held(lot.plan, kiln.hottest_c)
        course = dry(lot.piece(middle, kiln, plan.steps[0].dry_c), made.air)
        alone = course if lot is pace and own == plan else _own_course(kiln, lot, own, middle)
        found.append(objections(lot, own, made.steps, course, alone))
    return tuple(found)


def _own_course(
    kiln: KilnSheet, lot: Lot, own: Schedule, middle: Mapping[str, float], *, profiles: bool = False
) -> Course:  # fmt: skip
    return dry(lot.piece(middle, kiln, own.steps[0].dry_c), way(kiln, lot, own, middle).air, profiles=profiles)


def ways_in(kiln: KilnSheet, lot: Lot, air: AirSteps, middle: Mapping[str, float]) -> Ways:
    """What a lot does in that air and by its own schedule, the likely piece and both limits of its permeability."""
    warm, through = float(air.source[0]), f"{PERMEABILITY}.{lot.name}"
    known = lot.doubts()[through]
    tight, leaky = (dry(lot.piece({**middle, through: limit}, kiln, warm), air) for limit in (known.low, known.high))
    likely_course = dry(lot.piece(middle, kiln, warm), air, profiles=True)
    heated = replace(kiln, heat=Heat.AIR, plates=None, cycle=None, radio=None, sun=None)
    try:
        own = lot.plan
    except UnknownSchedule:
        return Ways(likely_course, (tight, leaky), None, None)
    try:
        alone = _own_course(heated, lot, own, middle, profiles=True)
    except LoadNeverDry:
        alone = None
    return Ways(likely_course, (tight, leaky), own, alone)


@dataclass(frozen=True)
class _Followed:
    """One scenario: days of the pace-setter; of each lot when it was ready (None: not), its moisture at the end, middle and face
    at the end and when it was ready, and per cubic metre water and heat, to the end and until then; volumes beside them."""

    days: float
    ready: tuple[float | None, ...]
    ends: tuple[float, ...]
    insides: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    waters: tuple[tuple[float, float], ...]
    heats: tuple[tuple[float, float], ...]
    volumes: tuple[float, ...]

    def water(self, early: Sequence[bool]) -> float:
        """Of all lots [kg], each until it leaves."""
        return sum(v * pair[out] for v, pair, out in zip(self.volumes, self.waters, early, strict=True))

    def heat(self, early: Sequence[bool]) -> float:
        """Given to the wood and its water [J]."""
        return sum(v * pair[out] for v, pair, out in zip(self.volumes, self.heats, early, strict=True))


def _followed(
    kiln: KilnSheet,
    pace: Lot,
    plan: Schedule | None,
    lots: Sequence[Lot],
    values: Mapping[str, float],
    instead: Way | None = None,
) -> _Followed:
    """What a scenario makes of the lots; instead: the air to take where the pace-setter of this scenario never gets there."""
    try:
        found = way(kiln, pace, plan, values)
    except LoadNeverDry:
        if instead is None:
            raise
        found = instead
    warm = float(found.air.source[0])
    courses = [dry(lot.piece(values, kiln, warm), found.air) for lot in lots]
    ready = tuple(course.days_to(lot.target) for lot, course in zip(lots, courses, strict=True))
    waters, heats, insides = [], [], []
    for lot, course, when in zip(lots, courses, ready, strict=True):
        at = len(course.days) - 1 if when is None else int(np.searchsorted(course.days, when))
        at = min(at, len(course.days) - 1)
        faces = 2.0 / course.start.thickness_m
        insides.append((_inside(lot, kiln, course, len(course.days) - 1), _inside(lot, kiln, course, at)))
        waters.append((faces * float(course.left_kg_m2[-1]), faces * float(course.left_kg_m2[at])))
        heats.append((faces * float(course.heat_j_m2[-1]), faces * float(course.heat_j_m2[at])))
    ends = tuple(float(course.mean[-1]) for course in courses)
    volumes = tuple(lot.volume_m3 for lot in lots)
    return _Followed(found.days, ready, ends, tuple(insides), tuple(waters), tuple(heats), volumes)


def _inside(lot: Lot, kiln: KilnSheet, course: Course, at: int) -> tuple[float, float]:
    """What middle and face of a piece hold after an interval."""
    core, face = float(course.core[at]), float(course.surface[at])
    over = middle_over(lot.thickness_m, lot.sides) if kiln.heat in IN_AIR else 1.0
    return face + over * (core - face), face


def _traveller(at: int, lot: Lot, best: _Followed, draws: Sequence[_Followed], ruling: _Ruling) -> Traveller:
    days = [one.days if (when := one.ready[at]) is None else when for one in draws]
    found = best.ready[at]
    end = _spread([one.ends[at] for one in draws], best.ends[at])
    late = sum(one.ends[at] > lot.target + READY for one in draws)
    ready, early = _spread(days, best.days if found is None else found), end.likely < lot.target - OVERDRY
    cores, faces = np.array([one.insides[at][early] for one in draws]).T
    inside = inside_of(lot.target if early else end.likely, cores, faces, np.full(len(draws), 1.0 / len(draws)))
    assert inside is not None, "every draw has a middle"
    return Traveller(lot, ready, end, inside, early, late, ruling.judged[at])


def _spread(values: Sequence[float], middle: float) -> Estimate:
    return summed_up(values, middle, MODEL, hard_min=0.0)
