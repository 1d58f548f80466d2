"""Published drying times and what the drying model says beside them: for `fit_drying.py` and its page."""

# ruff: noqa: E501
from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np

from waney.drying.air import filmed
from waney.drying.board import Drying, dry, evenly
from waney.drying.grid import grid
from waney.drying.kernel.records import AirSteps
from waney.drying.kiln import days_of_one
from waney.drying.law import law_of
from waney.drying.outdoors import Passage, outdoor_air
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
    pile_m: float
    fitted: bool
    seen: bool
    thickness_m: float
    final: float


def printed() -> tuple[Printed, ...]:
    """Every row that the model is held against, `fitted` or not."""
    return tuple(
        Printed(
            row["printed"], row["species_id"], row["region"], float(row["days_min"]), float(row["days_max"]),
            float(row["days_mean"]) if row["days_mean"] else None, float(row["pile_m"]), row["counted"] == "yes", row["status"] == "seen",
            float(row["thickness_mm"]) / 1000, float(row["final_mc_pct"]) / 100,
        )
        for row in table("air_drying_times")
        if row["counted"] != "no"
    )  # fmt: skip


@cache
def airs(region: str, pile_m: float) -> tuple[AirSteps, ...]:
    places = [station(row["state"], row["station"]) for row in table("drying_regions") if row["region"] == region]
    return tuple(outdoor_air(place, start, 365 * YEARS, passage=Passage(pile_m)) for place in places for start in STARTS)


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
    courses = (dry(piece, filmed(air, pace.film), stop_at=row.final, tolerance=3e-4) for air in airs(row.region, row.pile_m))
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


KILN = kilned()


def kiln_of(wood: str) -> list[Kilned]:
    return [row for row in KILN if row.wood == wood]


def by_wood(rows: Sequence[Printed]) -> dict[str, list[Printed]]:
    found: dict[str, list[Printed]] = {}
    for row in rows:
        found.setdefault(row.wood, []).append(row)
    return found


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
