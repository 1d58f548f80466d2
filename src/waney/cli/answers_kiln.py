"""Answers as JSON of the commands for kilns; the forms as in `waney.cli.answers`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range
from waney.figures.estimate import Basis


@dataclass(frozen=True)
class KilnStep:
    """Air of one step of a kiln; from_mc: moisture it begins at, null from the start."""

    from_mc: float | None
    dry_c: float
    wet_c: float
    humidity: float
    emc: float


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
    safe_a_day: float | None
    """most moisture to lose in a day"""
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
    minutes: Range
    from_start_min: float
    """the high end of the minutes, and the time it is held after that"""
    record: tuple[str, ...]
