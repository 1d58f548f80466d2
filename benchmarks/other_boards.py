"""Boards that dry by other rules than Waney's model: the truth that forecasts are scored on.

Two dimensions on even cells, explicit steps; D an exponential of moisture, flat above saturation; a surface emission coefficient in
place of films and heat; days of weather strung from blocks; every board its own factor, start, emission and settling moisture.
n: boards, d: days. All boards are stepped at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from waney.wood.emc import equilibrium_moisture
from waney.wood.vapour import saturation_pressure

Array = NDArray[np.float64]

CELLS_THICK, CELLS_WIDE = 8, 5
WIDTH_M = 0.18
SATURATION = 0.28
SHAPE = 7.0
"""d ln D / dM below saturation."""
KELVINS = 4600.0
EMISSION_M_S = 3.0e-8
"""At 20 °C; with the saturation pressure. From the water that air can carry out of a package: at 0.1 m/s through gaps of 22 mm, 1.2 m
long, from 70 % humidity to all but saturated it takes 7e-8 m/s times 14 % moisture off a wood of 500 kg/m3, and cooling to the wet bulb
leaves less than half of that."""
BLOCK_DAYS = 9


@dataclass(frozen=True)
class Boards:
    """Each (n,): D at 20 % and 20 °C [m2/s], thickness [m], moisture at the start [-], emission [m/s], shift of EMC [-]."""

    d20: Array
    thickness_m: Array
    start: Array
    emission: Array
    shift: Array


@dataclass(frozen=True)
class Days:
    """Temperature [°C] and EMC [-] of every day and board, (d, n)."""

    warm_c: Array
    emc: Array


def strung(anomalies: Array, days: int, boards: int, rng: np.random.Generator) -> Array:
    """Blocks of days drawn from a year of anomalies (365, 2), strung together for every board: (days, boards, 2)."""
    count = days // BLOCK_DAYS + 1
    starts = rng.integers(0, len(anomalies), (count, boards))
    index = (starts[:, None, :] + np.arange(BLOCK_DAYS)[None, :, None]) % len(anomalies)
    found: Array = anomalies[index.reshape(count * BLOCK_DAYS, boards)[:days]]
    return found


def wandering(rng: np.random.Generator, days: int = 365) -> Array:
    """A year of anomalies where no measured one is at hand: temperature [K] and humidity [-], each day leaning on the last."""
    found = np.zeros((days, 2))
    for day in range(1, days):
        found[day] = 0.75 * found[day - 1] + rng.normal(0.0, (3.0, 0.07))
    return found


@lru_cache(maxsize=100_000)
def _emc(warm: int, humidity: int) -> float:
    return equilibrium_moisture(max(warm / 2.0, -1.0), humidity / 100.0)


def days_of(normal: Array, starts: Sequence[date], days: int, anomalies: Array, shift: Array) -> Days:
    """normal: temperature and humidity of the days of a year (365, 2); anomalies (days, n, 2)."""
    first = np.array([(start - date(start.year, 1, 1)).days for start in starts])
    at = (first[None, :] + np.arange(days)[:, None]) % 365
    warm = normal[at, 0] + anomalies[:, :, 0]
    humidity = np.clip(normal[at, 1] + anomalies[:, :, 1], 0.2, 0.95)
    keys = np.rint(warm * 2).astype(int), np.rint(humidity * 100).astype(int)
    emc = np.array([_emc(int(w), int(h)) for w, h in zip(keys[0].ravel(), keys[1].ravel(), strict=True)]).reshape(warm.shape)
    return Days(warm, np.clip(emc + shift[None, :], 0.03, 0.26))


def dried(boards: Boards, days: Days, until: float = 0.0) -> Array:
    """Mean moisture at the end of every day, (d, n); once every board is below `until` [-], what it was then."""
    m = np.repeat(boards.start[:, None], CELLS_THICK * CELLS_WIDE, axis=1).reshape(-1, CELLS_THICK, CELLS_WIDE)
    dx, dy = boards.thickness_m / 2 / CELLS_THICK, np.full_like(boards.thickness_m, WIDTH_M / 2 / CELLS_WIDE)
    means = np.zeros_like(days.emc)
    pressures = np.array([saturation_pressure(t) for t in range(-40, 61)]) / saturation_pressure(20.0)
    for day in range(len(days.emc)):
        warm = np.clip(days.warm_c[day], -39.0, 59.0)
        hot = np.exp(-KELVINS * (1 / (warm + 273.15) - 1 / 293.15))
        scale = boards.d20 * hot
        emission = boards.emission * np.interp(warm, np.arange(-40, 61), pressures)
        _one_day(m, scale, emission, days.emc[day], dx, dy)
        means[day:] = m.mean(axis=(1, 2))
        if (means[day] < until).all():
            break
    return means


def _one_day(m: Array, scale: Array, emission: Array, emc: Array, dx: Array, dy: Array) -> None:
    """Explicit steps, as many as stability asks; m is changed in place."""
    fastest = float((scale * np.exp(SHAPE * (SATURATION - 0.2)) * (1 / dx**2 + 1 / dy**2) + emission / dx).max())
    steps = max(int(np.ceil(86_400.0 * fastest / 0.4)), 1)
    dt = 86_400.0 / steps
    for _ in range(steps):
        d = scale[:, None, None] * np.exp(SHAPE * (np.minimum(m, SATURATION) - 0.2))
        flow = 0.5 * (d[:, 1:] + d[:, :-1]) * (m[:, 1:] - m[:, :-1]) / dx[:, None, None]
        side = 0.5 * (d[:, :, 1:] + d[:, :, :-1]) * (m[:, :, 1:] - m[:, :, :-1]) / dy[:, None, None]
        out = _leaving(m[:, 0], d[:, 0], emission, emc, dx)
        edge = _leaving(m[:, :, 0], d[:, :, 0], emission, emc, dy)
        change = np.zeros_like(m)
        change[:, :-1] += flow / dx[:, None, None]
        change[:, 1:] -= flow / dx[:, None, None]
        change[:, :, :-1] += side / dy[:, None, None]
        change[:, :, 1:] -= side / dy[:, None, None]
        change[:, 0] -= out / dx[:, None]
        change[:, :, 0] -= edge / dy[:, None]
        m += dt * change


def _leaving(m: Array, d: Array, emission: Array, emc: Array, size: Array) -> Array:
    """Flow out of the outermost cells: through half a cell, then off a surface that is no wetter than saturation."""
    inside = d / (size[:, None] / 2)
    surface = (emission[:, None] * emc[:, None] + inside * m) / (emission[:, None] + inside)
    return emission[:, None] * (np.minimum(surface, SATURATION) - emc[:, None])


def days_to(means: Array, start: Array, target: float) -> Array:
    """Days until each board's mean is at the target, by straight lines; not a number where it never is: (n,)."""
    found = np.full(start.size, np.nan)
    for i in range(start.size):
        below = np.flatnonzero(means[:, i] <= target)
        if below.size:
            at = int(below[0])
            before = start[i] if at == 0 else means[at - 1, i]
            found[i] = at + (before - target) / (before - means[at, i])
    return found
