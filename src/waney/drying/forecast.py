"""Forecast: over which dates a piece reaches its target, before and after it was read.

Particles are drawn from what nobody knows (prior), weighed by how well they agree with the readings, and drawn anew about those
that agree, so that the weights stay spread; every particle counts by prior x likelihood / density of how all of them were drawn
(population Monte Carlo with a deterministic mixture). Seed and number of particles are arguments; nothing else is random.
Vocabulary: z: standard normal draws of the doubts, (n, d); stage: one round of drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import partial
from math import ceil, floor
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from waney.drying.air import length_days
from waney.drying.band import Band, band, days_of, weighted, widened
from waney.drying.dry_weight import DryWeight
from waney.drying.evidence import BOARD_ERROR, LOSS_ERROR, Courses, Read, agreement, moisture_then, wrong_shares
from waney.drying.inside import Inside, inside_of
from waney.drying.particles import Case, Paths, Weather, prior_draws, run
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios

Array = NDArray[np.float64]

ENOUGH = 40.0
"""Effective number of particles below which another stage is drawn."""
STAGES = 3
NARROWING = 0.6
"""Width of the kernel about each particle, share of the spread of all that agree."""
REST_SPREAD = 0.1
"""Spread of the logarithm of the time from the last reading on, from the start where nothing was read: a piece does not keep its
pace as the model would have it. Ours, a choice, settled on boards of other rules (docs/methods/forecasts.md)."""
STRETCHES = 9
ODD = 0.8
"""Chance of being wrong above which a reading is asked about."""
BEYOND = 1.05
"""How much farther than the last day of its range a band is drawn."""


@dataclass(frozen=True)
class Spread:
    """Days to the target: 5, 50 and 95 %; share of the weight of particles that do not reach it while the air lasts [-]."""

    days: Estimate
    late: float


@dataclass(frozen=True)
class Forecast:
    """before, after: without and with the readings; mc: moisture on the day of the last reading [-]; dry: oven-dry weight
    [kg], None without weights; effective: how many particles the answer rests on; odd: numbers of readings that do not fit;
    end, now: what middle and face hold at the target (None: it is never reached) and at the last reading (None: nothing was
    read); unread, band: moisture by days without and with the readings [-]; kg: weight by days as it would be read, with the
    model's own error; None without weights."""

    before: Spread
    after: Spread
    mc: Estimate | None
    dry: Estimate | None
    effective: float
    odd: tuple[int, ...]
    days: Array
    shares: Array
    unread: Band
    band: Band
    kg: Band | None
    end: Inside | None
    now: Inside | None

    def ready_by(self, day: float) -> float:
        """Chance that the target is reached by a day from the start [-]; days at the end of the air count as not reached."""
        return float(self.shares[self.days <= day].sum())


def dates(start: date, days: Estimate) -> tuple[date, date, date]:
    """First, likely and last day: one in twenty is ready before the first, one in twenty is not by the last."""
    return start + timedelta(floor(days.low)), start + timedelta(round(days.likely)), start + timedelta(ceil(days.high))


def forecast(case: Case, reads: Sequence[Read], scenarios: Scenarios, dry: DryWeight | None = None) -> Forecast:
    """Days to the target with the readings and without, from `scenarios.n` particles a stage.

    Raises BadAir where a reading lies beyond the air, NoFigure for a wood without gravity.
    """
    on_days = np.array([read.day for read in reads], dtype=float)
    months = int(length_days(case.air)) // 30 + 1
    unread = run(case, prior_draws(case, scenarios), Weather.drawn(scenarios, months, 0), np.zeros(0))
    even = np.full(scenarios.n, 1.0 / scenarios.n)
    days, late, each = _strayed(unread, even, 0.0)
    before = _spread(days, late, each, "before any reading")
    ahead = band(unread.daily, even, days_of(BEYOND * before.days.high), stretch=_stretch())
    if not reads:
        end = inside_of(_mean_at_end(case, unread, even), unread.ends[:, 0], unread.ends[:, 1], even)
        never = _never(days, late)
        return Forecast(before, before, None, None, float(scenarios.n), (), never, each, ahead, ahead, None, end, None)
    last = float(on_days.max())
    stages = [run(case, prior_draws(case, scenarios), Weather.drawn(scenarios, months, 0, last), on_days)]
    kernels: list[_Kernels] = []
    shares = _weighed(stages, kernels, reads, dry)
    while len(stages) < STAGES and (len(stages) == 1 or _effective(shares) < ENOUGH):
        kernels.append(_Kernels.about(np.concatenate([one.z for one in stages]), shares))
        drawn = kernels[-1].draw(scenarios, len(stages))
        stages.append(run(case, drawn, Weather.drawn(scenarios, months, len(stages), last), on_days))
        shares = _weighed(stages, kernels, reads, dry)
    return _summed(case, Paths.all_of(stages), shares, reads, dry, before, ahead)


def _steps() -> Array:
    """The middles of even shares of a standard normal, (STRETCHES,)."""
    return np.array([NormalDist().inv_cdf((at + 0.5) / STRETCHES) for at in range(STRETCHES)])


def _stretch() -> Array:
    """By how much the time after the last reading may be longer or shorter, at even steps of its spread, (STRETCHES,)."""
    return np.exp(REST_SPREAD * _steps())


def _strayed(paths: Paths, shares: Array, last: float) -> tuple[Array, NDArray[np.bool_], Array]:
    """Days, whether late, and shares, (n STRETCHES,) each: the time from day `last` on, stretched and shortened."""
    days, late = paths.days, np.repeat(paths.late, STRETCHES)
    strayed = np.where(days > last, last + (days - last) * _stretch()[:, None], days[None, :]).T.ravel()
    return strayed, late, np.repeat(shares / STRETCHES, STRETCHES)


def _never(days: Array, late: NDArray[np.bool_]) -> Array:
    return np.where(late, np.inf, days)


def _effective(shares: Array) -> float:
    return float(1.0 / np.sum(shares**2))


def _weighed(stages: Sequence[Paths], kernels: Sequence[_Kernels], reads: Sequence[Read], dry: DryWeight | None) -> Array:
    """Share of every particle of all stages, (n stages,); they sum to 1."""
    paths = Paths.all_of(stages)
    known = agreement(Courses(paths.starts, paths.means), reads, dry)[0]
    logs = known - 0.5 * np.sum(paths.z**2, axis=1) - _drawn_density(paths.z, kernels)
    shares = np.exp(logs - logs.max())
    return np.asarray(shares / shares.sum())


def _drawn_density(z: Array, kernels: Sequence[_Kernels]) -> Array:
    """Logarithm of the density from which all stages together were drawn, up to a constant, (n,)."""
    each = np.array([-0.5 * np.sum(z**2, axis=1), *(one.log_density(z) for one in kernels)])
    top = each.max(axis=0)
    return np.asarray(top + np.log(np.exp(each - top).mean(axis=0)))


@dataclass(frozen=True)
class _Kernels:
    """A normal kernel about every particle, by its share: centres (m, d), shares (m,), root of the covariance (d, d)."""

    centres: Array
    shares: Array
    root: Array

    @classmethod
    def about(cls, z: Array, given: Array) -> _Kernels:
        """Shares are flattened until they rest on a tenth of the particles, lest one alone decide where the next are drawn."""
        flat = given
        while _effective(flat) < 0.1 * given.size:
            softer: Array = flat**0.8
            flat = softer / softer.sum()
        off = z - flat @ z
        covariance = (off * flat[:, None]).T @ off + 1e-4 * np.eye(z.shape[1])
        return cls(z, flat, np.asarray(NARROWING * np.linalg.cholesky(covariance), dtype=np.float64))

    def draw(self, scenarios: Scenarios, stage: int) -> Array:
        """As many particles as there are scenarios, at even steps through the shares, (n, d)."""
        steps = (np.arange(scenarios.n) + 0.5) / scenarios.n
        at = np.minimum(np.searchsorted(np.cumsum(self.shares), steps), self.shares.size - 1)
        moves = np.column_stack([scenarios.column(f"drying.move.{stage}.{d}") for d in range(self.centres.shape[1])])
        return np.asarray(self.centres[at] + moves @ self.root.T)

    def log_density(self, z: Array) -> Array:
        """Logarithm of the mixture's density, up to the constant of a standard normal, (n,)."""
        here, there = (np.linalg.solve(self.root, one.T) for one in (z, self.centres))
        square = np.sum(here**2, axis=0)[:, None] + np.sum(there**2, axis=0) - 2.0 * here.T @ there
        far = -0.5 * square + np.log(self.shares + 1e-300)
        top = far.max(axis=1)
        return np.asarray(top + np.log(np.exp(far - top[:, None]).sum(axis=1)) - np.log(np.diag(self.root)).sum())


def _spread(days: Array, late: NDArray[np.bool_], shares: Array, note: str) -> Spread:
    low, likely, high = weighted(days, shares)
    basis = Basis(Ground.SOURCE, "fpl-gtr-117", f"drying model fitted to published times, {note}")
    return Spread(Estimate(likely, low, high, basis, hard_min=0.0), float(shares[late].sum()))


def _estimate(values: Array, shares: Array, basis: Basis) -> Estimate:
    low, likely, high = weighted(values, shares)
    return Estimate(likely, low, high, basis, hard_min=0.0)


def _mean_at_end(case: Case, paths: Paths, shares: Array) -> float:
    """The target; of wood that begins below it, what it begins with [-]."""
    return min(case.target, float(shares @ paths.starts) / float(shares.sum()))


def _summed(
    case: Case, paths: Paths, shares: Array, reads: Sequence[Read], dry: DryWeight | None, before: Spread, ahead: Band
) -> Forecast:  # fmt: skip
    courses = Courses(paths.starts, paths.means)
    _, points, within = agreement(courses, reads, dry)
    basis = Basis(Ground.READING, "the readings", "weighed against the drying model")
    last = int(np.argmax([read.day for read in reads]))
    days, late, each = _strayed(paths, shares, reads[last].day)
    after = _spread(days, late, each, f"narrowed by {len(reads)} reading{'s' if len(reads) > 1 else ''}")
    unweighed = bool(np.isnan(points[0]))
    dry_kg = None if unweighed else _estimate(points, shares @ within, basis)
    middle, error = moisture_then(courses, reads, last, points, within)
    mc = _estimate((middle[:, None] + error[:, None] * _steps()).ravel(), each, basis)
    apart = (one[:, last] + middle - paths.means[:, last] for one in (paths.cores, paths.faces))
    core, face = ((one[:, None] + error[:, None] * _steps()).ravel() for one in apart)
    now = inside_of(mc.likely, core, face, each)
    end = inside_of(_mean_at_end(case, paths, shares), paths.ends[:, 0], paths.ends[:, 1], shares)
    wrong = wrong_shares(courses, reads, shares, points, within)
    odd = tuple(int(at) for at in np.flatnonzero(wrong > ODD))
    shown = days_of(max(BEYOND * after.days.high, reads[last].day))
    ranged = partial(band, shares=shares, days=shown, last=reads[last].day, stretch=_stretch())
    kg = None if unweighed else _as_read(ranged((within @ points)[:, None] * (1.0 + paths.daily)))
    never = _never(days, late)
    return Forecast(
        before, after, mc, dry_kg, _effective(shares), odd, never, each, ahead, ranged(paths.daily), kg, end, now
    )  # fmt: skip


def _as_read(kg: Band) -> Band:
    """Weights with the model's own error: by what has left since the start, and what comes to it at every reading."""
    lost = np.maximum(kg.likely[0] / kg.likely - 1.0, 0.0)
    return widened(kg, Z_95 * np.hypot(LOSS_ERROR * lost, BOARD_ERROR))
