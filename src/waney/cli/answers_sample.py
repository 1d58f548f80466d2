"""Answers as JSON of `waney sample`; the forms as in `waney.cli.answers`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range


@dataclass(frozen=True)
class SectionRead:
    """A moisture section: weight when cut, oven-dry weight, moisture."""

    wet_kg: float
    dry_kg: float
    mc: float


@dataclass(frozen=True)
class BoardRead:
    """One weight of the board; day: null where the day it was cut is not known; lost_a_day: since the weight before, null for the
    first; losing: the same in words."""

    day: str | None
    kg: float
    moisture: Range
    lost_a_day: float | None
    losing: str


@dataclass(frozen=True)
class StepWeight:
    """What the board weighs when a step of the kiln schedule begins."""

    from_mc: float
    kg: Range
    dry_c: float
    wet_c: float


@dataclass(frozen=True)
class BoardDates:
    """When the board is at its target outdoors, before and after it was weighed again; ready: first, likely, last day; moisture:
    on the day of the last reading, by the weights and the drying model together."""

    place: str
    exposure: str
    before_days: Range
    days: Range
    ready: tuple[str, str, str]
    late: float
    moisture: Range | None
    dry_kg: Range | None
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class Sample:
    """One sample board. dry_kg: its estimated oven-dry weight; target_kg: what stands on its tag; null: not known, not asked."""

    board: str
    wood: str | None
    thickness_m: float | None
    cut: str | None
    sections: tuple[SectionRead, ...]
    dry_kg: Range
    target: float
    target_kg: Range
    reads: tuple[BoardRead, ...]
    coarse: str
    code: str | None
    steps: tuple[StepWeight, ...]
    dates: BoardDates | None


@dataclass(frozen=True)
class SampleBoards:
    """What `waney sample` says; wettest, driest: names of boards by their last weights, null with fewer than two."""

    boards: tuple[Sample, ...]
    wettest: str | None
    driest: str | None
