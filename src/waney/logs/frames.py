"""Log frame, clock positions, the two end views, and rigid placings between frames.

The log frame is right-handed, in metres: z from the butt (0) to the top along the line through the two end centres;
seen from the butt looking up the stem, y points to 12 o'clock and x to 9 o'clock (left). `clock_to_xy`, `butt_view`
and `top_view` are the only places that turn one of clock, butt drawing and top drawing into another.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, radians, sin

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def clock_to_xy(clock_h: float, distance_m: float) -> tuple[float, float]:
    """Log-frame x, y [m] of a point at a clock position (0..12 h, always the butt's) and a distance from the axis.

    >>> [round(c, 9) + 0.0 for c in clock_to_xy(3, 1.0)]        # 3 o'clock is on the right, where x is negative
    [-1.0, 0.0]
    """
    angle = radians(90.0 + 30.0 * clock_h)
    return distance_m * cos(angle), distance_m * sin(angle)


def xy_to_clock(x_m: float, y_m: float) -> float:
    """The clock position, 0 < h <= 12, of a log-frame point; the inverse of `clock_to_xy`."""
    hours = ((degrees(atan2(y_m, x_m)) - 90.0) / 30.0) % 12.0
    return hours if hours > 1e-9 else 12.0


def butt_view(x_m: float, y_m: float) -> tuple[float, float]:
    """Right and up on a drawing of the butt end [m]: x runs to the left."""
    return -x_m, y_m


def top_view(x_m: float, y_m: float) -> tuple[float, float]:
    """Right and up on a drawing of the top end [m], as someone facing it sees it: x runs to the right."""
    return x_m, y_m


@dataclass(frozen=True)
class Placing:
    """A rigid move from one frame to another: there = turn @ here + shift [m]."""

    turn: tuple[tuple[float, float, float], tuple[float, float, float], tuple[float, float, float]]
    shift: tuple[float, float, float]

    def there(self, points: Array) -> Array:
        """Points, shape (..., 3), carried into the other frame."""
        moved: Array = points @ np.array(self.turn).T + np.array(self.shift)
        return moved

    def back(self, points: Array) -> Array:
        """Points of the other frame, shape (..., 3), carried home."""
        home: Array = (points - np.array(self.shift)) @ np.array(self.turn)
        return home

    def inverse(self) -> Placing:
        """The move in the other direction."""
        turn = np.array(self.turn)
        return placing(turn.T, -turn.T @ np.array(self.shift))

    def after(self, first: Placing) -> Placing:
        """`first`, then this one."""
        turn = np.array(self.turn)
        return placing(turn @ np.array(first.turn), turn @ np.array(first.shift) + np.array(self.shift))


def placing(turn: Array, shift: Array) -> Placing:
    """A Placing from arrays of shape (3, 3) and (3,)."""
    rows = tuple((float(a), float(b), float(c)) for a, b, c in turn)
    return Placing((rows[0], rows[1], rows[2]), (float(shift[0]), float(shift[1]), float(shift[2])))
