"""Butt swell that two end readings cannot see: how much too large the two-end volume likely is.

Stems that were measured in sections are cut at the log's length, and their two-end volume is set against their sections. The
excess grows as butt over top does, so it is taken per unit of that ratio above 1 and carried over to the log.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import likely
from waney.figures.tables import table
from waney.logs.bark import Barked
from waney.logs.doubts import doubts
from waney.logs.measured import MeasuredLog
from waney.logs.rounds import AT_AN_END_M
from waney.logs.tape import wood_rounds

Array = NDArray[np.float64]

RATIO = 1.2
"""Butt over top from which swell is suspected. Common practice, no source."""
LENGTHS_M = (2.0, 10.0)
"""The stems are cut within these lengths; a log beyond is looked up at the nearer one."""
WIDER = 1.5
"""Ten stems of one species stand for all: their range is made this much wider. Common practice, no source."""
CLEAR_M = (0.9144, 1.8288)
"""3 to 6 ft from the butt: a reading there sees the stem without most of its swell. Common practice, no source."""


@dataclass(frozen=True)
class SwellWarning:
    """Butt over top, and by what share the two-end volume (Smalian's) likely exceeds the wood that is there."""

    ratio: float
    excess: Estimate
    surely_butt_log: bool

    def __str__(self) -> str:
        low, middle, high = (f"{100.0 * share:.0f}" for share in (self.excess.low, self.excess.likely, self.excess.high))
        start = "" if self.surely_butt_log else "If this is the first length from the ground: "
        return (
            f"{start}the butt is {self.ratio:.2f} times the top, and nothing was read 3 to 6 ft (0.9 to 1.8 m) from the butt. "
            f"The mean of the two end areas likely gives {middle} % too much wood ({low} to {high} %): read a diameter there."
        )


def swell_warning(log: MeasuredLog, species: Barked | None = None) -> SwellWarning | None:
    """A warning for a two-end reading of a (possible) butt log that tapers fast; None when there is no cause for one.

    Readings over bark are compared without it, as it likely is. Raises as `doubts` does.
    """
    wood = wood_rounds(log, likely(doubts(log, species)))
    if log.butt_log is False or len(wood) < 2 or any(CLEAR_M[0] <= r.at_m <= CLEAR_M[1] for r in wood):
        return None
    butt, top = wood[0], wood[-1]
    ratio = butt.size_m / top.size_m
    if butt.at_m > AT_AN_END_M or top.at_m < log.length_m - AT_AN_END_M or ratio <= RATIO:
        return None
    return SwellWarning(ratio, two_end_excess(log.length_m, ratio), log.butt_log is True)


def two_end_excess(length_m: float, ratio: float) -> Estimate:
    """Smalian's volume over the volume by sections, less 1 [-], for a butt log of this length whose ends have this ratio.

    Source: the 10 stems of dyntaper-brink; 5, 50 and 95 % of them, made wider.
    """
    slopes = _excess_slopes(min(max(length_m, LENGTHS_M[0]), LENGTHS_M[1]))
    low, middle, high = (float(q) * (ratio - 1.0) for q in np.quantile(slopes, (0.05, 0.5, 0.95)))
    basis = Basis(
        Ground.SOURCE, "dyntaper-brink", f"{len(slopes)} stems cut at the same length; range made {WIDER:g} times as wide"
    )
    return Estimate(middle, middle - WIDER * (middle - low), middle + WIDER * (high - middle), basis)


@cache
def _excess_slopes(length_m: float) -> tuple[float, ...]:
    """Excess / (ratio - 1) of every stem cut at this length."""
    return tuple(_excess_slope(z, d, length_m) for z, d in _stems())


def _excess_slope(z: Array, d: Array, length_m: float) -> float:
    top = float(np.interp(length_m, z, d))
    at, size = np.append(z[z < length_m], length_m), np.append(d[z < length_m], top)
    excess = length_m * (d[0] ** 2 + top**2) / 2.0 / _squares(at, size) - 1.0
    return float(excess / (d[0] / top - 1.0))


def _squares(z: Array, d: Array) -> float:
    """Integral of the squared diameter along straight lines from section to section: 4 / pi of the volume."""
    return float(np.sum(np.diff(z) * (d[:-1] ** 2 + d[:-1] * d[1:] + d[1:] ** 2) / 3.0))


@cache
def _stems() -> tuple[tuple[Array, Array], ...]:
    """Height and diameter inside bark [m] of each stem, from the ground up."""
    stems: dict[str, list[tuple[float, float]]] = {}
    for row in table("eucalyptus_cloeziana_sections"):
        stems.setdefault(row["tree"], []).append((float(row["height_m"]), float(row["dib_cm"]) / 100.0))
    return tuple((np.array(s)[:, 0], np.array(s)[:, 1]) for s in stems.values())
