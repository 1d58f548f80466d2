"""Sawn again: a plan's turns and bed heights on another log than the likely one, and what each slice is then worth as what.

The log is rolled as the plan says, rests on its own underside, is lifted by the plan's `tip_m`; heights are those of the card.
A pass that meets neither wood nor bark is not made and costs nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor, inf
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.sawing.build import load_cents, turn_cents
from waney.sawing.kernel.chords import FAR, NM
from waney.sawing.kernel.replayed import replayed
from waney.sawing.kernel.slices import Cut, whole
from waney.sawing.lay import Laid, laid_at, laid_over
from waney.sawing.lie import RAISED_M, quarter_turned, raised_m, set_down
from waney.sawing.mill import Mill
from waney.sawing.moves import RollOn, Turn, heights_by_lie
from waney.sawing.outcome.left_over import Between, rested_between
from waney.sawing.outcome.worlds import World
from waney.sawing.plan import Plan

Array = NDArray[np.float64]
Whole = NDArray[np.int64]


class CannotSawAgain(Problem):
    """A plan turns the log in a way that is not known here."""


@dataclass(frozen=True, eq=False)
class LieMoves:
    """What a plan does in one lie: the turn that leads to it, its slices (S, 2) by lower and upper pass, its passes (P,)."""

    turn: Turn | None
    slices: Whole
    heights: Whole


@dataclass(frozen=True, eq=False)
class Script:
    """A plan as it is done, lie by lie; its pieces stand in the order of their lies."""

    roll: RollOn
    lies: tuple[LieMoves, ...]

    @property
    def on_own_flat(self) -> bool:
        """Whether the log lies on a flat it had before, and the last slice of the first lie stays on the bed."""
        return bool(np.any(self.lies[0].slices[:, 0] == 0))

    @classmethod
    def of(cls, plan: Plan) -> Script:
        """Take a plan apart."""
        roll = next(move for move in plan.moves if isinstance(move, RollOn))
        turns = (None, *(move for move in plan.moves if isinstance(move, Turn)))
        passes = (np.array(heights, np.int64) for heights in heights_by_lie(plan.moves))
        lies = (LieMoves(turn, _slices(plan, i), here) for i, (turn, here) in enumerate(zip(turns, passes, strict=True)))
        return cls(roll, tuple(lies))


def _slices(plan: Plan, lie: int) -> Whole:
    rows = [(p.lower_steps, p.upper_steps) for p in plan.pieces if p.lie == lie]
    return np.array(rows, np.int64).reshape(len(rows), 2)


class Again(NamedTuple):
    """Cents of every slice as every product (S, J), NEVER where it cannot be; finished width and length (S, J) [m]; salvage
    (S,) [cents]; what loading, passes, turns and metal cost [cents]; the widest pass [m]."""

    cents: Whole
    width: Array
    length: Array
    salvage: Whole
    effort: int
    widest: float


def sawn_again(world: World, mill: Mill, script: Script, offered: Whole) -> Again:
    """One log sawn by a script. offered (S, J): which products each slice may be. Raises CannotSawAgain, NothingLeft."""
    effort = world.ask.effort
    at, cost, widest = 0, load_cents(effort) + turn_cents(effort, len(script.lies) - 1), 0.0
    found = []
    for moves, (bed, cut) in zip(script.lies, beds(world, mill, script), strict=True):
        here = np.ascontiguousarray(offered[at : at + len(moves.slices)])
        done = replayed(world.ask, bed.sections, bed.rings, bed.obstacles, cut, moves.slices, here, moves.heights)
        at += len(moves.slices)
        cost += int(done.passes.sum() + done.metal.sum())
        widest = max([widest, *done.pass_width])
        found.append(done)
    cents, width, length, salvage = (
        np.concatenate([getattr(d, name) for d in found]) for name in ("cents", "width", "length", "salvage")
    )
    return Again(cents, width, length, salvage, cost, float(widest))


def beds(world: World, mill: Mill, script: Script) -> Iterator[tuple[Laid, Cut]]:
    """The log as it lies each time, and what sawn planes leave left and right. Raises CannotSawAgain, NothingLeft."""
    outline, roll, raised = world.outline, script.roll, raised_m(world.log.shape)
    # as `on_bed`: the plane of the bed lies just inside the wood, so that the face on it can be measured
    lift = roll.lift_m - (2.0 * RAISED_M if script.on_own_flat else 0.0)
    down = set_down(*outline, world.centre_z, raised, roll.roll_deg, roll.tip_m, lift, mill.crossbars_m)
    bed, between, on_flat = laid_at(world.log, outline, down), (-inf, inf), script.on_own_flat
    yield bed, whole()
    for before, moves in zip(script.lies, script.lies[1:], strict=False):
        face = int(before.heights[-1]) * mill.step_m
        turn = moves.turn
        if turn == Turn(2, True):
            bed, between, on_flat = laid_over(world.log, bed, face), (-between[1], -between[0]), True
        elif turn == Turn(1, False) and between == (-inf, inf):
            between, on_flat = (-face, 0.0 if on_flat else inf), False
            stood = rested_between(*outline, raised, quarter_turned(bed.to_saw), between, mill.crossbars_m)
            bed = laid_at(world.log, outline, stood)
        else:
            raise CannotSawAgain(f"{world.log.name}: after {turn} it is not known here how the log lies.")
        yield bed, _cut(between)


def _cut(between: Between) -> Cut:
    """The planes, rounded inwards to whole nanometres as chords are."""
    low = -FAR if between[0] == -inf else ceil(between[0] / NM - 1e-6)
    high = FAR if between[1] == inf else floor(between[1] / NM + 1e-6)
    return Cut(low, high)
