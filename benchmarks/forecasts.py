"""Scores forecasts on boards that dry by other rules; writes the table of docs/methods/forecasts.md.

usage: python3 dev.py prove forecasts.py (half an hour). With WANEY_SHARED set, days of weather come from a measured year.
"""

from __future__ import annotations

import gzip
import json
import os
import sys
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from math import log
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.stats import beta

sys.path.insert(0, str(Path(__file__).parent))
import other_boards as other

from waney.drying.air import filmed
from waney.drying.board import dry
from waney.drying.doubts import FILM, doubts, drawn
from waney.drying.evidence import MoistureRead, Read, WeightRead
from waney.drying.forecast import Forecast, forecast
from waney.drying.outdoors import daily, outdoor_air
from waney.drying.particles import Case
from waney.drying.sample_board import SampleBoard, Section
from waney.drying.stack import PARTICLES
from waney.drying.weighing import WeighingScale, weighed
from waney.figures.scenarios import Scenarios, likely
from waney.wood.climate import monthly_means, read_hours, station
from waney.wood.species import species
from waney.wood.weight import green_moisture

Array = NDArray[np.float64]
WOODS = ("oak_white", "walnut_black", "pine_eastern_white")
THICKNESSES = {"4/4": 0.0286, "8/4": 0.0540}
PLACE = station("IN", "Indianapolis")
TARGET, DAYS = 0.20, 900
SHARES = (0.25, 0.50, 0.75)
FACTOR_SPREAD = 0.24
"""Of the logarithm: between woods 0.19 as the fit left it, and a board's own 0.15."""
SCALE = WeighingScale(0.045)
COUNT, SEEDS = 36, (5, 6)
"""Boards of a kind and seed, and the seeds that are reported; the model's error was settled on seeds 21 to 23."""
Row = dict[str, float | str | bool]
MEDIANS = ("width", "width_before", "error", "error_before", "line", "log")
PAGE = Path(__file__).parents[1] / "docs" / "methods" / "forecasts.md"
BEGIN, END = "<!-- scored -->", "<!-- end -->"
HEAD = """
| boards | n | inside the 90 % range (with its own 95 % range) | prior range | width / true days | prior width | error | prior error | straight line | log-linear |
|---|---|---|---|---|---|---|---|---|---|"""


@dataclass(frozen=True)
class Board:
    """One true board, its readings, and the day it was dry."""

    wood: str
    thick: str
    start: date
    true_days: float
    reads: tuple[Read, ...]
    plain: tuple[tuple[float, float], ...]
    """day and moisture as the sample board's arithmetic gives it"""
    way: tuple[float, ...]
    """days at which a quarter, half and three quarters of the water had left"""


def anomalies(rng: np.random.Generator) -> Array:
    """A measured year's days less its months' straight lines (365, 2), where the folder of data is there; else drawn."""
    folder = os.environ.get("WANEY_SHARED", "")
    path = Path(folder) / "datasets" / "climate" / "tmy3_hourly_chicago_il.csv.gz"
    if not folder or not path.is_file():
        return other.wandering(rng)
    with gzip.open(path, "rt", encoding="utf-8") as lines:
        year = read_hours(lines, "Chicago")
    hours = np.array([(air.temperature_c, air.humidity) for air in year.hours])[: 365 * 24]
    found: Array = hours.reshape(365, 24, 2).mean(axis=1) - daily(monthly_means(year))
    return found


@cache
def level(wood: str) -> float:
    """D at 20 % and 20 °C with which the other rules take as long at 4/4 in April as the model's likely board, whose times are
    fitted to printed ones: both start from the same printed times, and differ in all else."""
    air = outdoor_air(PLACE, date(2026, 4, 1), DAYS)
    middle = likely(doubts(species(wood)))
    board = drawn(middle, THICKNESSES["4/4"], float(air.source[0]))
    wanted = dry(board, filmed(air, middle[FILM]), stop_at=TARGET).days_to(TARGET)
    if wanted is None:
        raise ValueError(f"{wood}: the likely board is not dry in {DAYS} days.")
    tried = np.geomspace(1e-11, 2e-10, 20)
    ones = np.ones(tried.size)
    boards = other.Boards(
        tried, ones * THICKNESSES["4/4"], ones * green_moisture(species(wood)).likely, ones * other.EMISSION_M_S, ones * 0.0
    )
    days = other.days_of(daily(PLACE), [date(2026, 4, 1)] * tried.size, 300, np.zeros((300, tried.size, 2)), boards.shift)
    took = other.days_to(other.dried(boards, days, TARGET), boards.start, TARGET)
    known = ~np.isnan(took)
    if not took[known].min() < wanted < took[known].max():
        raise ValueError(f"{wood}: {wanted:.0f} days lie outside those tried, {took[known].min():.0f} to {took[known].max():.0f}")
    return float(np.exp(np.interp(-log(wanted), -np.log(took[known]), np.log(tried[known]))))


def truths(wood: str, thick: str, count: int, seed: int) -> list[Board]:
    """Boards of a kind with everything drawn."""
    rng = np.random.default_rng(seed)
    green = green_moisture(species(wood))
    spread = green.width / 3.29
    ones = np.ones(count)
    boards = other.Boards(
        level(wood) * np.exp(rng.normal(0, FACTOR_SPREAD, count)),
        ones * THICKNESSES[thick] * (1 + rng.normal(0, 0.02, count)),
        np.clip(rng.normal(green.likely, spread, count), 0.35, green.hard_max),
        other.EMISSION_M_S * np.exp(rng.normal(0, 0.25, count)),
        rng.normal(0, 0.008, count),
    )
    starts = [date(2026, 1, 1) + timedelta(int(day)) for day in rng.integers(0, 365, count)]
    strung = other.strung(anomalies(rng), DAYS, count, rng)
    means = other.dried(boards, other.days_of(daily(PLACE), starts, DAYS, strung, boards.shift), TARGET)
    true = other.days_to(means, boards.start, TARGET)
    return [
        _read(wood, thick, starts[i], float(true[i]), np.concatenate(([boards.start[i]], means[:, i])), rng)
        for i in range(count)
        if not np.isnan(true[i])
    ]


def _read(wood: str, thick: str, start: date, true: float, means: Array, rng: np.random.Generator) -> Board:
    """Sections that lie, a weighing scale that leans, a reading a week: one in ten missed, one in ten wrong."""
    dry_kg, lean = float(rng.uniform(3.0, 8.0)), float(rng.normal(1.0, 0.01))
    bias = float(rng.normal(0.0, 0.02))
    sections = tuple(Section(0.1 * (1 + means[0] * (1 + bias + float(rng.normal(0, 0.03)))), 0.1) for _ in range(2))

    def scale(mc: float, wrong: bool) -> float:
        slip = float(rng.choice([-1, 1]) * rng.uniform(0.05, 0.25)) if wrong else float(rng.normal(0, 0.002))
        return max(round(dry_kg * (1 + mc) * lean * (1 + slip) / SCALE.mark_kg) * SCALE.mark_kg, SCALE.mark_kg)

    board = SampleBoard(weighed([scale(float(means[0]), False)], SCALE), sections)
    reads: list[Read] = [MoistureRead(0.0, board.start), WeightRead(0.0, board.first.kg, board.first.error_kg)]
    plain = [(0.0, board.mc)]
    for day in range(7, int(true), 7):
        if rng.random() < 0.1:
            continue
        found = weighed([scale(float(means[day]), bool(rng.random() < 0.1))], SCALE)
        reads.append(WeightRead(float(day), found.kg, found.error_kg))
        plain.append((float(day), found.kg / board.dry_kg - 1.0))
    way = tuple(float(np.flatnonzero(means <= means[0] - share * (means[0] - TARGET))[0]) for share in SHARES)
    return Board(wood, thick, start, true, tuple(reads), tuple(plain), way)


def straight(plain: list[tuple[float, float]], log_linear: bool) -> float:
    """Days to the target by a least-squares line through moisture (or its logarithm) and time; not a number where it rises."""
    if len(plain) < 2:
        return float("nan")
    days, mcs = np.array(plain).T
    mcs = np.maximum(mcs, 0.01)
    slope, at = np.polyfit(days, np.log(mcs) if log_linear else mcs, 1)
    return float((log(TARGET) if log_linear else TARGET) - at) / slope if slope < 0 else float("nan")


def score(board: Board, scenarios: Scenarios, shares: tuple[float, ...] = SHARES) -> list[Row]:
    """One row a share of the way."""
    case = Case(species(board.wood), THICKNESSES[board.thick], outdoor_air(PLACE, board.start, DAYS), TARGET)
    rows: list[Row] = []
    for share, until in ((share, until) for share, until in zip(SHARES, board.way, strict=True) if share in shares):
        reads = [read for read in board.reads if read.day <= until]
        plain = [one for one in board.plain if one[0] <= until]
        found: Forecast = forecast(case, reads, scenarios)
        after, before, true = found.after.days, found.before.days, board.true_days
        rows.append(
            {
                "wood": board.wood,
                "thick": board.thick,
                "share": share,
                "inside": bool(after.low <= true <= after.high),
                "inside_before": bool(before.low <= true <= before.high),
                "width": after.width / true,
                "width_before": before.width / true,
                "error": abs(after.likely - true) / true,
                "error_before": abs(before.likely - true) / true,
                "line": abs(straight(plain, False) - true) / true,
                "log": abs(straight(plain, True) - true) / true,
                "effective": found.effective,
            }
        )
    return rows


def rows_of(count: int, seed: int, woods: Sequence[str] = WOODS) -> Iterator[Row]:
    """Every board scored once, at a quarter, half or three quarters of its way in turn."""
    for wood in woods:
        for k, thick in enumerate(THICKNESSES):
            for i, board in enumerate(truths(wood, thick, count, 1000 * seed + 10 * WOODS.index(wood) + k)):
                yield from score(board, Scenarios(i, PARTICLES), (SHARES[i % len(SHARES)],))


def told(name: str, rows: Sequence[Row]) -> str:
    """One line of the table: means of what is true or not, medians of the rest; a line that rises counts as wholly wrong."""
    inside, prior = (float(np.mean([bool(row[key]) for row in rows])) for key in ("inside", "inside_before"))
    held = inside * len(rows)
    low, high = float(beta.ppf(0.025, held, len(rows) - held + 1)), float(beta.ppf(0.975, held + 1, len(rows) - held))
    numbers = [float(np.median([float(row[key]) if row[key] == row[key] else np.inf for row in rows])) for key in MEDIANS]
    return (
        f"| {name} | {len(rows)} | {inside:.0%} ({low:.0%} to {high:.0%}) | {prior:.0%} | "
        + " | ".join(f"{n:.2f}" for n in numbers)
        + " |"
    )


def table_of(rows: Sequence[Row]) -> str:
    """The table: by share of the way, by wood, by thickness."""
    lines = [told("all", rows)]
    lines += [told(f"{share:.0%} of the water gone", [row for row in rows if row["share"] == share]) for share in SHARES]
    for key in ("wood", "thick"):
        lines += [
            told(str(value).replace("_", " "), [r for r in rows if r[key] == value])
            for value in dict.fromkeys(r[key] for r in rows)
        ]
    return "\n".join(lines)


def main(arguments: Sequence[str]) -> None:
    """`rows COUNT SEED [WOOD]` prints rows; `table FILE...` writes the page from such rows; nothing: both."""
    if arguments[:1] == ["rows"]:
        for row in rows_of(int(arguments[1]), int(arguments[2]), arguments[3:] or WOODS):
            print(json.dumps(row), flush=True)
        return
    rows = [json.loads(line) for name in arguments[1:] for line in Path(name).read_text(encoding="utf-8").splitlines()]
    table = table_of(rows or [row for seed in SEEDS for row in rows_of(COUNT, seed)])
    text = PAGE.read_text(encoding="utf-8")
    top, _, rest = text.partition(BEGIN)
    PAGE.write_text(f"{top}{BEGIN}\n{HEAD}\n{table}\n\n{END}{rest.partition(END)[2]}", encoding="utf-8")
    print(table)


if __name__ == "__main__":
    main(sys.argv[1:])
