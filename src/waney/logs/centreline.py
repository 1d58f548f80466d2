"""Where the middle of the log runs: sweep as a parabola, crook as a bend, both zero at the two ends.

log.sweep.depth [m], log.sweep.clock [h]   the bow; a second one is log.sweep2, and so on
log.crook.depth [m], log.crook.clock [h]   a sharp bend
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.logs.frames import clock_to_xy
from waney.logs.measured import BendReading, MeasuredLog

Array = NDArray[np.float64]
Values = Mapping[str, float]

DEPTH_ERROR = (0.006, 0.15)
"""Half of the 90 % range of a depth read with a line: at least this [m], or this share of it. Common practice, no source."""
CLOCK_ERROR_H = 0.7
"""Half of the 90 % range of a clock position read by eye. Common practice, no source."""
UNSAID_SWEEP = 0.008
"""A log whose sweep nobody wrote down is likely straight, at most this share of its length (1 in on 10 ft).

Common practice, no source."""


def bend_names(log: MeasuredLog) -> tuple[tuple[str, BendReading], ...]:
    """Each bend that was read, with the first part of its doubts' names."""
    counted = {True: 0, False: 0}
    found = []
    for bend in log.bends:
        gradual = bend.at_m is None
        counted[gradual] += 1
        number = "" if counted[gradual] == 1 else str(counted[gradual])
        found.append((f"log.{'sweep' if gradual else 'crook'}{number}", bend))
    return tuple(found)


def bend_doubts(log: MeasuredLog) -> Mapping[str, Estimate]:
    """Depth and clock of every bend; of an unsaid sweep when none was read."""
    found: dict[str, Estimate] = {}
    for name, bend in bend_names(log):
        found |= {f"{name}.depth": _depth(bend), f"{name}.clock": _clock(bend)}
    if "log.sweep.depth" not in found:
        found |= _unsaid(log)
    return found


def _depth(bend: BendReading) -> Estimate:
    error = max(DEPTH_ERROR[0], DEPTH_ERROR[1] * bend.depth_m)
    basis = Basis(Ground.READING, "line and rule")
    return Estimate(bend.depth_m, max(bend.depth_m - error, 0.0), bend.depth_m + error, basis, hard_min=0.0)


def _clock(bend: BendReading) -> Estimate:
    low, high = bend.clock_h - CLOCK_ERROR_H, bend.clock_h + CLOCK_ERROR_H
    return Estimate(bend.clock_h, low, high, Basis(Ground.READING, "the eye"))


def _unsaid(log: MeasuredLog) -> Mapping[str, Estimate]:
    basis = Basis(Ground.DEFAULT, "", "no sweep written down")
    # hours run past 12: a normal draw this wide, taken round the clock, is as good as even (first harmonic under 0.001)
    anywhere = Estimate(12.0, 0.0, 24.0, basis)
    depth = Estimate(0.0, 0.0, UNSAID_SWEEP * log.length_m, basis, hard_min=0.0)
    return {"log.sweep.depth": depth, "log.sweep.clock": anywhere}


def centres(log: MeasuredLog, values: Values, z_m: Array) -> Array:
    """Log-frame x, y of the middle of the wood at each z [m], shape (n, 2)."""
    t = z_m / log.length_m
    named = bend_names(log)
    middle = np.zeros((len(z_m), 2))
    if all(bend.at_m is not None for _, bend in named):
        middle += np.outer(4.0 * t * (1.0 - t), _towards(values, "log.sweep"))
    for name, bend in named:
        middle += np.outer(_bulge(bend, log.length_m, t), _towards(values, name))
    return middle


def _bulge(bend: BendReading, length_m: float, t: Array) -> Array:
    """1 at the deepest place, 0 at both ends."""
    if bend.at_m is None:
        return 4.0 * t * (1.0 - t)
    return np.interp(t, [0.0, bend.at_m / length_m, 1.0], [0.0, 1.0, 0.0])


def _towards(values: Values, name: str) -> Array:
    return np.array(clock_to_xy(values[f"{name}.clock"], values[f"{name}.depth"]))
