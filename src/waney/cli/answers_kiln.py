"""Answers as JSON of the commands for kilns; the forms as in `waney.cli.answers`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range
from waney.figures.estimate import Basis
from waney.wood.strength import Taken


@dataclass(frozen=True)
class KilnStep:
    """Air of one step of a kiln; from_mc: moisture it begins at, null from the start."""

    from_mc: float | None
    dry_c: float
    wet_c: float
    humidity: float
    emc: float


@dataclass(frozen=True)
class StepStress:
    """Drying stress at its highest in one step of the likely piece's way. step: counted from 1; until_day: when it is over;
    surface, core: tension over what the wood bears, below zero pressed, null where that was not read; kept: by how much the
    surface is kept from shrinking."""

    step: int
    until_day: float
    surface: Taken | None
    core: Taken | None
    kept: float


@dataclass(frozen=True)
class Evened:
    """Equalising of a lot whose pieces differ, by the model. begins: day on which it begins; days: how long; whole: both, without
    conditioning; at_begin, at_end: driest, middle and wettest of the likely lot's samples then."""

    begins: Range
    days: Range
    whole: Range
    at_begin: tuple[float, float, float]
    at_end: tuple[float, float, float]
    late: int
    """runs of `scenarios` that were not there after 400 days; begins and days are those of the others"""
    scenarios: int


@dataclass(frozen=True)
class KilnSchedule:
    """What `waney schedule` says: a code's steps, days and water; null: not known, `why` says what is missing."""

    wood: str
    thickness_m: float
    code: str
    own_code: bool
    """whether it is the wood's own, not one that was typed"""
    from_mc: Range | None
    target_mc: float
    steps: tuple[KilnStep, ...]
    first_step: int
    """the step that wood of this moisture begins with, counted from 1"""
    equalising: KilnStep
    conditioning: KilnStep
    condition_h: float
    days: Range | None
    late: int
    """runs of `scenarios` that were not dry after 400 days"""
    scenarios: int
    water_m3_kg: Range | None
    """to take out of a cubic metre as sawn"""
    heat_m3_j: Range | None
    """for a cubic metre as sawn: to evaporate that, to warm wood and vented air; at the high end a kiln as built"""
    safe_a_day: float | None
    """most moisture to lose in a day"""
    safe_basis: Basis | None
    sides: str
    """by how much open edges and bare ends shorten the days, in words; empty where they do not"""
    stress: str
    """drying stress of the likely piece by the schedule, in words: a risk"""
    stress_by_step: tuple[StepStress, ...]
    stress_basis: Basis | None
    """of what the wood bears across the grain; null where that was not read"""
    stiffness_basis: Basis
    """of how stiff it is across the grain, from which its stress is reckoned"""
    held_days: Range | None
    """days in a kiln whose air is kept milder than the schedule's wherever a day would lose more than safe_a_day"""
    evened: Evened | None
    why: str
    basis: Basis


@dataclass(frozen=True)
class CoreHeat:
    """What `waney heat-treat` says: minutes until the core of a wet piece is at core_c, then held. Never a certificate."""

    wood: str
    thickness_m: float
    width_m: float
    mc: float
    start_c: float
    dry_c: float
    wet_c: float
    core_c: float
    held_min: int
    stickered: bool
    dries_first: bool
    """whether the wet bulb is no warmer than the core is to be, so that wet wood waits there until it has dried"""
    minutes: Range
    from_start_min: float
    """the high end of the minutes, and the time it is held after that"""
    record: tuple[str, ...]


@dataclass(frozen=True)
class CoreGap:
    """Between two readings of a core record: too long to know what lay between [min]."""

    from_min: float
    to_min: float


@dataclass(frozen=True)
class CoreShown:
    """What `waney heat-treat --record` says: what a record shows of core_c held for held_min minutes. Never a certificate."""

    core_c: float
    held_min: int
    readings: int
    read_min: float
    """from the first reading to the last"""
    hottest_c: float
    longest_min: float
    """the longest time at core_c or over it, without a gap"""
    in_all_min: float
    across_min: float
    """the longest time, were the core as hot in the gaps"""
    gaps: tuple[CoreGap, ...]
    shown: bool


@dataclass(frozen=True)
class LotAsked:
    """A lot as it was asked about. thickness_m: green; moisture: now; volume_m3: of all its pieces as they lie."""

    lot: str
    owner: str
    wood: str
    thickness_m: float
    pieces: int
    volume_m3: float
    moisture: Range
    target_mc: float
    sides: str
    """by how much open edges and bare ends shorten its days by itself, in words; empty where they do not"""
    minded: tuple[str, ...]
    """what is to be minded of how its moisture was read, as sentences"""


@dataclass(frozen=True)
class TwoLots:
    """Two lots, and why they may not share the kiln; nothing: they may."""

    lots: tuple[str, str]
    against: tuple[str, ...]


@dataclass(frozen=True)
class LotTravels:
    """A lot in a load: when it is ready, whether it must leave then, what it is at when the load ends if it stays; core_mc,
    face_mc: of the middle and the face of a piece as it comes out."""

    lot: str
    pieces: int
    ready_days: Range
    leaves_early: bool
    mc_at_end: Range
    core_mc: Range
    face_mc: Range
    late: int
    """runs of `scenarios` in which it is not ready at the end"""
    against: tuple[str, ...]
    hard: tuple[str, ...]
    """in vacuum: where the chamber, set as it is, is too hard for it whoever travels with it"""
    unjudged: str
    """in vacuum: what no table can say of it, empty for nothing"""


@dataclass(frozen=True)
class Begun:
    """A milder setting of a vacuum chamber to begin with, its likely days, and those in the chamber as it is set after that."""

    temperature_c: float
    pressure_pa: float
    days: float
    days_after: float


@dataclass(frozen=True)
class BorneFrom:
    """The moisture from which on a lot bears a vacuum chamber as it is set [-]; null: at none above its target."""

    lot: str
    mc: float | None


@dataclass(frozen=True)
class OnPlates:
    """What plates ask of single pieces of a load, by what was told of them. within_m: most that thicknesses in a layer differ;
    cups: pieces that are cupped and by how much [m]; bark: pieces that it is still on; said: the same in words."""

    within_m: float
    cups: tuple[tuple[str, float], ...]
    bark: tuple[str, ...]
    said: tuple[str, ...]


@dataclass(frozen=True)
class LoadProposed:
    """One load. schedule: null in vacuum; weight_kg: with all its pieces at the high end; heat_j: into wood and water alone."""

    schedule: str | None
    sets_pace: str
    days: Range
    water_kg: Range
    heat_j: Range
    weight_kg: float
    layers: int
    height_m: float
    lots: tuple[LotTravels, ...]
    scenarios: int
    stress: str
    """drying stress of the lot that it pulls at most, in words: a risk"""
    evened: Evened | None
    """of the lot that sets the pace; null in vacuum, or where that never gets there"""
    borne_from: tuple[BorneFrom, ...]
    """lots that a vacuum chamber as it is set, or the sun, is too hard for"""
    begun: Begun | None
    """null where no milder setting brings all of them there, or where none is needed"""
    goes_in: str
    """the day, by the sun: when the load before it is dry; else empty"""
    on_plates: OnPlates | None
    """null without plates, or where no cup and no bark was told"""


@dataclass(frozen=True)
class LoadsProposed:
    """Loads one after the other, what they aim at, days of all without equalising, days_evened: with it, null in vacuum and where
    one never gets there, and pieces that fit in none, each with the reason."""

    aims: tuple[str, ...]
    days: Range
    days_evened: Range | None
    loads: tuple[LoadProposed, ...]
    left_out: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class KilnLoads:
    """What `waney kiln-load` says; the proposal with the fewest days without equalising first. least_loads: no plan
    needs fewer, by room and weight; air: of a kiln that the sun warms, what is taken for its weather, else empty."""

    kiln: str
    heat: str
    air: str
    lots: tuple[LotAsked, ...]
    sharing: tuple[TwoLots, ...]
    least_loads: int
    proposals: tuple[LoadsProposed, ...]
