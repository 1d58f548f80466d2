"""A stack as a yard knows it: pieces that were read and pieces that were not, where it stands as far as anybody told.

What nobody told is tried in more than one way, and the answer holds all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from itertools import product
from statistics import fmean

from waney.drying.chamber import Dehumidified, SunChamber
from waney.drying.either import MANY, either
from waney.drying.evidence import MoistureRead, Read, WeightRead
from waney.drying.forecast import Forecast
from waney.drying.meter_sheet import MeterSheet
from waney.drying.outdoors import PACKAGE, Exposure, Passage
from waney.drying.piece_read import Lined, PieceRead, lined
from waney.drying.stack import Line, LineDates, Stack, line_dates, remarks_of
from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.wood.climate import Climate, HourlyYear


@dataclass(frozen=True)
class YardStack:
    """climates, exposures: one, or all that are tried; target: wanted moisture [-]; spring: the one that it is to be dry
    before, None: the next one after the last reading; chamber, hours, passage: as of a stack."""

    climates: tuple[Climate, ...]
    exposures: tuple[Exposure, ...]
    target: float
    pieces: tuple[PieceRead, ...]
    sheet: MeterSheet
    spring: date | None = None
    chamber: SunChamber | Dehumidified | None = None
    hours: HourlyYear | None = None
    passage: Passage = PACKAGE


class Untold(StrEnum):
    """What nobody told and was tried in more than one way; the text is how a page names it."""

    WOOD = "the wood"
    PLACE = "the place"
    SHELTER = "what it stands under"


@dataclass(frozen=True)
class Telling:
    """How wide the days to the target are [days]: now, and in the mean of the ways tried once `what` is told."""

    what: Untold
    now: float
    told: float


@dataclass(frozen=True)
class LineFound:
    """A line, its dates, and its readings as moistures: days from the start with their ranges [-]; telling: what was not told,
    that which narrows the answer most first."""

    lined: Lined
    dates: LineDates
    points: tuple[tuple[float, Estimate], ...]
    telling: tuple[Telling, ...] = ()


@dataclass(frozen=True)
class YardDates:
    """lines: the slowest first; left: sentences on pieces that are not in it."""

    lines: tuple[LineFound, ...]
    left: tuple[str, ...]


def yard_dates(stack: YardStack, scenarios: Scenarios, told: Callable[[float], None]) -> YardDates:
    """When each line is ready; told: hears how far it is, 0 to 1. Raises what `stack_dates` raises."""
    lines, left = lined(stack.pieces, stack.sheet)
    found = []
    for number, one in enumerate(lines, 1):
        found.append(_found(one, stack, scenarios))
        told(number / len(lines))
    return YardDates(tuple(sorted(found, key=_slow, reverse=True)), left)


def _slow(found: LineFound) -> tuple[float, float]:
    """By the day on which it is likely ready, counted from the same day."""
    days = found.dates.forecast.after.days
    return found.lined.since.toordinal() + days.likely, days.high


def _found(one: Lined, stack: YardStack, scenarios: Scenarios) -> LineFound:
    """Of several ways the first is the one with the most drying air: what may be lost at most is told by it."""
    cases = [*product((replace(one.line, wood=wood) for wood in one.woods), stack.climates, stack.exposures)]
    around = (0.0, stack.chamber, stack.hours, stack.spring, stack.passage)
    ways = [Stack(climate, one.since, where, stack.target, (line,), *around) for line, climate, where in cases]
    several = replace(scenarios, n=min(scenarios.n, MANY)) if len(ways) > 1 else scenarios
    dates = [line_dates(way.lines[0], way, several) for way in ways]
    both = dates[0]
    if len(ways) > 1:
        forecast = either([each.forecast for each in dates])
        both = replace(both, forecast=forecast, remarks=remarks_of(one.line, ways[0], forecast))
    telling = _telling(cases, [each.forecast for each in dates])
    return LineFound(one, both, tuple(_points(one, both)), telling)


Case = tuple[Line, Climate, Exposure]
TRIED: Mapping[Untold, Callable[[Case], object]] = {
    Untold.WOOD: lambda case: case[0].wood.id,
    Untold.PLACE: lambda case: case[1],
    Untold.SHELTER: lambda case: case[2],
}


def _telling(cases: Sequence[Case], found: Sequence[Forecast]) -> tuple[Telling, ...]:
    """Of each thing that was tried in more than one way: how wide the answer is without those of the other ways."""
    now = either(found).after.days.width
    told = []
    for what, told_in in TRIED.items():
        ways: dict[object, list[Forecast]] = {}
        for case, forecast in zip(cases, found, strict=True):
            ways.setdefault(told_in(case), []).append(forecast)
        if len(ways) > 1:
            told.append(Telling(what, now, fmean(either(one).after.days.width for one in ways.values())))
    return tuple(sorted(told, key=lambda one: one.told))


def _points(one: Lined, found: LineDates) -> Iterator[tuple[float, Estimate]]:
    """A weight is a moisture by the oven-dry weight that all readings together say; its range is that of both."""
    for day, read in one.line.reads:
        mc = _moisture(read, found.forecast.dry)
        if mc is not None:
            yield float((day - one.since).days), mc


def _moisture(read: Read, dry: Estimate | None) -> Estimate | None:
    if isinstance(read, MoistureRead):
        return read.mc
    if dry is None:
        return None
    assert isinstance(read, WeightRead)
    likely, low, high = (max(read.kg / kg - 1.0, 0.0) for kg in (dry.likely, dry.high, dry.low))
    return Estimate(likely, low, high, dry.basis, 0.0)
