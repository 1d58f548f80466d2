"""What is hidden in a log: readings (clock, depth, reach along) to zones in the log frame.

log.hidden.N.depth [m]   how deep the nearest point of it lies under the wood's surface; N counts from 0 in the order of the sheet
log.hidden.N.reach [m]   how far rot, stain or a hollow seen on an end face goes into the log, when nobody knows
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden, HiddenReading, MeasuredLog
from waney.logs.shape import Zone

Array = NDArray[np.float64]
Values = Mapping[str, float]

SEEN_ON_END_M = 0.02
"""A zone this short at an end was only seen on the end face: how far it reaches is a doubt."""
DEPTH_ERROR_M = {Hidden.METAL: 0.03}
"""Half of the 90 % range of a depth: a detector tells place better than depth. Common practice, no source."""
RULE_M = 0.01
"""The same for what a rule or probe found. Common practice, no source."""
UNKNOWN_REACH = (0.25, 0.05, 0.8)
"""Rot, stain or a hollow seen on one end: likely, least, most of the log's length it goes in. Common practice, no source."""


def hidden_doubts(log: MeasuredLog) -> Mapping[str, Estimate]:
    """Depths that were read, and reaches that were not."""
    found: dict[str, Estimate] = {}
    for i, reading in enumerate(log.hidden):
        if reading.clock_h is not None:
            found[f"log.hidden.{i}.depth"] = _depth(reading)
        if seen_on_end(reading, log.length_m):
            likely, low, high = (share * log.length_m for share in UNKNOWN_REACH)
            basis = Basis(Ground.DEFAULT, "", "seen on the end only")
            found[f"log.hidden.{i}.reach"] = Estimate(likely, low, high, basis, 0.0, log.length_m)
    return found


def _depth(reading: HiddenReading) -> Estimate:
    error = DEPTH_ERROR_M.get(reading.kind, RULE_M)
    instrument = "detector" if reading.kind is Hidden.METAL else "rule"
    low, high = max(reading.depth_m - error, 0.0), reading.depth_m + error
    return Estimate(reading.depth_m, low, high, Basis(Ground.READING, instrument), hard_min=0.0)


def seen_on_end(reading: HiddenReading, length_m: float) -> bool:
    """Whether only its trace on an end face is known."""
    at_end = reading.to_m <= SEEN_ON_END_M or reading.from_m >= length_m - SEEN_ON_END_M
    return at_end and reading.kind in (Hidden.ROT, Hidden.STAIN, Hidden.HOLLOW)


def zones(log: MeasuredLog, values: Values, z_m: Array, radius_m: Array, centre_m: Array, pith_m: Array) -> tuple[Zone, ...]:
    """One zone for each reading; outlines (n, m), their middles (n, 2) and the first pith (n, 2) in the log frame."""
    return tuple(_zone(log, values, i, z_m, radius_m, centre_m, pith_m) for i in range(len(log.hidden)))


def _zone(log: MeasuredLog, values: Values, i: int, z_m: Array, radius_m: Array, centre_m: Array, pith_m: Array) -> Zone:
    reading = log.hidden[i]
    start, end = _reach(reading, log.length_m, values.get(f"log.hidden.{i}.reach"))
    at = int(np.argmin(np.abs(z_m - 0.5 * (start + end))))
    if reading.clock_h is None:
        x, y = (float(c) for c in pith_m[at])
    else:
        depth = values[f"log.hidden.{i}.depth"]
        x, y = _from_outside(reading.clock_h, depth + 0.5 * reading.across_m, radius_m[at], centre_m[at])
    return Zone(reading.kind, start, end, x, y, 0.5 * reading.across_m, reading.chance, reading.note)


def _reach(reading: HiddenReading, length_m: float, reach: float | None) -> tuple[float, float]:
    if reach is None:
        return reading.from_m, reading.to_m
    return (0.0, reach) if reading.to_m <= SEEN_ON_END_M else (length_m - reach, length_m)


def _from_outside(clock_h: float, below_m: float, radii: Array, centre: Array) -> tuple[float, float]:
    """The point this far inside the wood's outline, towards a clock position as seen from the middle; never past the middle."""
    x, y = clock_to_xy(clock_h, 1.0)
    m = len(radii)
    angle = np.arctan2(y, x) % (2.0 * np.pi)
    radius = float(np.interp(angle, 2.0 * np.pi * np.arange(m + 1) / m, np.append(radii, radii[0])))
    out = max(radius - below_m, 0.0)
    return float(centre[0]) + out * x, float(centre[1]) + out * y
