"""Moves: what the sawyer does, in order. A plan is a tuple of these."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.sawing.wants import Tip


@dataclass(frozen=True)
class PithHeights:
    """How high the first pith stands above the bed where it leaves the log [m]."""

    butt_m: float
    top_m: float


@dataclass(frozen=True)
class RollOn:
    """The log is put on the bed, rolled (clockwise seen from the butt) and tipped. Heights count from the bed."""

    roll_deg: float
    tip: Tip
    tip_m: float
    """lift at the top end beyond the rest it finds by itself; below zero the butt is lifted"""
    lift_m: float = 0.0
    """how far the whole lie stands above the bed because of blocks; 0 when one end still rests on the bed"""
    pith_read: PithHeights | None = None
    """what was read once it lay there; heights are counted from these readings. None: nobody read it"""


@dataclass(frozen=True)
class Turn:
    """What is left is turned on the bed by quarter turns, clockwise seen from the butt, and heights count anew."""

    quarters: int
    """1, 2 or 3"""
    onto_flat: bool
    """True: it lies on a sawn face (height 0 is that face); False: on its bark, sawn face against the backstops"""


@dataclass(frozen=True)
class Pass:
    """One cut: the blade's underside stands at height_steps bed-scale steps above the bed; kerf comes off the piece above."""

    height_steps: int
    comes_off: str
    """name of the piece above the blade, or of the outside slab"""
    backstop_at_most_m: float
    """backstops and clamps must stand below this"""


@dataclass(frozen=True)
class EdgeTogether:
    """Flitches stand on edge side by side, lose their upper live edge in one pass, are set on the sawn edge, and are
    brought to width, widest first."""

    names: tuple[str, ...]
    low_y_up: tuple[bool, ...]
    """for each, whether its low-y edge is the one cut first (upwards)"""
    first_height_steps: int
    then_height_steps: tuple[int, ...]
    """falling; the height at which the flitches of each width are cut after turning"""
    widths_steps: tuple[int, ...]
    """for each flitch, its green width in steps: the pass that finishes it"""


Move = RollOn | Turn | Pass | EdgeTogether


def heights_by_lie(moves: Sequence[Move]) -> tuple[tuple[int, ...], ...]:
    """The heights of the passes of every lie, in order [steps]; a turn leads from one lie to the next."""
    found: list[list[int]] = [[]]
    for move in moves:
        if isinstance(move, Turn):
            found.append([])
        elif isinstance(move, Pass):
            found[-1].append(move.height_steps)
    return tuple(tuple(heights) for heights in found)
