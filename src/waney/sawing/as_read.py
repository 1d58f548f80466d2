"""As read: where a log lies whose pith was measured above the bed at both ends (docs/design/sawing.md, "The lie as read").

The readings rule: the log is turned about the u axis and raised until both are met. Where the shape would then reach into the
bed, it is the shape that is wrong (bark that gave way, a bump): as much is taken off its underside.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import asin, cos, hypot, inf, sin

import numpy as np
from numpy.typing import NDArray

from waney.figures.problem import Problem
from waney.logs.frames import Placing, placing
from waney.logs.shape import LogShape
from waney.logs.volume import balance
from waney.sawing.lie import Lie, Underside, level_turn, pith_slope, roll_turn, supporting_slope, underside
from waney.sawing.moves import PithHeights
from waney.sawing.wants import Tip
from waney.units.direction import Direction
from waney.units.length import Grain, print_length

Array = NDArray[np.float64]

STEEPEST = 0.2
"""Rise of the pith for its length; nobody saws a log that leans by a fifth. Common practice, no source."""
DEEPEST = 0.5
"""Share of what lies under the middle of the log; a reading that would put more of it in the bed is none."""
TOUCHES_M = 1e-6
"""What is deeper in the bed than this is taken off."""


class ReadingCannotBe(Problem):
    """This log cannot lie so that both pith heights are as they were read."""


@dataclass(frozen=True, eq=False)
class AsRead:
    """The log as it can be and as it lies; sunk_m: how deep its likely shape would reach into the bed."""

    shape: LogShape
    lie: Lie
    sunk_m: float


def as_read(shape: LogShape, roll_deg: float, read: PithHeights, crossbars_m: tuple[float, ...] = ()) -> AsRead:
    """Lay a rolled log down by its two pith heights. Raises ReadingCannotBe."""
    turn = roll_turn(roll_deg)
    slope = _slope(shape, turn, read)
    level = placing(level_turn(slope) @ turn, np.zeros(3))
    rise = read.butt_m - float(level.there(shape.rings.pith_ends()[0])[1])
    raised = placing(np.eye(3), np.array([0.0, rise, 0.0])).after(level)
    _see_that_it_hangs_low(shape, raised)
    lowest = _lowest(_under(shape, turn, crossbars_m), slope) + rise
    left = shape if lowest > -TOUCHES_M else _cut_back(shape, raised, -lowest)
    return AsRead(left, _lie(left, roll_deg, slope, rise, read, crossbars_m), max(0.0, -lowest))


def pith_heights(shape: LogShape, to_saw: Placing) -> PithHeights:
    """Pith heights above the bed in a lie."""
    butt, top = to_saw.there(shape.rings.pith_ends())[:, 1]
    return PithHeights(float(butt), float(top))


def _slope(shape: LogShape, turn: Array, read: PithHeights) -> float:
    """The slope [rad] of the rolled log that is level where it lies."""
    butt, top = shape.rings.pith_ends() @ turn.T
    rise = top - butt
    length = hypot(float(rise[1]), float(rise[2]))
    share = (read.top_m - read.butt_m) / length
    if abs(share) > STEEPEST:
        raise ReadingCannotBe(
            f"The pith heights {in_both(read.butt_m)} at the butt and {in_both(read.top_m)} at the top are too far apart "
            f"for a pith {in_both(length)} long; read both again from the bed to the pith."
        )
    return pith_slope(shape, turn) - asin(share)


def _see_that_it_hangs_low(shape: LogShape, raised: Placing) -> None:
    """No end stands higher over the bed than it is thick."""
    outer = raised.there(shape.surface(bark=True))[:, :, 1]
    for name, end in (("butt", 0), ("top", -1)):
        low, high = float(outer[end].min()), float(outer[end].max())
        if low > high - low:
            raise ReadingCannotBe(
                f"By these readings the {name} end would hang {in_both(low)} above the bed, more than it is thick; "
                "read the pith again: from the bed, not from the floor or the rail."
            )


def _under(shape: LogShape, turn: Array, crossbars_m: tuple[float, ...]) -> Underside:
    return underside(shape.surface(bark=True) @ turn.T, crossbars_m)


def _lowest(under: Underside, slope: float) -> float:
    """v of the lowest place where it can touch, once this slope is level [m]."""
    return float((under.v * cos(slope) - under.w * sin(slope)).min())


def _cut_back(shape: LogShape, raised: Placing, sunk_m: float) -> LogShape:
    """Every station's underside taken off by what the deepest place is in the bed, up to the bed at most: the outline points
    that lie lower are drawn back towards the middle of their station."""
    centre = raised.there(np.column_stack([shape.centre_m, shape.z_m]))[:, 1]
    outer = raised.there(shape.surface(bark=True))[:, :, 1]
    floor = np.minimum(0.0, outer.min(axis=1) + sunk_m)
    if sunk_m > DEEPEST * float((centre - outer.min(axis=1)).min()):
        raise ReadingCannotBe(
            f"By these readings the log would lie {in_both(sunk_m)} deep in the bed; read both pith heights again: from the bed, "
            "or from the top of the crossbars where the log lies on them."
        )
    kept = _share_left(outer, centre, floor)
    wood = shape.radius_m * _share_left(raised.there(shape.surface(bark=False))[:, :, 1], centre, floor)
    bark = np.maximum((shape.radius_m + shape.bark_m) * kept - wood, 0.0)
    return replace(shape, radius_m=wood, bark_m=np.where(kept < 1.0, bark, shape.bark_m))


def _share_left(v: Array, centre: Array, floor: Array) -> Array:
    """How much of each ray from the middle stays over the floor of its station; v (n, m), centre and floor (n,)."""
    room = np.broadcast_to((centre - floor)[:, None], v.shape)
    drop = centre[:, None] - v
    return np.divide(room, drop, out=np.ones_like(v), where=drop > room)


def _lie(shape: LogShape, roll_deg: float, slope: float, rise: float, read: PithHeights, crossbars_m: tuple[float, ...]) -> Lie:
    """The lie, told by heights too: what the top is lifted beyond the log's own rest, and how high the whole stands."""
    turn = roll_turn(roll_deg)
    level = placing(level_turn(slope) @ turn, np.zeros(3))
    butt_w = float(level.there(shape.surface(bark=False)[0])[:, 2].min())
    under = _under(shape, turn, crossbars_m)
    rest = supporting_slope(under.w, under.v, balance(shape, bark=True)[2])
    tip_m = shape.length_m * sin(rest - slope)
    to_saw = placing(np.eye(3), np.array([0.0, rise, -butt_w])).after(level)
    return Lie(roll_deg, Tip.AS_READ, tip_m, to_saw, _lowest(under, slope) + rise, read)


def in_both(metres: float) -> str:
    """A height in both units: it is not known here in which it was read."""
    return f"{metres * 1000:.0f} mm ({print_length(metres, Grain.EIGHTH_INCH, Direction.READ, feet_from_m=inf)})"
