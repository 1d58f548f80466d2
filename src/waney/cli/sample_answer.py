"""What is said of a sample board: its arithmetic, the kiln's steps by its weight, and its dates outdoors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from waney.cli.answers import range_of, ranged
from waney.cli.answers_sample import BoardDates, BoardRead, Sample, SampleBoards, SectionRead, StepWeight
from waney.drying.board_weights import BoardWeight, followed, step_weights
from waney.drying.forecast import dates
from waney.drying.safe_rate import SafeRate, safe_rate
from waney.drying.sample_board import SampleBoard, wettest_and_driest
from waney.drying.schedules import code_for, schedule
from waney.drying.stack import PARTICLES, Stack, line_dates
from waney.drying.watch import said_of_loss
from waney.drying.weighing import WeighingScale, Weight, coarse
from waney.figures.scenarios import Scenarios
from waney.wood.species import Species


@dataclass(frozen=True)
class Asked:
    """A board and what was said of it: wood and green thickness [m] where known, the day it was cut, later weights, the weighing
    scale that weighs it, wanted moisture [-], and whether it stands for a kiln's load."""

    name: str
    board: SampleBoard
    wood: Species | None
    thickness_m: float | None
    cut: date | None
    weights: tuple[tuple[date, Weight], ...]
    scale: WeighingScale
    target: float
    kiln: bool = False


def sample_boards(boards: Sequence[Asked], stack: Stack | None) -> SampleBoards:
    """All boards; stack: where they dry outdoors, its lines in the same order, None for arithmetic alone."""
    found = tuple(_one(asked, stack, at) for at, asked in enumerate(boards))
    if len(found) < 2:
        return SampleBoards(found, None, None)
    wettest, driest = wettest_and_driest([followed(one.board, one.cut, one.weights)[-1].mc for one in boards])
    return SampleBoards(found, found[wettest].board, found[driest].board)


def _one(asked: Asked, stack: Stack | None, at: int) -> Sample:
    board = asked.board
    safe = safe_rate(asked.wood.id, asked.thickness_m) if asked.wood and asked.thickness_m else None
    code = code_for(asked.wood.id, asked.thickness_m) if asked.kiln and asked.wood and asked.thickness_m else None
    return Sample(
        asked.name,
        asked.wood.common if asked.wood else None,
        asked.thickness_m,
        asked.cut.isoformat() if asked.cut else None,
        tuple(SectionRead(one.wet_kg, one.dry_kg, one.mc) for one in board.sections),
        ranged(board.dry),
        asked.target,
        ranged(board.target_kg(asked.target)),
        tuple(_read(one, safe) for one in followed(board, asked.cut, asked.weights)),
        coarse(asked.scale, board.dry_kg),
        code,
        _steps(board, code),
        _dates(stack, at) if stack else None,
    )


def _read(one: BoardWeight, safe: SafeRate | None) -> BoardRead:
    said = "" if one.lost_a_day is None else said_of_loss(one.lost_a_day, safe)
    return BoardRead(one.day.isoformat() if one.day else None, one.weight.kg, ranged(one.mc), one.lost_a_day, said)


def _steps(board: SampleBoard, code: str | None) -> tuple[StepWeight, ...]:
    if code is None:
        return ()
    return tuple(
        StepWeight(step.from_mc or 0.0, ranged(kg), step.dry_c, step.wet_c) for step, kg in step_weights(board, schedule(code))
    )


def _dates(stack: Stack, at: int) -> BoardDates:
    fine = replace(stack, mark_kg=0.0)  # a coarse scale is told of beside the oven-dry weight
    found = line_dates(stack.lines[at], fine, Scenarios(1, PARTICLES))
    before, after = found.forecast.before, found.forecast.after
    first, likely, last = dates(stack.start, after.days)
    return BoardDates(
        stack.place,
        stack.exposure.value,
        ranged(before.days),
        ranged(after.days),
        (first.isoformat(), likely.isoformat(), last.isoformat()),
        after.late,
        range_of(found.forecast.mc),
        range_of(found.forecast.dry),
        found.remarks,
    )
