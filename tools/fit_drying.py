"""Fits the drying model's shared numbers and species factors to the published air-drying times; writes the table and the report.

usage: python tools/fit_drying.py            writes src/waney/data/drying_pace.csv and docs/methods/drying-times.md
"""

# ruff: noqa: E501
from __future__ import annotations

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares, minimize_scalar

from waney.drying.air import filmed
from waney.drying.board import Drying, dry, evenly
from waney.drying.grid import grid
from waney.drying.kiln import days_of_one
from waney.drying.law import law_of
from waney.drying.outdoors import outdoor_air
from waney.drying.pace import Pace
from waney.drying.schedules import code_for, schedule
from waney.figures.tables import table
from waney.wood.climate import station
from waney.wood.species import species

ROOT = Path(__file__).parents[1]
YEARS = 4
PRIOR = 0.20
"""Standard deviation of the logarithm of a species' factor, before looking: of 0.1, 0.2 and 0.35 the one that foretold best what it was
not fitted to (yard from kiln, kiln from yard)."""
NOISE = 0.40
"""Standard deviation of the logarithm of a printed least or most number of days about the model's: what a rough table is worth."""
NODES = grid(12, 1.3)
STARTS = tuple(date(2023, m, 1) for m in range(1, 13))


@dataclass(frozen=True)
class Printed:
    """One row of the published times."""

    name: str
    wood: str
    region: str
    least: float
    most: float
    mean: float | None
    counted: bool
    seen: bool
    thickness_m: float
    final: float


def printed() -> tuple[Printed, ...]:
    return tuple(
        Printed(
            row["printed"], row["species_id"], row["region"], float(row["days_min"]), float(row["days_max"]),
            float(row["days_mean"]) if row["days_mean"] else None, row["counted"] == "yes", row["status"] == "seen",
            float(row["thickness_mm"]) / 1000, float(row["final_mc_pct"]) / 100,
        )
        for row in table("air_drying_times")
    )  # fmt: skip


@cache
def airs(region: str) -> tuple:
    places = [station(row["state"], row["station"]) for row in table("drying_regions") if row["region"] == region]
    return tuple(outdoor_air(place, start, 365 * YEARS) for place in places for start in STARTS)


@cache
def traits(wood: str) -> tuple[float, float]:
    known = species(wood)
    assert known.sg_green
    assert known.green_mc
    return known.sg_green.likely, known.green_mc.likely


def days(row: Printed, pace: Pace, factor: float) -> np.ndarray:
    """Days to the printed moisture for every station and start month; the length of the run where it is not reached."""
    gravity, green = traits(row.wood)
    law = law_of(gravity, Pace(1.0, 0.0, pace.free, 1.0))
    piece = Drying(row.thickness_m, gravity, law, evenly(green, NODES), 10.0, factor * pace.factor(gravity), 0.0, NODES)
    courses = (dry(piece, filmed(air, pace.film), stop_at=row.final, tolerance=3e-4) for air in airs(row.region))
    return np.array([course.days_to(row.final) or 365.0 * YEARS for course in courses])


def errors(row: Printed, pace: Pace, factor: float) -> tuple[float, float]:
    """Logarithms of model over printed: least and most days."""
    found = days(row, pace, factor)
    return math.log(found.min() / row.least), math.log(found.max() / row.most)


@dataclass(frozen=True)
class Kilned:
    """One row of the published kiln times: days from 20 % and from green to 6 %."""

    name: str
    wood: str
    code: str
    from_20: tuple[float, float]
    from_green: tuple[float, float]
    seen: bool


def kilned() -> tuple[Kilned, ...]:
    found = []
    for row in table("kiln_drying_times"):
        if row["species_id"]:
            code = code_for(row["species_id"], KILN_M)
            green = (float(row["days_min_green"] or "nan"), float(row["days_max_green"] or "nan"))
            found.append(
                Kilned(
                    row["printed"],
                    row["species_id"],
                    code,
                    (float(row["days_min_20"]), float(row["days_max_20"])),
                    green,
                    row["status"] == "seen",
                )
            )
    return tuple(found)


KILN_M = 0.0286
"""Green thickness of 4/4 boards [m]: 1 1/8 in, sawmill practice."""


def kiln_days(row: Kilned, pace: Pace, factor: float) -> tuple[float, float]:
    """Days from 20 % and from green to 6 % by the wood's own schedule."""
    gravity, green = traits(row.wood)
    law = law_of(gravity, Pace(1.0, 0.0, pace.free, 1.0))
    plan = schedule(row.code)
    pieces = (
        Drying(KILN_M, gravity, law, evenly(mc, NODES), 20.0, factor * pace.factor(gravity), 0.0, NODES) for mc in (0.20, green)
    )
    from_20, from_green = (days_of_one(piece, plan, 0.06, 1.0, 12.0) for piece in pieces)
    return from_20, from_green


def kiln_errors(row: Kilned, pace: Pace, factor: float) -> list[float]:
    """Logarithms of model over the middle of each printed range (geometric)."""
    ranges = [one for one in (row.from_20, row.from_green)]
    found = kiln_days(row, pace, factor)
    return [
        math.log(days / math.sqrt(low * high)) if high == high else 0.0 for days, (low, high) in zip(found, ranges, strict=True)
    ]


def pace_of(x: Sequence[float]) -> Pace:
    return Pace(math.exp(x[0]), x[1], math.exp(x[2]), math.exp(x[3]))


def misfit(pool: ThreadPoolExecutor, rows: Sequence[Printed], x: Sequence[float], factors: dict[str, float]) -> np.ndarray:
    pace = pace_of(x)
    found = pool.map(lambda row: errors(row, pace, factors.get(row.wood, 1.0)), rows)
    # weak priors that keep the four numbers where the literature puts them
    held = [x[0] / 1.0, x[1] / 1.0, (x[2] - math.log(4.0)) / 1.0, x[3] / 2.0]
    kiln = pool.map(lambda row: kiln_errors(row, pace, factors.get(row.wood, 1.0)), KILN)
    return np.array([e / NOISE for pair in found for e in pair] + [e / NOISE for pair in kiln for e in pair] + held)


KILN = kilned()


def fit_shared(pool: ThreadPoolExecutor, rows: Sequence[Printed], factors: dict[str, float], x0: Sequence[float]) -> list[float]:
    found = least_squares(lambda x: misfit(pool, rows, x, factors), x0, diff_step=0.03, max_nfev=20, xtol=1e-3, ftol=1e-3)
    return [float(v) for v in found.x]


def fit_factor(rows: Sequence[Printed], kiln: Sequence[Kilned], pace: Pace, ends: tuple[int, ...] = (0, 1)) -> float:
    """The most probable factor of one species: its rows (their least, most or both), its kiln times, and the prior."""

    def cost(z: float) -> float:
        found = [errors(one, pace, math.exp(z))[end] for one in rows for end in ends]
        found += [e for one in kiln for e in kiln_errors(one, pace, math.exp(z))]
        return sum((e / NOISE) ** 2 for e in found) + (z / PRIOR) ** 2

    return math.exp(float(minimize_scalar(cost, bounds=(-1.2, 1.2), method="bounded", options={"xatol": 0.03}).x))


def by_wood(rows: Sequence[Printed]) -> dict[str, list[Printed]]:
    found: dict[str, list[Printed]] = {}
    for row in rows:
        found.setdefault(row.wood, []).append(row)
    return found


def kiln_of(wood: str) -> list[Kilned]:
    return [row for row in KILN if row.wood == wood]


def fit(pool: ThreadPoolExecutor, rows: Sequence[Printed], starts: Sequence[Sequence[float]]) -> list[float]:
    """Shared numbers with every factor 1, the best of a few starts: what density alone can say."""
    found = [fit_shared(pool, rows, {}, x0) for x0 in starts]
    for x in found:
        print([round(v, 3) for v in x], float(np.sum(misfit(pool, rows, x, {}) ** 2)), flush=True)
    return min(found, key=lambda x: float(np.sum(misfit(pool, rows, x, {}) ** 2)))


def without_each(pool: ThreadPoolExecutor, rows: Sequence[Printed], x: Sequence[float]) -> dict[str, list[float]]:
    """Shared numbers without one species at a time: one Gauss-Newton step from the fit to all."""
    base = misfit(pool, rows, x, {})
    columns = [misfit(pool, rows, [v + 0.03 * (i == j) for j, v in enumerate(x)], {}) for i in range(4)]
    jacobian = np.array([(column - base) / 0.03 for column in columns]).T
    found = {}
    for wood in by_wood(rows):
        keep = np.array([row.wood != wood for row in (*rows, *KILN) for _ in range(2)] + [True] * 4)
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


@dataclass(frozen=True)
class Held:
    """One row beside the model: days least, most, mean."""

    row: Printed
    least: float
    most: float
    mean: float

    @property
    def overlap(self) -> float:
        """What both ranges share, over what either covers [-]."""
        shared = min(self.most, self.row.most) - max(self.least, self.row.least)
        return max(shared, 0.0) / (max(self.most, self.row.most) - min(self.least, self.row.least))

    @property
    def errors(self) -> tuple[float, float]:
        return math.log(self.least / self.row.least), math.log(self.most / self.row.most)


def held(row: Printed, pace: Pace, factor: float) -> Held:
    found = days(row, pace, factor)
    return Held(row, float(found.min()), float(found.max()), float(found.mean()))


def headline(found: Sequence[Held]) -> str:
    off = np.abs([e for one in found for e in one.errors])
    bias = np.array([one.errors for one in found])
    return (
        f"{len(found)} | {np.median([one.overlap for one in found]):.2f} | {np.median(off):.2f} (a factor of {math.exp(np.median(off)):.2f}) | "
        f"{np.median(bias[:, 0]):+.2f} | {np.median(bias[:, 1]):+.2f}"
    )


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


def write_tables(x: Sequence[float], deviations: np.ndarray, factors: dict[str, float]) -> None:
    data = ROOT / "src" / "waney" / "data"
    names = ("level", "density_slope", "free", "film")
    logs = (True, False, True, True)
    lines = [
        "# Shared numbers of the drying model, fitted to air_drying_times.csv by tools/fit_drying.py; low and high: 5 and 95 %.",
        "name,likely,low,high",
    ]
    for name, value, sd, logarithm in zip(names, x, deviations, logs, strict=True):
        points = [value + z * sd for z in (0.0, -1.645, 1.645)]
        shown = [math.exp(p) if logarithm else p for p in points]
        lines.append(f"{name}," + ",".join(f"{p:.4g}" for p in shown))
    (data / "drying_pace.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    rows = [
        "# Factor on the diffusion coefficient of one species, beside what its density says; fitted like drying_pace.csv, prior 1 with a",
        f"# spread of {PRIOR} in its logarithm. spread: standard deviation of the logarithm that is left.",
        "species_id,factor,spread",
        *(f"{wood},{factor:.3f},{SPREAD_LEFT:.2f}" for wood, factor in sorted(factors.items())),
    ]
    (data / "drying_factors.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")


SPREAD_LEFT = 1.0 / math.sqrt(1.0 / PRIOR**2 + 2.0 / NOISE**2 / 4.0)
"""What is left of the prior after one row, when days go with the root of the factor (winters hold them up): an estimate."""


def kiln_words(found: Sequence[tuple[Kilned, tuple[float, float]]]) -> str:
    """Median error against the middle of the printed ranges, and how many lie within them."""
    off, within = [], 0
    for row, days_found in found:
        for value, (low, high) in zip(days_found, (row.from_20, row.from_green), strict=True):
            if high == high:
                off.append(abs(math.log(value / math.sqrt(low * high))))
                within += low <= value <= high
    return f"median error {np.median(off):.2f} (a factor of {math.exp(float(np.median(off))):.2f}), {within} of {len(off)} within the printed range"


def main() -> None:
    rows = [row for row in printed() if row.counted]
    with ThreadPoolExecutor(2) as pool:
        x = fit(pool, rows, ([-0.52, 1.50, 0.07, -2.03],))
        pace = pace_of(x)
        deviations = spread(pool, rows, x)
        print("pace", pace, deviations, flush=True)
        alone = list(pool.map(lambda row: held(row, pace, 1.0), rows))
        left_out = without_each(pool, rows, x)
        blind = list(pool.map(lambda row: held(row, pace_of(left_out[row.wood]), 1.0), rows))
        crossing = crossed(pool, rows, pace)
        print("crossed", np.median(crossing, axis=0), np.sqrt((crossing**2).mean(axis=0)), flush=True)
        woods = dict.fromkeys([row.wood for row in rows] + [row.wood for row in KILN])
        factors = dict(pool.map(lambda wood: (wood, fit_factor(by_wood(rows).get(wood, ()), kiln_of(wood), pace)), woods))
        fitted = list(pool.map(lambda row: held(row, pace, factors[row.wood]), rows))
        kiln_alone = [(row, kiln_days(row, pace, 1.0)) for row in KILN]
        kiln_fitted = [(row, kiln_days(row, pace, factors.get(row.wood, 1.0))) for row in KILN]
        write_tables(x, deviations, factors)
        write_page(pace, deviations, (alone, blind, fitted), (kiln_alone, kiln_fitted), factors, crossing)


def write_page(
    pace: Pace,
    deviations: np.ndarray,
    yards: tuple[list[Held], ...],
    kilns: tuple[list, ...],
    factors: dict[str, float],
    crossing: np.ndarray,
) -> None:
    alone, blind, fitted = yards
    seen, seen_blind = ([one for one in found if one.row.seen] for found in (fitted, blind))
    maple = seen[0]
    medians, means = np.median(crossing, axis=0), np.sqrt((crossing**2).mean(axis=0))
    text = [
        "# Drying times: the model beside the published ones",
        "",
        "Written by `tools/fit_drying.py`. Yard: one-inch lumber from green to 20 %, stacked on the first of each of twelve months at three stations",
        "of the wood's region (monthly normals, stack in the open): the model's least and most days of the 36 runs beside the printed ones. Kiln: 4/4, by",
        "the wood's own schedule, to 6 %. All printed times come from memory of FPL-GTR-117 and AH-188, but for the rows marked seen. Regions and",
        "stations are our reading. Yard and kiln are fitted together, so that one wood is one wood.",
        "",
        f"Four shared numbers: level {pace.level:.2f}, density slope {pace.density_slope:.2f}, free-water factor {pace.free:.2f}, film factor outdoors "
        f"{pace.film:.2f} (standard deviations of logarithm, value, logarithm, logarithm: {', '.join(f'{d:.2f}' for d in deviations)}).",
        f"A species' factor has the prior 1 with a spread of {PRIOR} in its logarithm; a printed end is held to be good to {NOISE} in its logarithm.",
        "",
        "| yard | rows | median overlap | median error of an end (logarithm) | bias, least | bias, most |",
        "|---|---|---|---|---|---|",
        f"| density alone | {headline(alone)} |",
        f"| density alone, each species left out of the fit | {headline(blind)} |",
        f"| with the species' factor (fitted to the same rows) | {headline(fitted)} |",
        f"| seen rows alone, with the factor | {headline(seen)} |",
        f"| seen rows alone, density alone, species left out | {headline(seen_blind)} |",
        "",
        f"Kiln, density alone: {kiln_words(kilns[0])}. With the factor: {kiln_words(kilns[1])}.",
        "",
        f"Does the factor earn its place? Fitted to a wood's kiln times and judged on its yard times, and the other way round ({len(crossing)} ends), the median "
        f"error is {medians[0]:.3f} with it and {medians[1]:.3f} without, the root mean square {means[0]:.3f} and {means[1]:.3f}.",
        "",
        f"Sugar maple flooring stock in Upper Michigan (Houghton Lake, Sault Ste. Marie, Green Bay, Duluth, Alpena): model {maple.least:.0f} to {maple.most:.0f} "
        f"days, mean {maple.mean:.0f}; printed 40 to 205, mean 90 (FPL Report 2086, seen). Left out of the fit and by density alone: {seen_blind[0].least:.0f} to "
        f"{seen_blind[0].most:.0f}, mean {seen_blind[0].mean:.0f}.",
        "",
        "## Yard, days to 20 %",
        "",
        "| wood, as printed | status | printed | density alone | left out | factor | with factor |",
        "|---|---|---|---|---|---|---|",
    ]
    for a, b, c in zip(alone, blind, fitted, strict=True):
        row = a.row
        text.append(
            f"| {row.name} | {'seen' if row.seen else 'memory'} | {row.least:.0f} to {row.most:.0f} | {a.least:.0f} to {a.most:.0f} | {b.least:.0f} to {b.most:.0f} | "
            f"{factors[row.wood]:.2f} | {c.least:.0f} to {c.most:.0f} |"
        )
    text += [
        "",
        "## Kiln, days to 6 %",
        "",
        "| wood, as printed | status | schedule | printed from 20 % | model | with factor | printed from green | model | with factor |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for (one, plain), (_, better) in zip(*kilns, strict=True):
        (low, high), (green, most) = one.from_20, one.from_green
        last = f"{green:.0f} to {most:.0f}" if most == most else f"{green:.0f} or more" if green == green else ""
        text.append(
            f"| {one.name} | {'seen' if one.seen else 'memory'} | {one.code} | {low:.0f} to {high:.0f} | {plain[0]:.1f} | {better[0]:.1f} | {last} | {plain[1]:.1f} | {better[1]:.1f} |"
        )
    (ROOT / "docs" / "methods" / "drying-times.md").write_text("\n".join(text) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
