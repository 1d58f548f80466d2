"""Equalising in days: a lot is many pieces, one drier and one slower than the next; the driest waits for the wettest.

Samples that differ in moisture and in how easily water moves run the same kiln as everything else (`drying.kiln`). How far pieces
of a lot differ is a range; the days are the model's.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import exp, sqrt
from statistics import NormalDist

from waney.drying.board import Drying
from waney.drying.doubts import doubts, drawn
from waney.drying.kiln import MOST_DAYS, KilnRun, LoadNeverDry, Stage, Wanted, counted_in_kiln, run_kiln
from waney.drying.kiln_sheet import KilnSheet
from waney.drying.load import Load
from waney.drying.lot import Lot
from waney.drying.pace import MODEL
from waney.drying.schedules import Schedule
from waney.drying.sides import WIDE_AND_LONG, Sides
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.species import Species

MOISTURE_APART, RATE_APART = "lot.moisture_apart", "lot.rate_apart"
"""Names of the doubts, for `figures.scenarios`."""
APART: Mapping[str, Estimate] = {
    MOISTURE_APART: Estimate(0.15, 0.08, 0.20, Basis(Ground.SOURCE, "fpj-kiln-samples", "boards of redwood: 15 to 20 %"), 0.0),
    RATE_APART: Estimate(0.20, 0.10, 0.35, Basis(Ground.DEFAULT, "", "pace from piece to piece: a guess, no source"), 0.0),
}
"""Standard deviations of the logarithm, from piece to piece, of moisture at the start and of how easily water moves [-]. That of
the pace is ours: so wide that 4/4 hardwoods come to what a drying specialist names, 6 hours to 4 days (wengert-equalising)."""
SCENARIOS = Scenarios(seed=1, n=12)
"""Few, because each is five boards' whole way through the kiln: equalising ends within half a day of that of
64, the whole within three (4/4)."""
PARTS = (0.05, 0.25, 0.50, 0.75, 0.95)
"""Sample boards: the one that this share of the lot is drier than, or as dry [-]; the driest and the wettest that are looked for.
The book has four to twelve samples (fpl-ah-188, memory)."""
DEVIATES = tuple(NormalDist().inv_cdf(part) / sqrt(2.0) for part in PARTS)
"""Each stands wet and slow alike: of all pieces that are as late, the most likely one, where both matter alike [-]."""


@dataclass(frozen=True)
class Equalising:
    """What evening out takes. begins: day on which the driest sample is as far below the target as it may come (or all are at the
    target); days: of equalising from then until the wettest is at the target; whole: both together, without conditioning;
    at_begin, at_end: driest, middle and wettest sample of the likely lot then [-]; late: scenarios that were not there after
    MOST_DAYS, which is what they count in `whole`; `begins` and `days` are of the others."""

    begins: Estimate
    days: Estimate
    whole: Estimate
    at_begin: tuple[float, float, float]
    at_end: tuple[float, float, float]
    late: int
    scenarios: int


def samples_of(piece: Drying, moisture_apart: float, rate_apart: float) -> tuple[Drying, ...]:
    """Sample boards of a lot whose middle is this piece, as far apart as told (standard deviations of the logarithm)."""
    return tuple(
        replace(piece, moistures=piece.moistures * exp(moisture_apart * wet), factor=piece.factor * exp(-rate_apart * wet))
        for wet in DEVIATES
    )


def equalising(
    piece_in: Callable[[Mapping[str, float]], Drying],
    known: Mapping[str, Estimate],
    plan: Schedule,
    target: float,
    scenarios: Scenarios = SCENARIOS,
) -> Equalising:
    """A lot through its schedule and until its wettest sample is at the target [-]; piece_in: the middle piece in one scenario of
    what is `known`. Raises LoadNeverDry for a likely lot that never gets there."""
    all_known = {**known, **APART}

    def ran(values: Mapping[str, float]) -> KilnRun:
        samples = samples_of(piece_in(values), values[MOISTURE_APART], values[RATE_APART])
        return run_kiln(samples, plan, Wanted(target))

    middle = ran(likely(all_known))
    found = [_days_of(ran, values) for values in scenarios.draws(all_known)]
    there = [each for each in found if each is not None]
    begins, whole, late = _begins(middle), middle.days, len(found) - len(there)
    return Equalising(
        _spread([day for day, _ in there], begins),
        _spread([end - day for day, end in there], whole - begins),
        _spread([*(end for _, end in there), *[MOST_DAYS] * late], whole),
        _three(_on(middle, begins)),
        _three(middle.looks[-1].moistures),
        late,
        scenarios.n,
    )


def equalising_of(load: Load, scenarios: Scenarios = SCENARIOS) -> Equalising | None:
    """The same of the lot that sets the pace of a load; None in vacuum, where no air is held. Raises LoadNeverDry."""
    pace, plan = load.pace, load.plan
    if plan is None:
        return None
    return _of_pace(pace, load.kiln, plan, scenarios)


def whole_days(loads: Sequence[Load]) -> tuple[float, float, float] | None:
    """Likely, low and high days of loads one after the other, each until its wettest sample is at the target, taken as late or
    early together; None in vacuum, and where one of them never gets there."""
    try:
        found = [equalising_of(one) for one in loads]
    except LoadNeverDry:
        return None
    each = [one.whole for one in found if one is not None]
    if not each or len(each) < len(found):
        return None
    return sum(d.likely for d in each), sum(d.low for d in each), sum(d.high for d in each)


@lru_cache(maxsize=64)
def _of_pace(pace: Lot, kiln: KilnSheet, plan: Schedule, scenarios: Scenarios) -> Equalising:
    """Kept, because the same lot sets the pace in one proposal after the other."""
    warm = plan.steps[0].dry_c
    return equalising(lambda values: pace.piece(values, kiln, warm), pace.doubts(), plan, pace.target, scenarios)


@lru_cache(maxsize=64)
def equalising_wood(
    wood: Species, thickness_m: float, plan: Schedule, target: float, start: Estimate | None = None,
    sides: Sides = WIDE_AND_LONG, scenarios: Scenarios = SCENARIOS,
) -> Equalising:  # fmt: skip
    """The same of one kind of piece by a schedule, as `drying.kiln_days` takes them. Raises LoadNeverDry, NoFigure."""
    warm, counted = plan.steps[0].dry_c, counted_in_kiln(wood, thickness_m, sides, plan)
    return equalising(lambda values: drawn(values, counted, warm), doubts(wood, start), plan, target, scenarios)


def _days_of(ran: Callable[[Mapping[str, float]], KilnRun], values: Mapping[str, float]) -> tuple[float, float] | None:
    """Day on which equalising begins and on which it is over; None where it is not over after MOST_DAYS."""
    try:
        run = ran(values)
    except LoadNeverDry:
        return None
    return _begins(run), run.days


def _begins(run: KilnRun) -> float:
    return max((look.days for look in run.looks if look.stage is Stage.SCHEDULE), default=0.0)


def _on(run: KilnRun, day: float) -> Sequence[float]:
    return next(look.moistures for look in run.looks if look.days >= day)


def _three(moistures: Sequence[float]) -> tuple[float, float, float]:
    ordered = sorted(moistures)
    return ordered[0], ordered[len(ordered) // 2], ordered[-1]


def _spread(values: Sequence[float], middle: float) -> Estimate:
    return summed_up(values or [middle], middle, MODEL, hard_min=0.0)
