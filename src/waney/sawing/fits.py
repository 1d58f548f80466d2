"""Fits: whether a log fits a mill as it lies, which limits it passes and by how much, and the rolls at which every pass goes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import inf

import numpy as np

from waney.logs.shape import LogShape
from waney.logs.volume import balance
from waney.sawing.kernel.chords import NM, chords_at, widest_within
from waney.sawing.kernel.slices import whole
from waney.sawing.lay import Outline, outline_of, sections_of
from waney.sawing.lie import lies
from waney.sawing.mill import Mill
from waney.sawing.wants import Tip

SLACK_M = 1e-9


class What(StrEnum):
    """A limit of the mill or of the people at it."""

    BED = "length of the bed"
    CROSSBARS = "crossbars under the log"
    WIDTH = "widest cut between the guides"
    HEAD = "room under the head"
    WEIGHT = "weight that the bed bears"
    TURNING = "weight that can be turned"


@dataclass(frozen=True)
class Limit:
    """One limit that a log passes: what the mill has and what the log needs, in metres or kilograms."""

    what: What
    has: float
    needs: float

    @property
    def by(self) -> float:
        """How far it is passed. A log too short for its crossbars needs less than there is between them."""
        return abs(self.needs - self.has)


@dataclass(frozen=True)
class Room:
    """What a log takes up at one roll, as it lies [m]: the widest pass that the blade can reach, and what then stands above the
    highest of them."""

    roll_deg: float
    wide_m: float
    above_m: float

    def over_m(self, mill: Mill) -> tuple[float, float]:
        """By how much it is too wide and too high for a mill; 0 where it is not."""
        thickest = inf if mill.thickest_m is None else mill.thickest_m
        return max(self.wide_m - mill.widest_cut_m, 0.0), max(self.above_m - thickest, 0.0)

    def goes(self, mill: Mill) -> bool:
        """Whether every pass goes."""
        return max(self.over_m(mill)) <= SLACK_M


@dataclass(frozen=True)
class Fit:
    """Every limit that a log passes, none when it fits; and the rolls at which every pass goes."""

    limits: tuple[Limit, ...]
    rolls_deg: tuple[float, ...]
    some_rolls_do_not: bool


def fit_of(shape: LogShape, mill: Mill, rolls_deg: Sequence[float], heaviest_kg: float | None = None) -> Fit:
    """How a log fits a mill at these rolls; heaviest_kg: what it may weigh, None: no weight is held against it."""
    rooms = rooms_of(shape, mill, rolls_deg)
    going = tuple(room.roll_deg for room in rooms if room.goes(mill))
    around = () if going else _too_big(rooms, mill)
    return Fit((*_along(shape, mill), *around, *_too_heavy(mill, heaviest_kg)), going, len(going) < len(rooms))


def rooms_of(shape: LogShape, mill: Mill, rolls_deg: Sequence[float]) -> tuple[Room, ...]:
    """What the log takes up at each roll."""
    outline = outline_of(shape)
    return tuple(_room(shape, outline, mill, roll) for roll in rolls_deg)


def _room(shape: LogShape, outline: Outline, mill: Mill, roll_deg: float) -> Room:
    (lie,) = lies(shape, (roll_deg,), (Tip.AS_IT_LIES,), mill.crossbars_m)
    sections = sections_of(outline, lie.to_saw)
    top, step = float(sections.bark_v.max()), mill.step_m
    chords = np.empty((int(top / step) + 2, 2, len(sections.w)), np.int64)
    chords_at(sections.bark_u, sections.bark_v, 0.0, step, chords)
    uncut = whole()
    reached = [
        p for p in range(1, len(chords)) if mill.backstop_lowest_m < p * step and mill.lowest_m <= p * step <= mill.highest_m
    ]
    widths = [widest_within(chords, p, uncut.low, uncut.high) * NM for p in reached]
    highest = max((p * step for p, width in zip(reached, widths, strict=True) if width > 0.0), default=0.0)
    return Room(roll_deg, max(widths, default=0.0), top - highest - mill.kerf_m)


def _too_big(rooms: Sequence[Room], mill: Mill) -> tuple[Limit, ...]:
    """What is passed at the roll that comes nearest to fitting."""
    nearest = min(rooms, key=lambda room: sum(room.over_m(mill)))
    wide, high = nearest.over_m(mill)
    limits = []
    if wide > SLACK_M:
        limits.append(Limit(What.WIDTH, mill.widest_cut_m, nearest.wide_m))
    if high > SLACK_M and mill.thickest_m is not None:
        limits.append(Limit(What.HEAD, mill.thickest_m, nearest.above_m))
    return tuple(limits)


def _along(shape: LogShape, mill: Mill) -> tuple[Limit, ...]:
    """Too long for the bed, or not held by two crossbars with its weight between them."""
    length = shape.length_m
    limits = [] if length <= mill.bed_length_m + SLACK_M else [Limit(What.BED, mill.bed_length_m, length)]
    bars = sorted(mill.crossbars_m)
    under = [bar for bar in bars if bar <= length]
    if len(bars) > 1 and len(under) < 2:
        limits.append(Limit(What.CROSSBARS, bars[1], length))
    elif under:
        middle = balance(shape, bark=True)[2]
        held = min(max(middle, under[0]), under[-1])
        limits += [] if held == middle else [Limit(What.CROSSBARS, held, middle)]
    return tuple(limits)


def _too_heavy(mill: Mill, heaviest_kg: float | None) -> tuple[Limit, ...]:
    if heaviest_kg is None:
        return ()
    turned = mill.heaviest_turn_helped_kg if mill.heaviest_turn_helped_kg is not None else mill.heaviest_turn_alone_kg
    bears = ((What.WEIGHT, mill.heaviest_log_kg), (What.TURNING, turned))
    return tuple(Limit(what, most, heaviest_kg) for what, most in bears if most is not None and heaviest_kg > most)
