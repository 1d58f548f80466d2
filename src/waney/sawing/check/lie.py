"""Lies: where the log frame goes on the bed, derived anew from roll, rest, tip and turns (docs/design/sawing.md)."""

from __future__ import annotations

from collections.abc import Iterator
from math import asin, atan2, cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing
from waney.logs.shape import LogShape
from waney.sawing.check.left import Left
from waney.sawing.check.rest import Underside, upside_down
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.moves import RollOn
from waney.sawing.wants import Tip

Array = NDArray[np.float64]
QUARTER = np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
"""(u, v) -> (-v, u): a quarter turn clockwise seen from the butt"""


def rolled(roll_deg: float) -> Array:
    """Log frame to bed frame before it rests (3, 3): clockwise seen from the butt, where x is on the left."""
    c, s = cos(radians(roll_deg)), sin(radians(roll_deg))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def lifted(angle: float) -> Array:
    """The top end lifted about the u axis (3, 3), angle in radians."""
    c, s = cos(angle), sin(angle)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, s], [0.0, -s, c]])


def underside(left: Left, turn: Array, shift: Array) -> Underside:
    """Lowest points of what is left, once turned (3, 3) and shifted (3,), at the shape's stations."""
    outlines = [outline @ turn.T + shift for outline in left.outlines if len(outline)]
    lowest = np.array([outline[int(np.argmin(outline[:, 1]))][[2, 1]] for outline in outlines])
    _, centre_z = left.volume_and_centre_z()
    z = [float(outline[0, 2]) for outline in left.outlines if len(outline)]
    return Underside(lowest, float(np.interp(centre_z, z, lowest[:, 0])))


def named_tips_m(shape: LogShape, roll_deg: float, rest_slope: float, tip: Tip) -> tuple[float, ...]:
    """Lift at the top end that a named tip needs beyond the rest [m]; more than one only for a log that balances."""
    match tip:
        case Tip.AS_IT_LIES:
            level: tuple[float, ...] = (rest_slope,)
        case Tip.PITH:
            level = (_pith_slope(shape, roll_deg),)
        case Tip.BARK:
            level = _upper_slopes(shape, roll_deg)
        case Tip.AS_READ:
            raise Difference(Reason.TIP, "The lie as read is no lie of its own: it needs the heights of the pith.")
    return tuple(sin(rest_slope - slope) * shape.length_m for slope in level)


def _pith_slope(shape: LogShape, roll_deg: float) -> float:
    ends = [shape.rings.section(z)[0][0] for z in (0.0, shape.length_m)]
    up = rolled(roll_deg)[1, :2]
    return atan2(float(up @ (ends[1] - ends[0])), shape.length_m)


def _upper_slopes(shape: LogShape, roll_deg: float) -> tuple[float, ...]:
    over = np.max(shape.surface(bark=True) @ rolled(roll_deg)[1], axis=1)
    _, centre = Left(shape).volume_and_centre_z()
    return tuple(-slope for slope in Underside(upside_down(np.column_stack([shape.z_m, over])), centre).slopes())


def rest_slopes(shape: LogShape, roll_deg: float, crossbars_m: tuple[float, ...]) -> tuple[float, ...]:
    """Slopes of the rests that the rolled log may find [rad]; more than one only when it balances on a corner."""
    return underside(Left(shape), rolled(roll_deg), np.zeros(3)).at_crossbars(crossbars_m).slopes()


def lie_of(shape: LogShape, move: RollOn, rest_slope: float, crossbars_m: tuple[float, ...]) -> Placing:
    """Log frame to saw frame after this roll, rest and tip."""
    angle = asin(move.tip_m / shape.length_m) - rest_slope
    turn = rolled(move.roll_deg)
    below = underside(Left(shape), turn, np.zeros(3)).at_crossbars(crossbars_m)
    return settled(shape, lifted(angle) @ turn, np.zeros(3), move.lift_m - below.lowest_when_lifted(angle))


def turned_onto_flat(left: Left, lie: Placing, quarters: int) -> Placing:
    """The lie on the sawn face that points down after so many quarter turns; that face is at v = 0."""
    spun = _spun(lie, quarters)
    facing = [plane.seen_from(spun) for plane in left.planes]
    floors = [-plane.reach for plane in facing if plane.outward[1] < -1 + 1e-9]
    if not floors:
        raise Difference(Reason.TURN, f"After {quarters} quarter turns no sawn face points down for it to lie on.")
    return placing(np.array(spun.turn), np.array(spun.shift) - np.array([0.0, max(floors), 0.0]))


def _spun(lie: Placing, quarters: int) -> Placing:
    return placing(np.linalg.matrix_power(QUARTER, quarters), np.zeros(3)).after(lie)


def turned_onto_bark(left: Left, lie: Placing, quarters: int, crossbars_m: tuple[float, ...]) -> Iterator[Placing]:
    """The lies that what is left may find when it is turned by quarters and rests on its bark again."""
    spun = _spun(lie, quarters)
    turn, shift = np.array(spun.turn), np.array(spun.shift)
    below = underside(left, turn, shift).at_crossbars(crossbars_m)
    for slope in below.slopes():
        lift = lifted(-slope)
        if crossbars_m:
            lowest = below.lowest_when_lifted(-slope)
        else:
            lowest = min(float(np.min((outline @ turn.T + shift) @ lift[1])) for outline in left.outlines if len(outline))
        yield settled(left.shape, lift @ turn, lift @ shift, -lowest)


def settled(shape: LogShape, turn: Array, shift: Array, rise: float) -> Placing:
    """Raised by `rise`, and slid along the bed until the butt's hindmost wood point is at w = 0; u unshifted."""
    butt = shape.surface(bark=False)[0] @ turn[2] + shift[2]
    return placing(turn, shift + np.array([0.0, rise, -float(np.min(butt))]))


def furthest_apart(shape: LogShape, a: Placing, b: Placing) -> float:
    """How far any point of the log's surface differs between two placings [m]."""
    points = shape.surface(bark=True)
    return float(np.max(np.linalg.norm(a.there(points) - b.there(points), axis=-1)))
