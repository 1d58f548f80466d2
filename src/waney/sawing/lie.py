"""Lie: how a log comes to rest on the bed at one roll and tip, and the rigid move from log frame to saw frame.

Saw frame, right-handed, metres: w along the bed from butt to top, v up from the bed, u to the left seen from the butt.
The steps (roll, rest on a hull edge under the centre of mass, tip, shift) are those of docs/design/sawing.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing
from waney.logs.shape import LogShape
from waney.logs.volume import balance
from waney.sawing.wants import Tip

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Lie:
    """One way a log lies: its roll and named tip, the lift that makes the tip, and log frame -> saw frame."""

    roll_deg: float
    tip: Tip
    tip_m: float
    to_saw: Placing


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


def rested(shape: LogShape, turned: Placing, crossbars_m: tuple[float, ...] = ()) -> Rest:
    """Let a turned log down onto its bark: level about u on the hull edge under its centre of mass, lowest point at v = 0."""
    outer = turned.there(shape.surface(bark=True))
    w, v = outer[:, 0, 2], outer[:, :, 1]
    low = v.argmin(axis=1)
    centre_w = float(turned.there(np.array(balance(shape, bark=True)))[2])
    every = np.arange(len(low))
    w, v = outer[every, low, 2], outer[every, low, 1]
    touch_w, touch_v = at_crossbars(w, v, crossbars_m)
    a, b = supporting_edge(touch_w, touch_v, centre_w)
    slope = atan2(touch_v[b] - touch_v[a], touch_w[b] - touch_w[a])
    level = placing(level_turn(slope), np.zeros(3)).after(turned)
    lying = level.there(shape.surface(bark=True))
    butt_w = float(level.there(shape.surface(bark=False)[0])[:, 2].min())
    down = placing(np.eye(3), np.array([0.0, -_lowest_touching(lying, crossbars_m), -butt_w]))
    ends = np.interp([touch_w[a], touch_w[b]], w, outer[every, low, 0])
    return Rest(down.after(level), (float(ends.min()), float(ends.max())))


def lies(shape: LogShape, roll_deg: float, tips: tuple[Tip, ...], crossbars_m: tuple[float, ...] = ()) -> tuple[Lie, ...]:
    """The lies of a log at one roll, one for each named tip."""
    turn = roll_turn(roll_deg)
    outer = shape.surface(bark=True) @ turn.T
    centre_w = balance(shape, bark=True)[2]
    profile = outer[:, 0, 2]
    under = outer[:, :, 1].min(axis=1)
    rest = supporting_slope(*at_crossbars(profile, under, crossbars_m), centre_w)
    slopes = {
        Tip.AS_IT_LIES: rest,
        Tip.PITH: pith_slope(shape, turn),
        Tip.BARK: supporting_slope(profile, -outer[:, :, 1].max(axis=1), centre_w, mirrored=True),
    }
    return tuple(_lie(shape, outer, turn, roll_deg, tip, rest, slopes[tip], crossbars_m) for tip in tips)


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


def at_crossbars(w: Array, v: Array, crossbars_m: tuple[float, ...]) -> tuple[Array, Array]:
    """The underside where it can touch: at the crossbars under the log (two or more), else everywhere."""
    touching = np.array([c for c in crossbars_m if w[0] <= c <= w[-1]])
    return (touching, np.interp(touching, w, v)) if len(touching) > 1 else (w, v)


def pith_slope(shape: LogShape, turn: Array) -> float:
    """Slope [rad] in the saw frame of the straight line through the first pith at both ends."""
    rings = shape.rings
    ends = np.column_stack([rings.pith_m[0][[0, -1]], rings.z_m[[0, -1]]]) @ turn.T
    rise = ends[1] - ends[0]
    return atan2(rise[1], rise[2])


def _lie(
    shape: LogShape,
    outer: Array,
    turn: Array,
    roll_deg: float,
    tip: Tip,
    rest: float,
    slope: float,
    crossbars_m: tuple[float, ...],
) -> Lie:
    level = level_turn(slope)
    lying = outer @ level.T
    butt_w = (shape.surface(bark=False)[0] @ turn.T @ level.T)[:, 2].min()
    shift = np.array([0.0, -_lowest_touching(lying, crossbars_m), -butt_w])
    return Lie(roll_deg, tip, shape.length_m * sin(rest - slope), placing(level @ turn, shift))


def _lowest_touching(lying: Array, crossbars_m: tuple[float, ...]) -> float:
    low = lying[:, :, 1].argmin(axis=1)
    every = np.arange(len(low))
    _, v = at_crossbars(lying[every, low, 2], lying[every, low, 1], crossbars_m)
    return float(v.min())
