"""Air-drying for `answers_page.py`: sugar maple in packages beside what was published, stacks by wood and start, sun chambers."""

# ruff: noqa: E501
from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from math import ceil

import numpy as np
from answers_words import head, line, number, ranged, span
from drying_model import Held, Printed, airs, held, printed

from waney.drying.air import length_days
from waney.drying.kernel.records import Array
from waney.drying.outdoors import Exposure, Passage
from waney.drying.pace import likely_pace, species_factor
from waney.drying.particles import MONTH_DAYS, Case, Weather, prior_draws, run
from waney.drying.safe_rate import FOUR_QUARTERS_M
from waney.drying.stack import PARTICLES, Line, Stack, line_dates
from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.wood.climate import Climate, station
from waney.wood.species import species

DRAWS = 128
"""Packages drawn for each station and month."""
YARD, SUNNY = station("IN", "Indianapolis"), station("WI", "Madison")
SPRING, AUTUMN = date(2026, 4, 1), date(2026, 10, 1)
WOODS = ("cherry_black", "walnut_black", "oak_white")
THICK_M = (0.029, 0.054)
WIDE_M = (1.22, 2.44)
"""Packages of 4 ft, and twice that."""
SUN_STARTS = (date(2026, 5, 20), date(2026, 11, 1))
GOOD_WEATHER_DAYS = 42.0
"""1-inch hardwood in a chamber that the sun warms, good weather, at most (wengert-meyer, seen)."""


def maple() -> Printed:
    """The one row of air-drying times that was seen: sugar maple in Upper Michigan (fpl-2086). Nothing is fitted to it."""
    return next(row for row in printed() if row.seen)


@cache
def likely_packages() -> Held:
    """The likely package, at every station and the first of every month."""
    row = maple()
    return held(row, likely_pace(), species_factor(species(row.wood)).likely)


@cache
def packages(draws: int) -> Array:
    """Days of packages with all that nobody knows of one, (runs, draws): station by station, month by month."""
    row, scenarios, found = maple(), Scenarios(1, draws), []
    for air in airs(row.region, row.pile_m):
        case = Case(species(row.wood), row.thickness_m, air, row.final)
        weather = Weather.drawn(scenarios, ceil(length_days(air) / MONTH_DAYS), 0)
        found.append(run(case, prior_draws(case, scenarios), weather, np.zeros(1)).days)
    return np.array(found)


def pooled(found: Array) -> tuple[float, float]:
    """Nine in ten of all packages [days]."""
    low, high = np.quantile(found, (0.05, 0.95))
    return float(low), float(high)


def of_a_year(found: Array) -> tuple[float, float, float]:
    """The mean of a year's packages: 5, 50 and 95 % of what is not known of wood, model and site [days]."""
    low, middle, high = np.quantile(found.mean(axis=0), (0.05, 0.50, 0.95))
    return float(low), float(middle), float(high)


def maple_lines() -> Iterator[str]:
    """Worked example E1, at length."""
    row, likely, found = maple(), likely_packages(), packages(DRAWS)
    (low, high), (year_low, year, year_high) = pooled(found), of_a_year(found)
    assert row.mean is not None
    apart = max(abs(low / row.least - 1.0), abs(high / row.most - 1.0))
    yield from head("days to 20 %", "least", "most", "mean")
    yield line("published (FPL Report 2086, seen)", number(row.least), number(row.most), f"about {number(row.mean)}")
    yield line("the likely package", number(likely.least), number(likely.most), number(likely.mean))
    yield line("nine in ten of all packages", number(low), number(high), f"{number(year)} ({span(year_low, year_high)})")
    yield ""
    yield f"{found.shape[0]} runs: five stations about Upper Michigan (the region `upper lakes`), the first of twelve months, packages of 4 ft in the open. All packages: {DRAWS} drawn for each run, with what nobody knows of gravity,"
    yield "green moisture, the wood's factor, the model's level and film, the piece, the air of the site and the weather. Their mean is that of all runs of one draw, likely and from the 5 to the 95 % point. Nothing was"
    yield "fitted to the published row."
    yield ""
    yield f"- The range of many packages agrees {'within a tenth' if apart <= 0.10 else 'to'} ({100 * (low / row.least - 1):+.0f} % at the fast end, {100 * (high / row.most - 1):+.0f} % at the slow one). That of the likely package alone begins {likely.least / row.least:.2f} times as late."
    yield f"- The mean of a year is at likely {likely.mean / row.mean:.2f} times the published one; {number(row.mean)} lies {'within' if year_low <= row.mean <= year_high else 'outside'} what is not known, {'in its lower half' if row.mean < year else 'in its upper half'}."
    yield "- All months count alike here. In which months that mill stacked was not read: a mill that stacks more in spring than in autumn has a shorter mean."


def when(
    wood: str, thickness_m: float, start: date, exposure: Exposure = Exposure.OPEN, *, wide_m: float = WIDE_M[0],
    target: float = 0.20, place: Climate = YARD,
) -> Estimate:  # fmt: skip
    """Days of one line of a stack, as `waney dry` tells them."""
    one = Line(wood, species(wood), thickness_m, 1)
    stack = Stack(place, start, exposure, target, (one,), passage=Passage(wide_m))
    return line_dates(one, stack, Scenarios(1, PARTICLES)).forecast.after.days


def stack_lines() -> Iterator[str]:
    """Days by wood, thickness and start; then by shelter and width."""
    yield from head(
        "wood, green thickness", "stacked 1 April", "stacked 1 October", "printed for 1 in, any month, wide piles (memory)"
    )
    for thickness in THICK_M:
        for wood in WOODS:
            cells = (ranged(when(wood, thickness, start)) for start in (SPRING, AUTUMN))
            row = next(row for row in printed() if row.wood == wood)
            yield line(
                f"{_called(wood)}, {thickness * 1000:.0f} mm",
                *cells,
                span(row.least, row.most) if thickness == THICK_M[0] else "",
            )
    yield ""
    yield f"The wider the stack, the damper the air it leaves; a fan hardly minds. Days of {_called(WOODS[1])}, {THICK_M[0] * 1000:.0f} mm, stacked 1 April:"
    yield ""
    yield from head("where", "4 ft wide", "8 ft wide")
    for exposure in (Exposure.OPEN, Exposure.ROOF, Exposure.FAN):
        yield line(exposure.value, *(ranged(when(WOODS[1], THICK_M[0], SPRING, exposure, wide_m=wide)) for wide in WIDE_M))


def sun_lines() -> Iterator[str]:
    """Chambers that the sun warms, beside what extension services publish."""
    yield from head("wood, to", "put in 20 May", "put in 1 November", "published")
    fast = 0.0
    for wood, target, told in (
        ("maple_red", 0.12, "30 or less in summer, a whole winter (WVU DR-1, seen)"),
        ("maple_red", 0.08, f"1-inch hardwood {number(GOOD_WEATHER_DAYS)} or less of good weather (Wengert and Meyer, seen); 6 to 10 % in summer, not in bad seasons (DR-1)"),
        ("oak_northern_red", 0.12, "the same as red maple"),
    ):  # fmt: skip
        found = [when(wood, FOUR_QUARTERS_M, start, Exposure.SUN, target=target, place=SUNNY) for start in SUN_STARTS]
        fast = found[0].low / GOOD_WEATHER_DAYS if target == 0.08 else fast
        yield line(f"{_called(wood)}, {target * 100:.0f} %", *map(ranged, found), told)
    yield ""
    yield f"The fast end to 8 % is {fast:.1f} times what is published for good weather. The slow end is a dull chamber that does not get there before autumn. Nothing was fitted to these figures."


def _called(wood: str) -> str:
    return species(wood).common
