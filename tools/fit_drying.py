"""Fits the drying model's shared numbers and species factors to the published air-drying times; writes the table and the report.

usage: python tools/fit_drying.py            writes src/waney/data/drying_pace.csv and docs/methods/drying-times.md
"""

# ruff: noqa: E501
from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from drying_model import (
    KILN,
    NOISE,
    PRIOR,
    Kilned,
    Printed,
    by_wood,
    errors,
    held,
    kiln_days,
    kiln_errors,
    kiln_of,
    pace_of,
    printed,
)
from drying_page import write_page, write_tables
from scipy.optimize import least_squares, minimize_scalar

from waney.drying.pace import Pace


def misfit(pool: ThreadPoolExecutor, rows: Sequence[Printed], x: Sequence[float], factors: dict[str, float]) -> np.ndarray:
    pace = pace_of(x)
    found = pool.map(lambda row: errors(row, pace, factors.get(row.wood, 1.0)), rows)
    # weak priors that keep the four numbers where the literature puts them
    held = [x[0] / 1.0, x[1] / 1.0, (x[2] - math.log(4.0)) / 1.0, x[3] / 2.0]
    kiln = pool.map(lambda row: kiln_errors(row, pace, factors.get(row.wood, 1.0)), KILN)
    return np.array([e / NOISE for pair in found for e in pair] + [e / NOISE for pair in kiln for e in pair] + held)


def fit_shared(pool: ThreadPoolExecutor, rows: Sequence[Printed], factors: dict[str, float], x0: Sequence[float]) -> list[float]:
    def missed(x: np.ndarray) -> np.ndarray:
        return misfit(pool, rows, [float(v) for v in x], factors)

    found = least_squares(missed, x0, diff_step=(0.03,) * 4, max_nfev=20, xtol=1e-3, ftol=1e-3)
    return [float(v) for v in found.x]


def fit_factor(rows: Sequence[Printed], kiln: Sequence[Kilned], pace: Pace, ends: tuple[int, ...] = (0, 1)) -> float:
    """The most probable factor of one species: its rows (their least, most or both), its kiln times, and the prior."""

    def cost(z: float) -> float:
        found = [errors(one, pace, math.exp(z))[end] for one in rows for end in ends]
        found += [e for one in kiln for e in kiln_errors(one, pace, math.exp(z))]
        return sum((e / NOISE) ** 2 for e in found) + (z / PRIOR) ** 2

    return math.exp(float(minimize_scalar(cost, bounds=(-1.2, 1.2), method="bounded", options={"xatol": 0.03}).x))


def fit(pool: ThreadPoolExecutor, rows: Sequence[Printed], starts: Sequence[Sequence[float]]) -> list[float]:
    """Shared numbers with every factor 1, the best of a few starts: what density alone can say."""
    found = [fit_shared(pool, rows, {}, x0) for x0 in starts]
    for x in found:
        print([round(v, 3) for v in x], float(np.sum(misfit(pool, rows, x, {}) ** 2)), flush=True)
    return min(found, key=lambda x: float(np.sum(misfit(pool, rows, x, {}) ** 2)))


def woods_of(rows: Sequence[Printed]) -> tuple[str, ...]:
    """Every wood with a printed time, in a yard or in a kiln."""
    return tuple(dict.fromkeys([row.wood for row in rows] + [row.wood for row in KILN]))


def without_each(pool: ThreadPoolExecutor, rows: Sequence[Printed], x: Sequence[float]) -> dict[str, list[float]]:
    """Shared numbers without one species at a time: one Gauss-Newton step from the fit to all."""
    base = misfit(pool, rows, x, {})
    columns = [misfit(pool, rows, [v + 0.03 * (i == j) for j, v in enumerate(x)], {}) for i in range(4)]
    jacobian = np.array([(column - base) / 0.03 for column in columns]).T
    found = {}
    for wood in woods_of(rows):
        keep = np.array(
            [one != wood for one in [row.wood for row in rows] + [row.wood for row in KILN] for _ in range(2)] + [True] * 4
        )
        change = np.linalg.lstsq(jacobian[keep], -base[keep], rcond=None)[0]
        found[wood] = [float(a + b) for a, b in zip(x, change, strict=True)]
    return found


def spread(pool: ThreadPoolExecutor, rows: Sequence[Printed], x: Sequence[float]) -> np.ndarray:
    """Standard deviations of the four numbers [-], from the curvature at the fit, wider where the rows scatter more than NOISE."""
    base = misfit(pool, rows, x, {})
    columns = [misfit(pool, rows, [v + 0.03 * (i == j) for j, v in enumerate(x)], {}) for i in range(4)]
    jacobian = np.array([(column - base) / 0.03 for column in columns]).T
    wider = max(1.0, float(base @ base) / (base.size - 4))
    return np.sqrt(wider * np.diag(np.linalg.inv(jacobian.T @ jacobian)))


def crossed(pool: ThreadPoolExecutor, rows: Sequence[Printed], pace: Pace) -> np.ndarray:
    """Errors of what a factor was not fitted to, (n, 2), with the factor and with none: yard from kiln, kiln from yard."""

    def one(wood: str) -> list[tuple[float, float]]:
        yard, kiln = by_wood(rows)[wood], kiln_of(wood)
        if not kiln:
            return []
        from_kiln, from_yard = fit_factor((), kiln, pace), fit_factor(yard, (), pace)
        found = [
            (abs(a), abs(b)) for row in yard for a, b in zip(errors(row, pace, from_kiln), errors(row, pace, 1.0), strict=True)
        ]
        pairs = [(kiln_errors(row, pace, from_yard), kiln_errors(row, pace, 1.0)) for row in kiln]
        return found + [(abs(a), abs(b)) for with_it, without in pairs for a, b in zip(with_it, without, strict=True)]

    return np.array([pair for found in pool.map(one, by_wood(rows)) for pair in found])


def main() -> None:
    shown = printed()
    rows = [row for row in shown if row.fitted]
    with ThreadPoolExecutor(2) as pool:
        x = fit(pool, rows, ([-0.53, 1.45, 0.07, 0.07],))
        pace = pace_of(x)
        deviations = spread(pool, rows, x)
        print("pace", pace, deviations, flush=True)
        alone = list(pool.map(lambda row: held(row, pace, 1.0), shown))
        left_out = without_each(pool, rows, x)
        blind = list(pool.map(lambda row: held(row, pace_of(left_out[row.wood]), 1.0), shown))
        crossing = crossed(pool, rows, pace)
        print("crossed", np.median(crossing, axis=0), np.sqrt((crossing**2).mean(axis=0)), flush=True)
        found = pool.map(lambda wood: (wood, fit_factor(by_wood(rows).get(wood, ()), kiln_of(wood), pace)), woods_of(rows))
        factors = dict(found)
        fitted = list(pool.map(lambda row: held(row, pace, factors[row.wood]), shown))
        kiln_alone = [(row, kiln_days(row, pace, 1.0)) for row in KILN]
        kiln_blind = [(row, kiln_days(row, pace_of(left_out[row.wood]), 1.0)) for row in KILN]
        kiln_fitted = [(row, kiln_days(row, pace, factors.get(row.wood, 1.0))) for row in KILN]
        write_tables(x, deviations, factors)
        write_page(pace, deviations, (alone, blind, fitted), (kiln_alone, kiln_blind, kiln_fitted), factors, crossing)


if __name__ == "__main__":
    main()
