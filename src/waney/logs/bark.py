"""Bark: its single thickness anywhere along a log, from a reading, from its share of the wood's volume, or from the species.

log.bark.thickness  [m] single thickness at the butt, where a thickness was read
log.bark.share      [-] else: single thickness as a share of the diameter over bark, at the butt
log.bark.along      [1/m] part of either that is lost for every metre up the log
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.measured import BarkReading, Inside, MeasuredLog, RoundReading
from waney.logs.rounds import AT_AN_END_M, as_read

Array = NDArray[np.float64]
Values = Mapping[str, float]
Pair = tuple[RoundReading, RoundReading]
"""over bark, of the wood"""

THICKNESS_ERROR_M = 0.003
"""Half of the 90 % range of a bark thickness read at one place (1/8 in). Common practice, no source."""
ALONG = 0.12
"""Half of the 90 % range of log.bark.along. On eucalypt clones (forestmangr-exfm8) bark 4 m up has 0.57, 0.80 and 1.09 (5, 50,
75 %) of its share at the butt, a few stems far more; no side is favoured: common practice, no source."""
LEAST_LEFT = 0.3
"""Whatever is lost up the log, this much of the bark at the butt is left."""
MOST_SHARE = 0.25
"""No bark is thicker than this share of the diameter over it."""


class Barked(Protocol):
    """What is asked of a species: the volume of its bark as a share of the wood's, when a table has it."""

    @property
    def bark_volume_share(self) -> Estimate | None:
        """Bark volume / wood volume [-]."""


def share_of_diameter(volume_share: float) -> float:
    """Single thickness / diameter over bark, for bark whose volume is this share of the wood's (geometry of two cylinders).

    >>> round(share_of_diameter(0.15), 4)
    0.0337
    """
    return 0.5 * (1.0 - 1.0 / sqrt(1.0 + volume_share))


def bark_doubts(log: MeasuredLog, species: Barked | None) -> Mapping[str, Estimate]:
    """log.bark.thickness or log.bark.share, and log.bark.along; empty for a log without bark."""
    bark, pairs = log.bark or BarkReading(), both_read(log)
    if bark.none_left:
        return {}
    if bark.thickness_m is not None:
        return {"log.bark.thickness": _thickness(bark.thickness_m, "bark gauge or rule"), "log.bark.along": _along()}
    if pairs:
        read = _thickness(_between(pairs[0]), "diameters over and inside bark")
        return {"log.bark.thickness": read, "log.bark.along": _along_pairs(pairs)}
    return {"log.bark.share": _share(bark, species), "log.bark.along": _along()}


def _thickness(likely: float, instrument: str) -> Estimate:
    low, high = max(likely - THICKNESS_ERROR_M, 0.0), likely + THICKNESS_ERROR_M
    return Estimate(likely, low, high, Basis(Ground.READING, instrument), hard_min=0.0)


def _share(bark: BarkReading, species: Barked | None) -> Estimate:
    typed = bark.share_of_wood_volume
    if typed is not None:
        return _from_volume(typed, 0.8 * typed, 1.2 * typed, Basis(Ground.READING, "the sheet's bark per cent"))
    known = species.bark_volume_share if species is not None else None
    if known is not None:
        return _from_volume(known.likely, known.low, known.high, known.basis)
    return _from_volume(0.15, 0.06, 0.28, Basis(Ground.DEFAULT, "", "bark of any species"))


def _from_volume(likely: float, low: float, high: float, basis: Basis) -> Estimate:
    likely, low, high = (min(share_of_diameter(max(share, 0.0)), MOST_SHARE) for share in (likely, low, high))
    return Estimate(likely, low, high, basis, hard_min=0.0, hard_max=MOST_SHARE)


def both_read(log: MeasuredLog) -> tuple[Pair, ...]:
    """Readings over bark and of the wood at one place, in pairs, from the butt up."""
    wood = [r for r in log.rounds if r.over is Inside.WOOD]
    over = sorted((r for r in log.rounds if r.over is Inside.BARK), key=lambda r: r.at_m)
    return tuple((o, w) for o in over for w in wood if abs(o.at_m - w.at_m) < AT_AN_END_M)


def bark_read(log: MeasuredLog) -> bool:
    """Whether somebody looked at this log's bark, or there is none."""
    bark = log.bark or BarkReading()
    typed = bark.thickness_m is not None or bark.share_of_wood_volume is not None
    return bark.none_left or typed or bool(both_read(log))


def _between(pair: Pair) -> float:
    return max(0.5 * (as_read(pair[0]) - as_read(pair[1])), 0.0)


def _along() -> Estimate:
    return Estimate(0.0, -ALONG, ALONG, Basis(Ground.DEFAULT, "", "bark up the log against bark at the butt"))


def _along_pairs(pairs: tuple[Pair, ...]) -> Estimate:
    """From the two pairs that lie furthest apart, when that is over 1 m."""
    apart, low, high = pairs[-1][0].at_m - pairs[0][0].at_m, _between(pairs[0]), _between(pairs[-1])
    if apart < 1.0 or low < THICKNESS_ERROR_M:
        return _along()
    likely, error = (1.0 - high / low) / apart, THICKNESS_ERROR_M / low / apart
    return Estimate(likely, likely - error, likely + error, Basis(Ground.READING, "diameters over and inside bark"))


def bark_under(log: MeasuredLog, values: Values, at_m: Array, over_m: Array) -> Array:
    """Single thickness [m] at distances from the butt, given the diameters over bark there; all of shape (n,)."""
    if log.bark is not None and log.bark.none_left:
        return np.zeros(len(at_m))
    left = np.maximum(1.0 - values["log.bark.along"] * at_m, LEAST_LEFT)
    thin: Array
    if "log.bark.thickness" in values:
        thin = np.minimum(values["log.bark.thickness"] * left, MOST_SHARE * over_m)
    else:
        thin = np.minimum(values["log.bark.share"] * left, MOST_SHARE) * over_m
    return thin


def bark_on(log: MeasuredLog, values: Values, at_m: Array, wood_m: Array) -> Array:
    """Single thickness [m] at distances from the butt, given the diameters of the wood there; all of shape (n,)."""
    # under no more than MOST_SHARE of bark the diameter over it is at most twice the wood's
    if "log.bark.thickness" in values:
        return bark_under(log, values, at_m, 2.0 * wood_m)
    share = bark_under(log, values, at_m, np.ones(len(at_m)))
    return share * wood_m / (1.0 - 2.0 * share)
