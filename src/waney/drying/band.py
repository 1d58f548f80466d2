"""Band: moisture or weight by days, as the range in which nine in ten lie; narrow where something was read, wide ahead of it.

n: particles, t: days, m: points in time. Shares of particles sum to 1.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

POINTS = (0.05, 0.5, 0.95)
MOST_POINTS = 97


@dataclass(frozen=True)
class Band:
    """Days from the start, and 5, 50 and 95 % there, each (m,)."""

    days: Array
    low: Array
    likely: Array
    high: Array

    def on(self, day: float) -> tuple[float, float, float]:
        """Low, likely and high on a day; beyond its ends what stands there."""
        low, likely, high = (float(np.interp(day, self.days, one)) for one in (self.low, self.likely, self.high))
        return low, likely, high


def days_of(last: float) -> Array:
    """Whole days from 0 to the last, at most MOST_POINTS of them, (m,)."""
    return np.unique(np.round(np.linspace(0.0, float(ceil(last)), MOST_POINTS)))


def band(daily: Array, shares: Array, days: Array, *, last: float = 0.0, stretch: Array | None = None) -> Band:
    """Range of particles by days. daily: a value for every particle at every whole day, (n, t); stretch: by which the time
    after `last` is longer or shorter, each as likely as the next."""
    stretches = np.ones(1) if stretch is None else stretch
    values = np.concatenate([_at(daily, np.where(days > last, last + (days - last) / one, days)) for one in stretches])
    each = np.tile(shares / stretches.size, stretches.size)
    low, likely, high = np.array([weighted(column, each) for column in values.T]).T
    return Band(days, low, likely, high)


def _at(daily: Array, days: Array) -> Array:
    """Values between whole days by straight lines, (n, m)."""
    at = np.clip(days, 0.0, daily.shape[1] - 1.0)
    whole = np.minimum(at.astype(int), daily.shape[1] - 2)
    part = at - whole
    return np.asarray(daily[:, whole] * (1.0 - part) + daily[:, whole + 1] * part)


def widened(made: Band, share: Array) -> Band:
    """A band with a further error, 1.645 standard deviations of it as a share of the likely value, (m,)."""
    more = share * made.likely
    low, high = np.hypot(made.likely - made.low, more), np.hypot(made.high - made.likely, more)
    return Band(made.days, made.likely - low, made.likely, made.likely + high)


def weighted(values: Array, shares: Array) -> tuple[float, float, float]:
    """5, 50 and 95 % of weighted values."""
    order = np.argsort(values, kind="stable")
    middles = np.cumsum(shares[order]) - 0.5 * shares[order]
    low, likely, high = (float(np.interp(point, middles, values[order])) for point in POINTS)
    return low, likely, high


def around(bands: Sequence[Band]) -> Band:
    """The range that holds all of several: whichever of them is so."""
    days = days_of(max(float(one.days[-1]) for one in bands))
    ends = [np.array([np.interp(days, one.days, getattr(one, name)) for one in bands]) for name in ("low", "likely", "high")]
    return Band(days, ends[0].min(axis=0), ends[1].mean(axis=0), ends[2].max(axis=0))
