"""How much moisture a day a wood may lose without damage, by thickness, and what that says of a rate."""

from __future__ import annotations

from dataclasses import dataclass
from math import log

import numpy as np

from waney.drying.kernel.records import Array
from waney.figures.estimate import Basis
from waney.figures.sources import cited
from waney.figures.tables import Row, table
from waney.units.share import print_share

FOUR_QUARTERS_M, EIGHT_QUARTERS_M = 0.0286, 0.0540
"""Green thickness of 4/4 and 8/4 [m]: 1 1/8 and 2 1/8 in, sawmill practice."""
AS_PRINTED_M = 0.001
"""So near 4/4 a rate is the printed one [m]."""
LEAST_M, MOST_M = 0.6 * FOUR_QUARTERS_M, 2.0 * EIGHT_QUARTERS_M
"""Beyond these the printed rates are not stretched [m]: ours, a choice."""


@dataclass(frozen=True)
class SafeRate:
    """Most loss of moisture [share of dry mass a day] for a wood at a thickness [m]."""

    a_day: float
    thickness_m: float
    basis: Basis

    def exceeded(self, rate_a_day: float) -> bool:
        """Whether a loss a day [-] is more than the wood may lose."""
        return rate_a_day > self.a_day

    def said(self, rate_a_day: float) -> str:
        """A word and two numbers: 'too fast: 4.1 of 3.8 % a day'."""
        word = "too fast" if self.exceeded(rate_a_day) else "close to the limit" if rate_a_day > 0.8 * self.a_day else "safe"
        return f"{word}: {100.0 * rate_a_day:.1f} of {print_share(self.a_day, 1)} a day"


def fastest_day(days: Array, means: Array, start_mc: float) -> tuple[float, float]:
    """Most moisture lost in 24 hours [share of dry mass], and when those hours began [days]; days, means: as of a course."""
    at = np.concatenate(([0.0], days))
    mc = np.concatenate(([start_mc], means))
    lost = mc - np.interp(at + 1.0, at, mc)
    return float(lost.max()), float(at[lost.argmax()])


def safe_rate(species_id: str, thickness_m: float) -> SafeRate | None:
    """The safe rate of a wood at a thickness [m]; None where no table has one.

    Between 4/4 and 8/4, and up to twice 8/4, by the power of thickness through both printed values; none beyond.
    Source: wengert-oak-1990, from memory; 4/4 red and white oak seen (wengert-oak-rates).
    """
    row = next((row for row in table("safe_drying_rates") if species_id in row["species_ids"].split()), None)
    if row is None or not LEAST_M <= thickness_m <= MOST_M:
        return None
    thin, thick = float(row["pct_a_day_4_4"]) / 100.0, float(row["pct_a_day_8_4"]) / 100.0
    power = log(thick / thin) / log(EIGHT_QUARTERS_M / FOUR_QUARTERS_M)
    return SafeRate(thin * (thickness_m / FOUR_QUARTERS_M) ** power, thickness_m, _basis(row, thickness_m))


def _basis(row: Row, thickness_m: float) -> Basis:
    """Of 4/4 where it was read, if it was; of everything else the table that is remembered."""
    if row["seen_4_4"] and abs(thickness_m - FOUR_QUARTERS_M) <= AS_PRINTED_M:
        return cited(row["seen_4_4"])
    return cited(row["source"], "powers of thickness between 4/4 and 8/4")
