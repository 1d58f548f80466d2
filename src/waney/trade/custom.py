"""Other people's logs: the same job quoted by the hour, by the board foot and on shares, from the logs as measured.

NAME.*               what is in doubt about each log, its own draws
custom.pace          board feet tallied an hour
custom.over_scale    tally over International 1/4-inch scale
custom.worth         what a green board foot earns
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import OutOfRange, Problem
from waney.figures.scenarios import Scenarios, likely
from waney.logs.doubts import doubts
from waney.logs.log_rule import Rule
from waney.logs.rules import scale_of, scaling_diameter
from waney.logs.shape import LogShape
from waney.logs.sheet import log_sheet
from waney.logs.tape import build_shape
from waney.trade.counted import By, Counted
from waney.trade.log_remarks import log_remarks
from waney.trade.scenes import Figured, smooth_board_feet
from waney.trade.terms import Terms
from waney.trade.way_paid import How
from waney.wood.species import species

Array = NDArray[np.float64]
MEASURED = Basis(Ground.READING, "the logs as measured", "in every state they may be in")


class BadJob(Problem):
    """A job that cannot be quoted as it stands."""


@dataclass(frozen=True)
class Job:
    """Somebody's logs. logs: their sheets (`waney-log/1`) by name, each name once; way there and back; hours on the way."""

    logs: Mapping[str, str]
    way_km: float = 0.0
    way_hours: float = 0.0


@dataclass(frozen=True)
class LogCount:
    """One log by every rule: as it was likely read, and its range; a rule whose table ends before it has none.

    small_end_m: scaling diameter, inside bark; remarks: `log_remarks`.
    """

    name: str
    wood: str
    small_end_m: float
    length_m: float
    scales: Mapping[By, Counted]
    ranges: Mapping[By, Estimate]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class QuotedWay:
    """One way to be paid. paid_cents: by the customer, before tax; hourly_cents: the sawyer's true hour, bad to good.

    keeps: board feet of tally that the sawyer keeps. None with what is `missing`.
    """

    how: How
    paid_cents: Estimate | None
    hourly_cents: Estimate | None
    keeps: Estimate | None
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Quoted:
    """The answer. scale: of all logs by the agreed rule, by International where none was; None: a table ends before a log."""

    logs: tuple[LogCount, ...]
    by: By
    scale: Estimate | None
    tally: Estimate
    hours: Estimate | None
    ways: tuple[QuotedWay, ...]
    not_counted: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class _Scaled:
    """A log in every scenario: board feet by rule, and by International without rounding, which the tally goes by."""

    count: LogCount
    by: Mapping[By, Figured]
    smooth: Figured


def quoted(job: Job, terms: Terms, scenarios: Scenarios) -> Quoted:
    """Quote a job in all three ways. Raises BadJob without logs, SheetProblems for a sheet that cannot be read."""
    if not job.logs:
        raise BadJob("A job has at least one log; name its sheet.")
    logs = [_scaled(name, sheet, scenarios) for name, sheet in job.logs.items()]
    agreed = By.INTERNATIONAL if terms.board_foot is None else terms.board_foot.by
    work = _Work.of(job, terms, logs, scenarios)
    scale = work.tally if agreed is By.TALLY else _sum_by(logs, agreed)
    return Quoted(
        tuple(log.count for log in logs),
        agreed,
        None if scale is None else scale.estimate(MEASURED),
        work.tally.estimate(MEASURED),
        None if work.hours is None else work.hours.estimate(MEASURED),
        tuple(_way(how, terms, work, scale) for how in How),
        _not_counted(terms),
    )


def _not_counted(terms: Terms) -> tuple[str, ...]:
    """Own costs that nobody typed, so that the true hourly leaves them out."""
    asked = (
        ("blades", None if terms.blade_cents is None or terms.blade_lasts is None else 0),
        ("driving", terms.driving_cents),
    )
    return tuple(what for what, typed in asked if typed is None)


@dataclass(frozen=True, eq=False)
class _Work:
    """Tally [board feet], hours at the mill, all hours (None: no pace), own costs [cents], in every scenario."""

    tally: Figured
    sawing: Figured | None
    hours: Figured | None
    costs: Figured
    extras: float
    worth: Figured | None

    @classmethod
    def of(cls, job: Job, terms: Terms, logs: Sequence[_Scaled], scenarios: Scenarios) -> _Work:
        smooth = _added([log.smooth for log in logs])
        tally = _times(smooth, _drawn("custom.over_scale", terms.over_scale, scenarios))
        sawing = None
        if terms.pace is not None:
            pace = _drawn("custom.pace", terms.pace, scenarios)
            sawing = Figured(tally.values / pace.values, tally.likely / pace.likely)
        beside = terms.set_up_hours + job.way_hours
        hours = None if sawing is None else Figured(sawing.values + beside, sawing.likely + beside)
        a_foot = (terms.blade_cents or 0.0) / terms.blade_lasts if terms.blade_lasts else 0.0
        driving = (terms.driving_cents or 0.0) * job.way_km
        costs = Figured(a_foot * tally.values + driving, a_foot * tally.likely + driving)
        worth = None if terms.worth_cents is None else _drawn("custom.worth", terms.worth_cents, scenarios)
        return cls(tally, sawing, hours, costs, terms.set_up_cents + terms.way_cents * job.way_km, worth)


def _way(how: How, terms: Terms, work: _Work, scale: Figured | None) -> QuotedWay:
    missing = _missing(how, terms, work, scale)
    money, keeps = (None, None) if missing else _money(how, terms, work, scale)
    if money is None:
        return QuotedWay(how, None, None, None, missing)
    paid = Figured(money.values + work.extras, money.likely + work.extras)
    income = paid if keeps is None or work.worth is None else paid.plus(_times(keeps, work.worth))
    hourly = None
    if work.hours is not None:
        left = income.plus(work.costs, -1.0)
        hourly = Figured(left.values / work.hours.values, left.likely / work.hours.likely).estimate(MEASURED)
    return QuotedWay(
        how,
        paid.estimate(MEASURED),
        hourly,
        None if keeps is None else keeps.estimate(MEASURED),
        () if work.hours is not None else ("the pace, for the true hourly",),
    )


def _missing(how: How, terms: Terms, work: _Work, scale: Figured | None) -> tuple[str, ...]:
    asked: dict[How, tuple[tuple[str, object], ...]] = {
        How.HOUR: (("what an hour of sawing costs", terms.hour_cents), ("the pace", work.sawing)),
        How.BOARD_FOOT: (("what a board foot costs", terms.board_foot), ("a scale of every log by that rule", scale)),
        How.SHARES: (("the sawyer's share", terms.share), ("what a green board foot earns", work.worth)),
    }
    return tuple(what for what, typed in asked[how] if typed is None)


def _money(how: How, terms: Terms, work: _Work, scale: Figured | None) -> tuple[Figured, Figured | None]:
    """What the customer pays for the sawing [cents], and the board feet that the sawyer keeps."""
    if how is How.SHARES:
        keeps = Figured((terms.share or 0.0) * work.tally.values, (terms.share or 0.0) * work.tally.likely)
        return Figured(np.zeros_like(keeps.values), 0.0), keeps
    if how is How.HOUR:
        assert work.sawing is not None, "what is missing was said"
        rate, measure = terms.hour_cents or 0.0, work.sawing
    else:
        assert scale is not None, "what is missing was said"
        assert terms.board_foot is not None, "what is missing was said"
        rate, measure = terms.board_foot.cents, scale
    least = float(terms.minimum_cents)
    return Figured(np.maximum(rate * measure.values, least), max(rate * measure.likely, least)), None


def _scaled(name: str, sheet: str, scenarios: Scenarios) -> _Scaled:
    read = log_sheet(sheet)
    log = read.log
    wood = species(log.species) if log.species else None
    named = doubts(log, wood)
    own = scenarios.draws({f"{name}.{what}": estimate for what, estimate in named.items()})
    sizes = [_size(build_shape(log, {what: values[f"{name}.{what}"] for what in named})) for values in own]
    middle = _size(build_shape(log, likely(named)))
    by = {by: found for by in By if by.rule is not None and (found := _by_rule(by.rule, sizes, middle)) is not None}
    scales = {each: counted for each, counted in _likely_scales(middle).items() if each in by}
    ranges = {each: found.estimate(MEASURED) for each, found in by.items()}
    smooth = Figured(np.array([smooth_board_feet(*size) for size in sizes]), smooth_board_feet(*middle))
    count = LogCount(
        name,
        "" if wood is None else wood.common,
        *middle,
        scales,
        ranges,
        log_remarks(read),
    )
    return _Scaled(count, by, smooth)


def log_scales(sheet: str) -> Mapping[By, Counted]:
    """A log by every rule as a scaler reads it likely; a rule whose table ends before it is not there. Raises SheetProblems."""
    return _likely_scales(_likely_size(sheet))


def log_smooth_feet(sheet: str) -> float:
    """A log by International 1/4-inch without rounding, which a tally is held against. Raises SheetProblems."""
    return smooth_board_feet(*_likely_size(sheet))


def _likely_size(sheet: str) -> Size:
    log = log_sheet(sheet).log
    wood = species(log.species) if log.species else None
    return _size(build_shape(log, likely(doubts(log, wood))))


def _likely_scales(middle: Size) -> Mapping[By, Counted]:
    found: dict[By, Counted] = {}
    for by in By:
        if by.rule is not None:
            with suppress(OutOfRange):
                found[by] = Counted(float(scale_of(by.rule, *middle).board_feet), by, _read_at(middle))
    return found


Size = tuple[float, float]
"""scaling diameter and length [m]: all that a log rule reads"""


def _size(shape: LogShape) -> Size:
    return scaling_diameter(shape), shape.length_m


def _by_rule(rule: Rule, sizes: Sequence[Size], middle: Size) -> Figured | None:
    """A log by one rule, read as a scaler reads it; None where its table ends."""
    try:
        found = np.array([float(scale_of(rule, *size).board_feet) for size in sizes])
        return Figured(found, float(scale_of(rule, *middle).board_feet))
    except OutOfRange:
        return None


def _read_at(size: Size) -> str:
    found = scale_of(Rule.DOYLE, *size)
    return f"{found.diameter_in} in at the small end inside bark, {found.length_ft} ft"


def _sum_by(logs: Sequence[_Scaled], by: By) -> Figured | None:
    """All logs by one rule; None where its table ends before one of them."""
    return _added([log.by[by] for log in logs]) if all(by in log.by for log in logs) else None


def _added(parts: Sequence[Figured]) -> Figured:
    return Figured(np.sum([part.values for part in parts], axis=0), sum(part.likely for part in parts))


def _times(one: Figured, other: Figured) -> Figured:
    return Figured(one.values * other.values, one.likely * other.likely)


def _drawn(name: str, estimate: Estimate, scenarios: Scenarios) -> Figured:
    return Figured(scenarios.values(name, estimate), estimate.likely)
