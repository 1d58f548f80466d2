"""Evidence: what was read of a piece while it dried, and how well a course of moisture agrees with it.

n: courses, j: readings, g: points of the oven-dry weight. Moistures are shares, days count from the start of drying.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log, pi, sqrt

import numpy as np
from numpy.typing import NDArray

from waney.drying.dry_weight import DryWeight
from waney.drying.meter import MeterReading
from waney.figures.estimate import Z_95, Estimate
from waney.figures.problem import Problem

Array = NDArray[np.float64]

WRONG = 0.08
"""Share of readings held to be wrong, whatever they say: the other board, a slip of the pen. Common practice, no source."""
WRONG_WIDTH = 1.0
"""Over how wide a range a wrong one falls evenly: moisture [-], or logarithm of a weight."""
LOSS_ERROR = 0.05
"""Standard error of the model's moisture at a reading, share of the moisture lost since the start: it is nothing before anything
has left. Ours, a choice, held against truth of another kind (docs/methods/forecasts.md)."""
BOARD_ERROR = 0.006
"""What comes to that at every reading, share of (1 + moisture): a real piece is no even sheet. Ours, a choice, as above."""
DRY_SPREAD = 0.6
"""Standard deviation of the logarithm of an oven-dry weight of which nothing is known."""
TOGETHER_DAYS = 30.0
"""Readings closer than this share the model's error: many of them do not make it smaller. Ours, a choice."""
LEAST_ERROR = 1e-3
"""No moisture is read better than this [-]."""
POINTS = 241


class BadEvidence(Problem):
    """A reading that cannot be used."""


@dataclass(frozen=True)
class WeightRead:
    """A weight of the piece [kg] on a day, with its standard error [kg]."""

    day: float
    kg: float
    error_kg: float

    def __post_init__(self) -> None:
        if self.day < 0.0 or self.kg <= 0.0 or self.error_kg < 0.0:
            raise BadEvidence(f"{self.kg:g} kg on day {self.day:g} cannot be: weights are above zero, after the start of drying.")


@dataclass(frozen=True)
class MoistureRead:
    """Moisture on a day [-] with its range: sections, a meter, shell and core. at_least: a meter past what it can tell."""

    day: float
    mc: Estimate
    at_least: bool = False

    def __post_init__(self) -> None:
        if self.day < 0.0:
            raise BadEvidence("A reading from before the start of drying cannot be used: set the start earlier.")

    @property
    def error(self) -> float:
        """Its standard error [-]."""
        return max(self.mc.width / 2.0 / Z_95, LEAST_ERROR)


def of_meter(found: MeterReading) -> MoistureRead:
    """What a meter told; its day is set by the stack."""
    return MoistureRead(0.0, found.mc, found.wetter)


Read = WeightRead | MoistureRead


@dataclass(frozen=True)
class Courses:
    """Moisture of every course at the start (n,) and on the day of every reading (n, j) [-]."""

    starts: Array
    means: Array

    def errors(self, reads: Sequence[Read]) -> Array:
        """Standard error of the model at every reading [-], (n, j). Readings of one day count as one."""
        days = np.unique([read.day for read in reads])
        near = [int(np.sum(np.abs(days - read.day) < TOGETHER_DAYS)) for read in reads]
        lost = self.starts[:, None] - self.means
        return np.asarray(np.hypot(LOSS_ERROR * lost, BOARD_ERROR * (1.0 + self.means)) * np.sqrt(near))


def agreement(courses: Courses, reads: Sequence[Read], dry: DryWeight | None) -> tuple[Array, Array, Array]:
    """How well courses agree with readings.

    Returns the logarithm of each course's likelihood, (n,); the oven-dry weights tried [kg], (g,); and the share of each weight
    within each course, (n, g). Without weights g is 1.
    """
    means, errors = courses.means, courses.errors(reads)
    total = np.zeros(means.shape[0])
    for at, read in enumerate(reads):
        if isinstance(read, MoistureRead):
            total += np.log(_of_moisture(means[:, at], read, errors[:, at]))
    weights = [(at, read) for at, read in enumerate(reads) if isinstance(read, WeightRead)]
    if not weights:
        return total, np.array([np.nan]), np.ones((means.shape[0], 1))
    points = _points(means, weights, dry)
    logs = np.broadcast_to(_prior(points, means, weights, dry), (means.shape[0], points.size)).copy()
    for at, read in weights:
        logs += np.log(_of_weight(points[None, :], means[:, at, None], read, errors[:, at, None]))
    top = logs.max(axis=1, keepdims=True)
    share = np.exp(logs - top)
    summed = share.sum(axis=1, keepdims=True)
    return total + (top + np.log(summed))[:, 0], np.exp(points), share / summed


def wrong_shares(courses: Courses, reads: Sequence[Read], shares: Array, dry_kg: Array, within: Array) -> Array:
    """Chance that each reading is a wrong one, (j,); shares: of the courses (n,); dry weights tried [kg] (g,),
    their shares (n, g)."""
    errors, found = courses.errors(reads), np.zeros(len(reads))
    for at, read in enumerate(reads):
        mc, error = courses.means[:, at], errors[:, at]
        if isinstance(read, MoistureRead):
            found[at] = float(shares @ (WRONG / np.maximum(_of_moisture(mc, read, error), WRONG)))
        else:
            density = _of_weight(np.log(dry_kg)[None, :], mc[:, None], read, error[:, None])
            found[at] = float(shares @ np.sum(within * WRONG / WRONG_WIDTH / density, axis=1))
    return found


def moisture_then(courses: Courses, reads: Sequence[Read], at: int, dry_kg: Array, within: Array) -> tuple[Array, Array]:
    """Moisture of the piece itself at reading `at`, by each course and by what was read then: mean and standard error [-], (n,).

    The course is off by the model's error, the reading by its own; a reading past what a meter can tell says no more.
    """
    read, model, error = reads[at], courses.means[:, at, None], courses.errors(reads)[:, at, None]
    if isinstance(read, WeightRead):
        density = _of_weight(np.log(dry_kg)[None, :], model, read, error)
        right = 1.0 - WRONG / WRONG_WIDTH / density
        said = read.kg / dry_kg[None, :] - 1.0
        own = np.maximum((1.0 + model) * read.error_kg / read.kg, LEAST_ERROR)
    elif read.at_least:
        return model[:, 0], error[:, 0]
    else:
        right = 1.0 - WRONG / WRONG_WIDTH / _of_moisture(model, read, error)
        said, own = np.full_like(model, read.mc.likely), np.full_like(model, read.error)
    trust = right * error**2 / (error**2 + own**2)
    each = model + trust * (said - model)
    spread = error**2 * (1.0 - trust)
    mean = np.sum(within * each, axis=1)
    return mean, np.sqrt(np.sum(within * (spread + (each - mean[:, None]) ** 2), axis=1))


def _points(means: Array, weights: Sequence[tuple[int, WeightRead]], dry: DryWeight | None) -> Array:
    """Logarithms of the oven-dry weights that are tried: about what is known beforehand, or about what the weights say."""
    if dry is not None:
        return log(dry.kg) + np.linspace(-4.5, 4.5, POINTS) * dry.spread
    said = np.array([log(read.kg) - np.log1p(means[:, at]) for at, read in weights])
    return np.linspace(float(said.min()) - 0.05, float(said.max()) + 0.05, POINTS)


def _prior(points: Array, means: Array, weights: Sequence[tuple[int, WeightRead]], dry: DryWeight | None) -> Array:
    if dry is not None:
        return np.asarray(-0.5 * ((points - log(dry.kg)) / dry.spread) ** 2)
    at, read = weights[0]
    centre = log(read.kg) - float(np.log1p(means[:, at]).mean())
    return np.asarray(-0.5 * ((points - centre) / DRY_SPREAD) ** 2)


def _of_weight(dry_log: Array, mc: Array, read: WeightRead, model: Array) -> Array:
    """Density of the logarithm of the weight."""
    error = np.hypot(model / (1.0 + mc), read.error_kg / read.kg)
    return _mixed(log(read.kg) - dry_log - np.log1p(mc), error)


def _of_moisture(mc: Array, read: MoistureRead, model: Array) -> Array:
    error = np.hypot(model, read.error)
    if read.at_least:
        return np.asarray(WRONG + (1.0 - WRONG) / (1.0 + np.exp(-1.7 * (mc - read.mc.low) / error)))
    return _mixed(read.mc.likely - mc, error)


def _mixed(miss: Array, error: Array | float) -> Array:
    """Density of a miss: a normal one, or a wrong reading anywhere."""
    normal = np.exp(-0.5 * (miss / error) ** 2) / (error * sqrt(2.0 * pi))
    return np.asarray((1.0 - WRONG) * normal + WRONG / WRONG_WIDTH)
