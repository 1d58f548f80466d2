"""What a page at the mill shows of a plan, as bare values: steps in the order in which it is sawn.

The page counts in whole steps of the bed scale and prints a height by looking it up in `printed`, so that it can count later
heights again where nobody else is in reach.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What is done in a step."""

    ROLL_ON = "roll on"
    CUT = "cut"
    TURN = "turn"
    LEFT = "left on the bed"
    EDGE = "edge"


@dataclass(frozen=True)
class Comes:
    """What comes off: its name in the plan, what it is meant for, its sizes [m], and where it lay in the log.

    kept: a piece to be named; an outside slab is not. at: rotation row by row, then the middle (twelve numbers), or nothing.
    """

    in_plan: str
    kept: bool
    words: str
    product: str = ""
    thickness_m: float | None = None
    length_m: float | None = None
    widths_m: tuple[float, ...] = ()
    at: tuple[float, ...] = ()


@dataclass(frozen=True)
class Step:
    """One step. number: of the cut, from 1 over all lies, and one more for what is left on the bed; 0 for no cut.

    height_steps: bed height in steps of the scale.
    """

    kind: Kind
    lie: int
    words: str
    number: int = 0
    height_steps: int = 0
    comes: Comes | None = None
    weight: str = ""
    heavy: bool = False
    stop: tuple[str, ...] = ()
    """look at the face before the next cut"""
    before: tuple[str, ...] = ()
    """cautions said before it is done"""
    stops_steps: int = 0
    """backstops and clamps must stand below this; where heights are counted again and are lower, so are these"""
    lower_stops: bool = False
    """they may stand higher before this step"""


@dataclass(frozen=True)
class AtMill:
    """A plan for the page at the mill. printed: each height of the bed scale, in steps from 0."""

    log: str
    species: str
    step_m: float
    kerf_m: float
    eighth_steps: int
    """the steps of the scale that are nearest to an eighth of an inch"""
    printed: tuple[tuple[str, str, str, str], ...]
    """whole, numerator, denominator, unit"""
    pith_steps: tuple[tuple[int, int], ...]
    """for each lie, where the pith stands above the bed at the butt and at the top end"""
    steps: tuple[Step, ...]
    cautions: tuple[tuple[str, str], ...] = ()
    """each with the step of the caution table that it belongs to"""
