"""A figure that is not known exactly: likely, low, high, and where it comes from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import inf, isfinite

from waney.figures.problem import Problem

Z_95 = 1.645
"""Standard normal deviate of the 95 % point, as design section 3 fixes it."""


class Ground(StrEnum):
    """What kind of thing a figure stands on."""

    SOURCE = "source"
    """a published table or equation: `key` is a row of `data/sources.csv`"""
    READING = "reading"
    """somebody measured it: `key` names the instrument"""
    HISTORY = "history"
    """the shop's own record: `key` says of what and how many"""
    DEFAULT = "default"
    """ours: common practice, no source"""


@dataclass(frozen=True)
class Basis:
    """Where a figure comes from, short enough to print beside it."""

    ground: Ground
    key: str
    note: str = ""

    def __str__(self) -> str:
        words = {
            Ground.SOURCE: self.key,
            Ground.READING: f"read with {self.key}",
            Ground.HISTORY: f"own record: {self.key}",
            Ground.DEFAULT: "common practice, no source",
        }[self.ground]
        return f"{words} ({self.note})" if self.note else words


class BadEstimate(Problem):
    """The three points of an estimate are not in order, or lie outside its hard limits."""


@dataclass(frozen=True)
class Estimate:
    """A figure with its 5, 50 and 95 % points, and limits that it can never pass.

    All five numbers share one SI unit, named by the field that holds the estimate.
    Raises BadEstimate unless hard_min <= low <= likely <= high <= hard_max, all of low..high finite.
    """

    likely: float
    low: float
    high: float
    basis: Basis
    hard_min: float = -inf
    hard_max: float = inf

    def __post_init__(self) -> None:
        ordered = self.hard_min <= self.low <= self.likely <= self.high <= self.hard_max
        if not (ordered and isfinite(self.low) and isfinite(self.high)):
            raise BadEstimate(
                f"low {self.low:g}, likely {self.likely:g}, high {self.high:g} must rise in that order "
                f"and stay within {self.hard_min:g} to {self.hard_max:g}."
            )

    @classmethod
    def known(cls, value: float, basis: Basis) -> Estimate:
        """A figure without doubt: all three points are the same."""
        return cls(value, value, value, basis)

    @property
    def width(self) -> float:
        """From the 5 to the 95 % point, same unit."""
        return self.high - self.low

    def at(self, z: float) -> float:
        """The figure at the standard normal draw z: design section 3, clipped to the hard limits.

        >>> e = Estimate(10.0, 8.0, 11.0, Basis(Ground.DEFAULT, ""))
        >>> e.at(0), e.at(1.645), e.at(-1.645)
        (10.0, 11.0, 8.0)
        """
        spread = self.high - self.likely if z > 0 else self.likely - self.low
        return min(max(self.likely + z * spread / Z_95, self.hard_min), self.hard_max)

    def narrowed(self, half_width: float, basis: Basis) -> Estimate:
        """The same figure read again with an instrument good to +-half_width (90 % of the time), same unit."""
        low = max(self.likely - half_width, self.hard_min)
        high = min(self.likely + half_width, self.hard_max)
        return replace(self, low=low, high=high, basis=basis)


def around(found: Sequence[Estimate]) -> Estimate:
    """As wide as all of them together, whichever of them is so; the likely value is the mean of theirs, the basis the first's."""
    likely = sum(one.likely for one in found) / len(found)
    return replace(found[0], likely=likely, low=min(one.low for one in found), high=max(one.high for one in found))
