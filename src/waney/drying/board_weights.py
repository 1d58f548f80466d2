"""Board weights: what a sample board weighed, day after day, as moisture and loss; weights at which a kiln's steps begin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.drying.sample_board import SampleBoard
from waney.drying.schedules import Schedule, Step
from waney.drying.weighing import Weight
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem


class WeighedTooSoon(Problem):
    """A weight from before the board was cut."""


@dataclass(frozen=True)
class BoardWeight:
    """One weight of a board: the day (None: when it was cut, no day known), its moisture [-], and the moisture lost a day since
    the weight before [-], None for the first and for two on one day."""

    day: date | None
    weight: Weight
    mc: Estimate
    lost_a_day: float | None


def followed(board: SampleBoard, cut: date | None, weights: Sequence[tuple[date, Weight]]) -> tuple[BoardWeight, ...]:
    """The board's weights from its first on, in the order of their days.

    Raises WeighedTooSoon, BadWeights for a weight below the oven-dry one.
    """
    later = sorted(weights, key=lambda one: one[0])
    if cut is not None and later and later[0][0] < cut:
        raise WeighedTooSoon(f"A weight of {later[0][0]} is from before the board was cut, {cut}: look at both days.")
    rows = [BoardWeight(cut, board.first, board.start, None)]
    for day, weight in later:
        mc = board.moisture(weight)
        rows.append(BoardWeight(day, weight, mc, _lost_a_day(rows[-1], day, mc)))
    return tuple(rows)


def _lost_a_day(before: BoardWeight, day: date, mc: Estimate) -> float | None:
    if before.day is None or before.day == day:
        return None
    return (before.mc.likely - mc.likely) / (day - before.day).days


def step_weights(board: SampleBoard, plan: Schedule) -> tuple[tuple[Step, Estimate], ...]:
    """What the board weighs when each later step of a kiln schedule begins [kg], those that it has yet to come to."""
    return tuple(
        (step, board.target_kg(step.from_mc)) for step in plan.steps if step.from_mc is not None and step.from_mc < board.mc
    )
