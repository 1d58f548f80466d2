"""What each reading round the log says: a size and a form over what it was taken over, with its doubts.

place      "butt", "top", or the distance from the butt in mm ("1220"): the middle part of every name that belongs to a reading.
diameter   log.PLACE.diameter [m]: the mean diameter as read; its doubt is the instrument's and that of an uneven outline.
ovality    log.PLACE.ovality [-]: diameter across / diameter along the first reading - 1, where only one was read or a girth.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.logs.measured import Inside, MeasuredLog, RoundReading
from waney.logs.outline import area_of, ellipse, ellipse_size, form_of, size_of, traced

Array = NDArray[np.float64]
Values = Mapping[str, float]

AT_AN_END_M = 0.02
"""A reading this near an end counts as read on it."""
CALLIPER_M = 0.004
"""Half of the 90 % range of one calliper or stick reading (5/32 in). Common practice, no source."""
TAPE_M = 0.002
"""The same for the diameter from a girth tape. Common practice, no source."""
UNEVEN = 0.03
"""How well one place stands for the wood around it (knots, bumps, no ellipse): half of the 90 % range, of the diameter.

Common practice, no source."""
BRIDGED = 0.015
"""A tape bridges hollows: the girth may say this much too large a diameter, never too small. Common practice, no source."""
OVALITY = 0.08
"""Second diameter against the first where it was not read: half of the 90 % range. Common practice, no source."""


class NothingRead(Problem):
    """A log without one diameter or girth."""


class TwiceRead(Problem):
    """Two readings at one place."""


@dataclass(frozen=True, eq=False)
class Round:
    """One reading under given values: where, its size over what it was taken over [m], its form (m,)."""

    at_m: float
    over: Inside
    size_m: float
    form: Array
    error_m: float = 0.0
    """half of the 90 % range of the size, as far as the reading itself goes"""
    trust: float = 1.0
    """weight against what the readings below and above it say of this place"""


def place(log: MeasuredLog, at_m: float) -> str:
    """The part of a doubt's name that says where along the log.

    >>> place(MeasuredLog("", "", 3.0, ()), 1.22)
    '1220'
    """
    if at_m <= AT_AN_END_M:
        return "butt"
    return "top" if at_m >= log.length_m - AT_AN_END_M else str(round(1000.0 * at_m))


def used(log: MeasuredLog) -> tuple[RoundReading, ...]:
    """The readings the wood's size follows from, ordered: where bark and wood were both read, the wood's. Raises TwiceRead."""
    wood = [r.at_m for r in log.rounds if r.over is Inside.WOOD]
    twins = [r for r in log.rounds if r.over is Inside.BARK and any(abs(r.at_m - at) < AT_AN_END_M for at in wood)]
    kept = sorted((r for r in log.rounds if r not in twins), key=lambda r: r.at_m)
    for a, b in pairwise(kept):
        if b.at_m - a.at_m < AT_AN_END_M:
            raise TwiceRead(
                f"Two readings stand {a.at_m:.3f} and {b.at_m:.3f} m from the butt, as good as at one place; keep one."
            )
    if not kept:
        raise NothingRead("A log needs at least one diameter or girth.")
    return tuple(kept)


def as_read(reading: RoundReading) -> float:
    """The mean diameter as read [m]: of equal area for two callipers or a trace, girth / pi for a tape."""
    if reading.trace_m:
        return size_of(traced(reading.trace_m))
    if reading.diameters_m:
        return sqrt(reading.diameters_m[0] * reading.diameters_m[-1])
    if reading.girth_m is None:
        raise NothingRead(f"The reading {reading.at_m:g} m from the butt holds no diameter, girth or outline; give one of them.")
    return reading.girth_m / pi


def one_number(reading: RoundReading) -> bool:
    """Whether the reading says how large but not how oval."""
    return not reading.trace_m and len(reading.diameters_m) < 2


def round_doubts(log: MeasuredLog) -> Mapping[str, Estimate]:
    """log.PLACE.diameter and, where only one number was read, log.PLACE.ovality."""
    found: dict[str, Estimate] = {}
    for reading in used(log):
        name = f"log.{place(log, reading.at_m)}"
        found[f"{name}.diameter"] = _diameter(reading)
        if one_number(reading):
            found[f"{name}.ovality"] = _ovality(log, reading)
    return found


def _diameter(reading: RoundReading) -> Estimate:
    size = as_read(reading)
    below, above = _error(reading, size)
    instrument = "girth tape" if reading.girth_m is not None and not reading.diameters_m else "calliper or stick"
    basis = Basis(Ground.READING, "traced outline" if reading.trace_m else instrument)
    return Estimate(size, max(size - below, 0.5 * size), size + above, basis, hard_min=0.5 * size)


def _error(reading: RoundReading, size: float) -> tuple[float, float]:
    """How far below and above the reading the diameter of equal area may lie [m], 90 % range."""
    if reading.reading_error_m > 0.0:
        return reading.reading_error_m, reading.reading_error_m
    if reading.diameters_m or reading.trace_m:
        error = hypot(CALLIPER_M / sqrt(max(len(reading.diameters_m), 1)), UNEVEN * size)
        return error, error
    uneven = UNEVEN * size
    return hypot(TAPE_M, uneven) + BRIDGED * size, hypot(TAPE_M, uneven)


def _ovality(log: MeasuredLog, reading: RoundReading) -> Estimate:
    oval = [r for r in log.rounds if len(r.diameters_m) == 2 and not r.trace_m and r.first_clock_h == reading.first_clock_h]
    if not oval:
        basis = Basis(Ground.DEFAULT, "", "second diameter not read")
        return Estimate(0.0, -OVALITY, OVALITY, basis, hard_min=-0.4, hard_max=0.6)
    near = min(oval, key=lambda r: abs(r.at_m - reading.at_m))
    ratio = near.diameters_m[1] / near.diameters_m[0] - 1.0
    basis = Basis(Ground.DEFAULT, "", f"as read {near.at_m:.2f} m from the butt")
    likely = min(max(ratio, -0.4), 0.6)
    return Estimate(likely, max(likely - OVALITY, -0.4), min(likely + OVALITY, 0.6), basis, hard_min=-0.4, hard_max=0.6)


def rounds_of(log: MeasuredLog, values: Values) -> tuple[Round, ...]:
    """All readings under these values, in their order along the log."""
    return tuple(_round(log, reading, values) for reading in used(log))


def _round(log: MeasuredLog, reading: RoundReading, values: Values) -> Round:
    name = f"log.{place(log, reading.at_m)}"
    size, form = _size_and_form(reading, values[f"{name}.diameter"], values.get(f"{name}.ovality", 0.0))
    return Round(reading.at_m, reading.over, size, form, _error(reading, size)[0])


def _size_and_form(reading: RoundReading, diameter: float, ovality: float) -> tuple[float, Array]:
    if reading.trace_m:
        return diameter, form_of(traced(reading.trace_m))
    if len(reading.diameters_m) == 2:
        return diameter, ellipse(reading.diameters_m[1] / reading.diameters_m[0], reading.first_clock_h)
    ratio = 1.0 + ovality
    size = diameter * sqrt(ratio) if reading.diameters_m else ellipse_size(pi * diameter, ratio)
    return size, ellipse(ratio, reading.first_clock_h)


def without_bark(reading: Round, bark_m: float, trust: float = 1.0) -> Round:
    """The same place with bark of this single thickness taken off all round, and the trust in what is left."""
    radii = np.maximum(0.5 * reading.size_m * reading.form - bark_m, 0.1 * reading.size_m)
    half = sqrt(float(area_of(radii)) / pi)
    return Round(reading.at_m, Inside.WOOD, 2.0 * half, radii / half, reading.error_m, trust)
