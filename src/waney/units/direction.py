"""Direction: which way a figure is rounded when it is counted or printed."""

from __future__ import annotations

from enum import StrEnum
from math import ceil, floor, isfinite

from waney.units.written import Unreadable


class Direction(StrEnum):
    """What the figure is for. Stock must not be overstated, a need not understated."""

    HAVE = "have"
    """down"""
    NEED = "need"
    """up"""
    READ = "read"
    """to the nearest, half up"""

    def whole(self, count: float, slack: float) -> int:
        """A count as a whole number. What lies within `slack` of a whole one is that one: floats carry dust.

        Raises Unreadable for a count that is not finite.
        """
        if not isfinite(count):
            raise Unreadable(f"A figure came out as {count}; it cannot be counted or printed.")
        if self is Direction.HAVE:
            return floor(count + slack)
        if self is Direction.NEED:
            return ceil(count - slack)
        return floor(count + 0.5 + slack)
