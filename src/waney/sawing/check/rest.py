"""How a log finds its rest on the bed: the edge of its lower hull under the centre of mass, bed plane or crossbars."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan2, cos, sin

import numpy as np
from numpy.typing import NDArray

from waney.sawing.check.verdict import Difference, Reason

Array = NDArray[np.float64]

BALANCE_SLACK_M = 0.001
"""A centre of mass this near the end of an edge may lie on either of the two edges: both are held."""


@dataclass(frozen=True, eq=False)
class Underside:
    """The lowest points along the log (k, 2) as (w, v), rising in w, and where along w its centre of mass is."""

    points: Array
    centre_w: float

    def at_crossbars(self, crossbars_m: tuple[float, ...]) -> Underside:
        """Only what lies over a crossbar takes part; all of it when no crossbar is typed in."""
        if not crossbars_m:
            return self
        w, v = self.points[:, 0], self.points[:, 1]
        bars = np.array([bar for bar in sorted(crossbars_m) if w[0] <= bar <= w[-1]])
        held = len(bars) >= 2 and bars[0] - BALANCE_SLACK_M <= self.centre_w <= bars[-1] + BALANCE_SLACK_M
        if not held:
            raise Difference(Reason.REST, "The log's weight does not lie between two crossbars, so nothing holds it.")
        return Underside(np.column_stack([bars, np.interp(bars, w, v)]), self.centre_w)

    def slopes(self) -> tuple[float, ...]:
        """Rise angles [rad] of the hull edges that the centre of mass may lie over, the one nearer the butt first."""
        chain = lower_hull(self.points)
        over = [
            atan2(b[1] - a[1], b[0] - a[0])
            for a, b in pairwise(chain)
            if a[0] - BALANCE_SLACK_M <= self.centre_w <= b[0] + BALANCE_SLACK_M
        ]
        if not over:
            raise Difference(Reason.REST, "No edge of the log's underside lies below its centre of mass.")
        return tuple(over)

    def lowest_when_lifted(self, angle: float) -> float:
        """v of its lowest point once the top is lifted by this angle [rad]."""
        return float(np.min(self.points[:, 1] * cos(angle) + self.points[:, 0] * sin(angle)))


def lower_hull(points: Array) -> list[tuple[float, float]]:
    """The lower convex hull of points (k, 2), from low w to high w."""
    chain: list[tuple[float, float]] = []
    for w, v in sorted((float(w), float(v)) for w, v in points):
        while len(chain) >= 2 and not _turns_up(chain[-2], chain[-1], (w, v)):
            chain.pop()
        chain.append((w, v))
    return chain


def _turns_up(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0


def upside_down(points: Array) -> Array:
    """Upper points made lower ones, so that one hull serves both sides."""
    return np.column_stack([points[:, 0], -points[:, 1]])
