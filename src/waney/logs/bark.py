"""Bark: its single thickness anywhere along a log, from a reading, from its share of the wood's volume, or from the species.

log.bark.share   [-] single thickness at the butt as a share of the diameter over bark
log.bark.along   [1/m] part of that share lost for every metre up the log
"""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt
from typing import Protocol

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.measured import BarkReading, Inside, MeasuredLog, RoundReading
from waney.logs.rounds import AT_AN_END_M, as_read

Values = Mapping[str, float]
Pair = tuple[RoundReading, RoundReading]
"""over bark, of the wood"""

THICKNESS_ERROR_M = 0.003
"""Half of the 90 % range of a bark thickness read at one place (1/8 in). Common practice, no source."""
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
    """log.bark.share and log.bark.along; empty for a log without bark."""
    if log.bark is not None and log.bark.none_left:
        return {}
    return {"log.bark.share": _share(log, species), "log.bark.along": _along(log)}


def _share(log: MeasuredLog, species: Barked | None) -> Estimate:
    bark = log.bark or BarkReading()
    if bark.thickness_m is not None:
        return _read_share(log, bark.thickness_m)
    pairs = both_read(log)
    if pairs:
        return _paired_share(pairs[0])
    if bark.share_of_wood_volume is not None:
        likely = bark.share_of_wood_volume
        return _from_volume(likely, 0.8 * likely, 1.2 * likely, Basis(Ground.READING, "the sheet's bark per cent"))
    known = species.bark_volume_share if species is not None else None
    if known is not None:
        # the table's figure is a species mean: single logs lie wider, by site, age and height in the tree
        return _from_volume(known.likely, min(known.low, 0.6 * known.likely), max(known.high, 1.5 * known.likely), known.basis)
    return _from_volume(0.15, 0.06, 0.28, Basis(Ground.DEFAULT, "", "bark of any species"))


def _from_volume(likely: float, low: float, high: float, basis: Basis) -> Estimate:
    return _estimate(share_of_diameter(likely), share_of_diameter(low), share_of_diameter(high), basis)


def _estimate(likely: float, low: float, high: float, basis: Basis) -> Estimate:
    """Three shares of the diameter, kept between none and the most."""
    likely, low, high = (min(max(share, 0.0), MOST_SHARE) for share in (likely, low, high))
    return Estimate(likely, low, high, basis, hard_min=0.0, hard_max=MOST_SHARE)


def _read_share(log: MeasuredLog, thickness_m: float) -> Estimate:
    over = _over_bark(min(log.rounds, key=lambda r: r.at_m), thickness_m)
    likely, error = thickness_m / over, THICKNESS_ERROR_M / over
    return _estimate(likely, likely - error, likely + error, Basis(Ground.READING, "bark gauge or rule"))


def _over_bark(reading: RoundReading, thickness_m: float) -> float:
    return as_read(reading) + (0.0 if reading.over is Inside.BARK else 2.0 * thickness_m)


def both_read(log: MeasuredLog) -> tuple[Pair, ...]:
    """Readings over bark and of the wood at one place, in pairs, from the butt up."""
    wood = [r for r in log.rounds if r.over is Inside.WOOD]
    over = [r for r in log.rounds if r.over is Inside.BARK]
    return tuple((o, w) for o in over for w in wood if abs(o.at_m - w.at_m) < AT_AN_END_M)


def _pair_share(pair: Pair) -> float:
    over, wood = as_read(pair[0]), as_read(pair[1])
    return min(max(0.5 * (over - wood) / over, 0.0), MOST_SHARE)


def _paired_share(pair: Pair) -> Estimate:
    likely = _pair_share(pair)
    error = THICKNESS_ERROR_M / as_read(pair[0])
    return _estimate(likely, likely - error, likely + error, Basis(Ground.READING, "diameters over and inside bark"))


def _paired_along(low: Pair, high: Pair) -> Estimate:
    """From the shares at two places; the butt's share is taken where the lower pair was read."""
    apart = high[0].at_m - low[0].at_m
    share = max(_pair_share(low), 1e-3)
    error = THICKNESS_ERROR_M / as_read(high[0]) / share / apart
    likely = (1.0 - _pair_share(high) / share) / apart
    return Estimate(likely, likely - error, likely + error, Basis(Ground.READING, "diameters over and inside bark"))


def _along(log: MeasuredLog) -> Estimate:
    """Measured on 30 eucalypts in 1 m sections: 4 m up the share is 0.57 to 1.09 of the butt's in 90 of 100, typically 0.8."""
    pairs = both_read(log)
    if len(pairs) > 1 and pairs[-1][0].at_m - pairs[0][0].at_m > 1.0:
        return _paired_along(pairs[0], pairs[-1])
    basis = Basis(Ground.SOURCE, "forestmangr-exfm8", "eucalypt clones")
    read_at_butt = (log.bark is not None and log.bark.thickness_m is not None) or bool(pairs)
    likely = 0.04 if read_at_butt else 0.0
    return Estimate(likely, likely - 0.06, likely + 0.06, basis)


def bark_share(log: MeasuredLog, values: Values, at_m: float) -> float:
    """Single thickness as a share of the diameter over bark, at a distance from the butt."""
    if log.bark is not None and log.bark.none_left:
        return 0.0
    left = max(1.0 - values["log.bark.along"] * at_m, 0.3)
    return min(values["log.bark.share"] * left, MOST_SHARE)
