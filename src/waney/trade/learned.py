"""Learned: the shop's own record takes the place of a figure that was typed or built in, the more of it there is.

Weight of the own record w = n / (n + k): Bühlmann's credibility, which is the best linear weight when k is how much single cases
vary against how much shops differ. k is ours, because nobody knows how much shops differ.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite, sqrt

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.units.share import print_share

SOURCE = "buhlmann-1967"
HALF_AT = 5.0
"""k: with five of its own cases the shop's record counts half. Ours, no source."""
ALONE_FROM = 3
"""so many own cases stand by themselves where nothing is typed or built in. Ours, no source."""


class BadRecord(Problem):
    """A record that no figure can be learned from."""


@dataclass(frozen=True)
class Learned:
    """what, unit: in words. own: mean of the own cases, None for none; start: typed or built in, None for nothing.

    count: own cases; weight: of the own record, 0 to 1; now: what counts, None while there is too little.
    """

    what: str
    unit: str
    own: float | None
    start: Estimate | None
    count: int
    weight: float
    now: Estimate | None

    @property
    def times(self) -> int:
        """How often it was so, of cases that are 1 where it was and 0 where it was not."""
        return round((self.own or 0.0) * self.count)


def learned(what: str, unit: str, start: Estimate | None, seen: Sequence[float], half_at: float = HALF_AT) -> Learned:
    """Shrink the mean of own cases towards a start.

    The likely figure is w · own + (1 - w) · start; the square of each half of the range is (1 - w) times that of the start plus
    w times that of the own cases (1.645 standard deviations; one case alone has the start's), so that it is a range for one more
    case, not for a mean. The order of cases does not matter. Raises BadRecord for what is no number, and for half_at below 0.
    """
    if half_at < 0.0 or not all(isfinite(one) for one in seen):
        raise BadRecord(f"The record of {what} holds what is no number.")
    n, ordered = len(seen), sorted(seen)
    if not n:
        return Learned(what, unit, None, start, 0, 0.0, start)
    own = sum(ordered) / n
    spread = Z_95 * sqrt(sum((one - own) ** 2 for one in ordered) / (n - 1)) if n > 1 else None
    basis = Basis(Ground.HISTORY, f"{n} of this shop's own")
    if start is None:
        alone = None if n < ALONE_FROM or spread is None else Estimate(own, own - spread, own + spread, basis)
        return Learned(what, unit, own, None, n, 1.0 if alone else 0.0, alone)
    weight = n / (n + half_at)
    likely = weight * own + (1.0 - weight) * start.likely
    likely = min(max(likely, start.hard_min), start.hard_max)
    low, high = (_half(weight, half, spread) for half in (start.likely - start.low, start.high - start.likely))
    ends = max(likely - low, start.hard_min), min(likely + high, start.hard_max)
    note = f"they count {print_share(weight)}, what was typed or built in the rest"
    found = Estimate(likely, *ends, Basis(Ground.HISTORY, basis.key, note), start.hard_min, start.hard_max)
    return Learned(what, unit, own, start, n, weight, found)


def _half(weight: float, start: float, own: float | None) -> float:
    return start if own is None else sqrt((1.0 - weight) * start**2 + weight * own**2)
