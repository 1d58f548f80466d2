"""Lie: how a log comes to rest on the bed at one roll and tip, and the rigid move from log frame to saw frame.

Saw frame, right-handed, metres: w along the bed from butt to top, v up from the bed, u to the left seen from the butt.
The steps (roll, rest on a hull edge under the centre of mass, tip, shift) are those of docs/design/sawing.md.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, atan2, cos, radians, sin
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing
from waney.logs.shape import LogShape
from waney.logs.volume import balance
from waney.sawing.moves import PithHeights, RollOn
from waney.sawing.wants import Tip

Array = NDArray[np.float64]

RAISED_M = 1e-8
"""A log with flats is laid this much above the bed, half of what its flats are cut deeper: no pass lies in one of them."""


@dataclass(frozen=True)
class Lie:
    """One way a log lies: its roll and named tip, the lift that makes the tip, and log frame -> saw frame."""

    roll_deg: float
    tip: Tip
    tip_m: float
    to_saw: Placing
    lift_m: float = 0.0
    """of the lowest point where it can touch, above the bed"""
    pith_read: PithHeights | None = None

    @property
    def roll_on(self) -> RollOn:
        """How the log comes to lie so."""
        return RollOn(self.roll_deg, self.tip, self.tip_m, self.lift_m, self.pith_read)


def roll_turn(roll_deg: float) -> Array:
    """Turn matrix (3, 3) of a roll, positive = clockwise seen from the butt: u + i v = (x + i y) e^(i roll)."""
    c, s = cos(radians(roll_deg)), sin(radians(roll_deg))
    return np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]])


def level_turn(slope_rad: float) -> Array:
    """Turn matrix about the u axis that makes a line of this slope (dv against dw) level."""
    c, s = cos(slope_rad), sin(slope_rad)
    return np.array([[1.0, 0.0, 0.0], [0.0, c, -s], [0.0, s, c]])


def half_turned(to_saw: Placing, flat_m: float) -> Placing:
    """The lie after a half turn onto a sawn face that stood at height flat_m: u -> -u, v -> flat_m - v."""
    over = placing(np.diag([-1.0, -1.0, 1.0]), np.array([0.0, flat_m, 0.0]))
    return over.after(to_saw)


def quarter_turned(to_saw: Placing) -> Placing:
    """The lie after a quarter turn clockwise seen from the butt, before it finds its rest: (u, v) -> (-v, u)."""
    over = placing(np.array([[0.0, -1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]]), np.zeros(3))
    return over.after(to_saw)


@dataclass(frozen=True)
class Rest:
    """Where a turned log finds its rest: log frame -> saw frame, and across (least, most) where it touches [m]."""

    to_saw: Placing
    touches_u: tuple[float, float]


class Underside(NamedTuple):
    """The lowest points (k,) of a turned log where it can touch the bed: u, w and v [m]."""

    u: Array
    w: Array
    v: Array


def underside(outer: Array, crossbars_m: tuple[float, ...]) -> Underside:
    """The lowest point of every station of outer (n, m, 3), or between them at the crossbars under the log (two or more)."""
    every, low = np.arange(len(outer)), outer[:, :, 1].argmin(axis=1)
    u, v, w = outer[every, low].T
    return at_crossbars(Underside(u, w, v), crossbars_m)


def at_crossbars(under: Underside, crossbars_m: tuple[float, ...]) -> Underside:
    """The same at the crossbars below it, when there are two or more."""
    at = np.array([c for c in crossbars_m if under.w[0] <= c <= under.w[-1]])
    if len(at) < 2:
        return under
    return Underside(np.interp(at, under.w, under.u), at, np.interp(at, under.w, under.v))


def rested(shape: LogShape, turned: Placing, crossbars_m: tuple[float, ...] = ()) -> Rest:
    """Let a turned log down onto its bark: level about u on the hull edge under its centre of mass, lowest point at v = 0."""
    under = underside(turned.there(shape.surface(bark=True)), crossbars_m)
    a, b = supporting_edge(under.w, under.v, float(turned.there(np.array(balance(shape, bark=True)))[2]))
    slope = atan2(under.v[b] - under.v[a], under.w[b] - under.w[a])
    touches = sorted((float(under.u[a]), float(under.u[b])))
    return Rest(let_down(shape.surface(bark=False)[0], turned, slope, under, raised_m(shape)), (touches[0], touches[1]))


def raised_m(shape: LogShape) -> float:
    """How far above the bed a log is laid: see RAISED_M."""
    return 0.0 if shape.angle_rad is None else RAISED_M


def let_down(butt: Array, turned: Placing, slope: float, under: Underside, raised_m: float) -> Placing:
    """Level a slope, put the lowest touching point at v = raised_m and the hindmost wood of the butt (m, 3) at w = 0."""
    level = placing(level_turn(slope), np.zeros(3)).after(turned)
    lowest = float((under.v * cos(slope) - under.w * sin(slope)).min()) - raised_m
    butt_w = float(level.there(butt)[:, 2].min())
    return placing(np.eye(3), np.array([0.0, -lowest, -butt_w])).after(level)


def lies(
    shape: LogShape, rolls_deg: Sequence[float], tips: tuple[Tip, ...], crossbars_m: tuple[float, ...] = ()
) -> tuple[Lie, ...]:
    """The lies of a log, roll by roll, one for each named tip."""
    centre_w = balance(shape, bark=True)[2]
    return tuple(lie for roll in rolls_deg for lie in _at_roll(shape, roll, tips, crossbars_m, centre_w))


def _at_roll(
    shape: LogShape, roll_deg: float, tips: tuple[Tip, ...], crossbars_m: tuple[float, ...], centre_w: float
) -> tuple[Lie, ...]:
    turn = roll_turn(roll_deg)
    rolled = placing(turn, np.zeros(3))
    outer = shape.surface(bark=True) @ turn.T
    under = underside(outer, crossbars_m)
    rest = supporting_slope(under.w, under.v, centre_w)
    slopes = {
        Tip.AS_IT_LIES: rest,
        Tip.PITH: pith_slope(shape, turn),
        Tip.BARK: supporting_slope(outer[:, 0, 2], -outer[:, :, 1].max(axis=1), centre_w, mirrored=True),
    }
    length, butt, raised = shape.length_m, shape.surface(bark=False)[0], raised_m(shape)
    return tuple(
        Lie(roll_deg, tip, length * sin(rest - slopes[tip]), let_down(butt, rolled, slopes[tip], under, raised)) for tip in tips
    )


def set_down(
    wood: Array,
    bark: Array,
    centre_z: float,
    raised_m: float,
    roll_deg: float,
    tip_m: float,
    lift_m: float = 0.0,
    crossbars_m: tuple[float, ...] = (),
) -> Placing:
    """Log frame to saw frame of a log that is rolled, finds its own rest, and is lifted from there by heights, as a card says.

    wood, bark (n, m, 3): its surfaces, log frame; centre_z: its centre of mass along it; raised_m: see RAISED_M.
    """
    turn = roll_turn(roll_deg)
    under = underside(bark @ turn.T, crossbars_m)
    rest = supporting_slope(under.w, under.v, centre_z)
    down = let_down(wood[0], placing(turn, np.zeros(3)), rest - asin(tip_m / float(bark[-1, 0, 2])), under, raised_m)
    return placing(np.eye(3), np.array([0.0, lift_m, 0.0])).after(down)


def supporting_slope(w: Array, v: Array, centre_w: float, *, mirrored: bool = False) -> float:
    """Slope [rad] of the lower-hull edge that lies under the centre of mass; profile w, v of shape (n,).

    `mirrored`: v was handed in upside down (for the upper surface), so the slope is turned back.
    """
    a, b = supporting_edge(w, v, centre_w)
    slope = atan2(v[b] - v[a], w[b] - w[a])
    return -slope if mirrored else slope


def supporting_edge(w: Array, v: Array, centre_w: float) -> tuple[int, int]:
    """Indices of the two ends of the lower-hull edge whose span holds the centre of mass; the edge nearer the butt on ties."""
    hull = lower_hull(w, v)
    i = int(np.clip(np.searchsorted(w[hull], centre_w, side="left") - 1, 0, len(hull) - 2))
    return hull[i], hull[i + 1]


def lower_hull(w: Array, v: Array) -> list[int]:
    """Indices of the lower convex hull of points with rising w."""
    hull: list[int] = []
    for i in range(len(w)):
        while len(hull) > 1 and _not_below(w, v, hull[-2], hull[-1], i):
            hull.pop()
        hull.append(i)
    return hull


def _not_below(w: Array, v: Array, a: int, b: int, c: int) -> bool:
    cross = (w[b] - w[a]) * (v[c] - v[a]) - (v[b] - v[a]) * (w[c] - w[a])
    return bool(cross <= 0.0)


def pith_slope(shape: LogShape, turn: Array) -> float:
    """Slope [rad] in the saw frame of the straight line through the first pith at both ends."""
    ends = shape.rings.pith_ends() @ turn.T
    rise = ends[1] - ends[0]
    return atan2(rise[1], rise[2])
