"""Answers as JSON of `waney dry`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range


@dataclass(frozen=True)
class MiddleAndFace:
    """What the middle and the face of a piece hold [-] while its mean is what it is."""

    mean_mc: float
    core_mc: Range
    face_mc: Range


@dataclass(frozen=True)
class DryingLine:
    """One line of a stack: days from the start until it is at its target, before and after it was read; ready: first, likely and
    last day. late: share of the cases in which three summers do not do. losing: by the last two weights; losing_most: on the
    likely piece's fastest day, both in words; stress: of the same piece, in words; core, inside_end: of middle and face at the
    target, in words and as ranges (null: it does not get there); core_now, inside_now: the same at the last reading; null: not
    read."""

    line: str
    wood: str
    thickness_m: float
    count: int
    before_days: Range
    days: Range
    ready: tuple[str, str, str]
    late: float
    moisture: Range | None
    dry_kg: Range | None
    target_kg: Range | None
    losing: str
    losing_most: str
    stress: str
    core: str
    inside_end: MiddleAndFace | None
    core_now: str
    inside_now: MiddleAndFace | None
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class DryingStack:
    """What `waney dry` says: every line by itself, and the stack, which is ready with its slowest line."""

    place: str
    start: str
    exposure: str
    air: str
    target: float
    lines: tuple[DryingLine, ...]
    before_days: Range
    days: Range
    ready: tuple[str, str, str]
