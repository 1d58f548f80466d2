"""Plan: one complete way to saw one log, with what it gives and how good it is known to be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.logs.frames import Placing
from waney.pieces.piece import Piece
from waney.prices.worth import Term, Worth
from waney.sawing.moves import Move
from waney.sawing.outcome.plan_outcome import PlanOutcome
from waney.sawing.wants import Pattern, Tip


class Standing(StrEnum):
    """How much is known about a plan's value on its stated grid."""

    OPTIMAL = "optimal on the stated grid"
    GAP = "best found, gap to the bound stated"
    STOPPED = "stopped early, bound stated"


@dataclass(frozen=True, eq=False)
class PlannedPiece:
    """A piece that the plan gives, in the order it comes off, and the best it can be."""

    piece: Piece
    worth: Worth
    lie: int
    """0 for the first lie on the bed, counted up at every Turn"""
    lower_steps: int
    upper_steps: int | None
    """heights of the passes below and above it in that lie; lower 0 = the bed itself, upper None = nothing above"""
    set_number: int | None = None
    """pieces of one set share a number"""


@dataclass(frozen=True)
class Setting:
    """The one green thickness of a product, term by term [m]; the terms sum to green_m."""

    product: str
    steps: int
    """distance between passes in bed-scale steps, kerf included"""
    green_m: float
    finished_m: float
    planing_m: float
    flattening_m: float
    cup_m: float
    shrinkage_m: float
    sawing_variation_m: float
    rounding_m: float
    share_finishing: float
    """of the slices it could come from"""
    own_setting_saves: float
    """share of the product's wood that a setting for each piece would save"""


@dataclass(frozen=True)
class Grid:
    """Where the search looked: optimality is claimed on this only."""

    step_m: float
    face_step_m: float
    rolls_deg: tuple[float, ...]
    tips: tuple[Tip, ...]
    stations: int
    """places along the log at which edges are known"""


EDGING_SAVED = "edging saved"
"""The term for flitches edged together."""


@dataclass(frozen=True, eq=False)
class Plan:
    """One plan. cents = sum of worths and of `terms`; bound_cents >= cents on the grid.

    The search counts every flitch as edged alone; which stand together is chosen for the pieces found. So cents and bound both
    hold `together_cents`, and none on the grid earns over bound_cents - together_cents while its flitches are edged one by one.
    """

    log: str
    pattern: Pattern
    roll_deg: float
    tip: Tip
    tip_m: float
    lies: tuple[Placing, ...]
    """log frame to saw frame (u, v, w) for each lie; w along the bed, v up, u to the left seen from the butt"""
    moves: tuple[Move, ...]
    pieces: tuple[PlannedPiece, ...]
    settings: tuple[Setting, ...]
    terms: tuple[Term, ...]
    """loading, passes, turns, edging saved, metal: whole cents, costs below zero"""
    cents: int
    bound_cents: int
    standing: Standing
    grid: Grid
    work: int
    """slices judged"""
    seed: int
    together_cents: int = 0
    """what edging flitches together gains over edging each alone: what it saves, less what their widths give up"""
    outcome: PlanOutcome | None = None
    """what its cuts give on the logs that the readings allow; None: not worked out. An estimate: the checker leaves it alone"""

    @property
    def gap_cents(self) -> int:
        """What a better plan on this grid could earn more at most."""
        return self.bound_cents - self.cents
