"""As read: the lie that two pith heights fix, and what the bed then leaves of the log (docs/design/sawing.md).

Written a second time from the design: the search has its own.
"""

from __future__ import annotations

from dataclasses import replace
from math import asin, atan2, hypot

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing
from waney.logs.shape import LogShape
from waney.sawing.check.left import Left
from waney.sawing.check.lie import lifted, rolled, settled, underside
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.moves import PithHeights, RollOn

Array = NDArray[np.float64]

SLACK_M = 1e-6
STEEPEST = 0.2


def readings_of(move: RollOn) -> PithHeights:
    """The heights that a lie as read must name."""
    if move.pith_read is None:
        raise Difference(Reason.TIP, f"The log lies '{move.tip.value}', but no heights of the pith are given.")
    return move.pith_read


def as_read(shape: LogShape, move: RollOn, crossbars_m: tuple[float, ...]) -> tuple[LogShape, Placing]:
    """What the bed leaves of the log, and where that lies."""
    read = readings_of(move)
    angle = _angle(shape, move.roll_deg, read)
    turn = lifted(angle) @ rolled(move.roll_deg)
    rise = read.butt_m - float(turn[1] @ _pith(shape, 0.0))
    below = underside(Left(shape), rolled(move.roll_deg), np.zeros(3)).at_crossbars(crossbars_m)
    deepest = below.lowest_when_lifted(angle) + rise
    left = _without_what_is_in_the_bed(shape, turn, rise, -deepest) if deepest < -SLACK_M else shape
    return left, settled(left, turn, np.zeros(3), rise)


def _pith(shape: LogShape, z: float) -> Array:
    x, y = shape.rings.section(z)[0][0]
    return np.array([x, y, z])


def _angle(shape: LogShape, roll_deg: float, read: PithHeights) -> float:
    """How far the top of the rolled log is lifted [rad]."""
    _, up, along = rolled(roll_deg) @ (_pith(shape, shape.length_m) - _pith(shape, 0.0))
    share = (read.top_m - read.butt_m) / hypot(up, along)
    if abs(share) > STEEPEST:
        raise Difference(Reason.TIP, "The pith heights that were read are too far apart for this log.")
    return asin(share) - atan2(up, along)


def _without_what_is_in_the_bed(shape: LogShape, turn: Array, rise: float, deep_m: float) -> LogShape:
    """Station by station, point by point: what lies under the station's floor is drawn back towards its middle."""
    reach, wood = shape.radius_m + shape.bark_m, np.array(shape.radius_m)
    outer = np.array(reach)
    over, under = (shape.surface(bark=bark) @ turn[1] + rise for bark in (True, False))
    for i, z in enumerate(shape.z_m):
        middle = float(turn[1] @ np.array([*shape.centre_m[i], z])) + rise
        floor = min(0.0, float(np.min(over[i])) + deep_m)
        if middle <= floor:
            raise Difference(Reason.REST, f"At {z:.3f} m the middle of the log would lie in the bed.")
        for j in range(shape.directions):
            if over[i, j] < floor:
                outer[i, j] = reach[i, j] * (middle - floor) / (middle - over[i, j])
            if under[i, j] < floor:
                wood[i, j] = shape.radius_m[i, j] * (middle - floor) / (middle - under[i, j])
    return replace(shape, radius_m=wood, bark_m=np.maximum(outer - wood, 0.0))
