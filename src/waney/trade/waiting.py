"""What another week costs a log that lies in the yard: a share of its value, and money where its value is known.

wait.weeks, wait.loss       how the wood keeps (table `log_storage`)
wait.days                   [days] since felling
wait.temperature, wait.past [degC] mean of the coming week, and since felling
wait.cold                   [degC] at and below which stain does not grow
wait.checks                 [m] how far a bare end checks in its first warm dry week
wait.sealed, wait.bark      [-] what sealed ends leave of the checks; what missing bark adds to both
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import sqrt
from statistics import fmean

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.trade.learned import Learned, learned
from waney.trade.storage import NO_VALUE, Keeping, keeping_of, without_value
from waney.wood.climate import Climate
from waney.wood.species import species
from waney.wood.vapour import saturation_pressure
from waney.wood.weather import Air

Values = Mapping[str, float]
Own = Mapping[str, tuple[float, ...]]
"""Share of the value that stain took of own logs that lay long, by how the wood's id begins (`log_storage`)."""
NONE_OF_OUR_OWN: Own = {}

WARM_C = 22.0
"""From here on a week counts in full: best growth of a common blue stain (irg-wp-1177)."""
_DEFAULT = Basis(Ground.DEFAULT, "")
COLD_C = Estimate(
    5.0, 0.0, 10.0, Basis(Ground.SOURCE, "fpl-softwood-storage", "idle below 32 °F; gltpa-stain: thrives from 50 °F")
)
CHECKS_M = Estimate(0.025, 0.010, 0.075, Basis(Ground.DEFAULT, "", "one inch in the first warm dry week"), 0.0, 0.5)
BARE, BARK_ON = Estimate.known(1.0, _DEFAULT), Estimate.known(1.0, _DEFAULT)
SEALED = Estimate(0.25, 0.10, 0.50, Basis(Ground.DEFAULT, "", "share of the checks that a good end coat leaves"), 0.0, 1.0)
SEALED_OR_NOT = Estimate(1.0, 0.10, 1.0, Basis(Ground.DEFAULT, "", "nobody said whether the ends are sealed"), 0.0, 1.0)
DEBARKED = Estimate(
    1.3, 1.0, 2.0, Basis(Ground.DEFAULT, "", "bark keeps checks and stain back; fpl-softwood-storage gives no figure"), 1.0, 3.0
)
BARK_OR_NOT = Estimate(1.0, 1.0, 2.0, Basis(Ground.DEFAULT, "", "nobody said whether the bark is on"), 1.0, 3.0)
ANY_DAYS = Estimate(14.0, 0.0, 180.0, Basis(Ground.DEFAULT, "", "nobody said when it was felled"), 0.0)
ANY_AIR_C = Estimate(15.0, -5.0, 28.0, Basis(Ground.DEFAULT, "", "no place told: any month"))
ANY_LENGTH_M = 3.0
MONTH_ERROR_C = 3.0
"""Half of the 90 % range of one week about a month's mean. Ours, a guess."""
USUAL_HUMIDITY = 0.70
CHECKING_C, CHECKING_HUMIDITY = 22.0, 0.60
"""The warm dry week that CHECKS_M speaks of."""
MOST_CHECKING = 2.0


class BadWait(Problem):
    """A log that cannot have waited so."""


@dataclass(frozen=True)
class Waiting:
    """A log in the yard. None: not known. days: since felling; air: of the coming week; past_c: mean temperature since
    felling; value_cents: what it would give today."""

    name: str
    species: str
    days: float | None = None
    length_m: float | None = None
    sealed: bool | None = None
    bark_on: bool | None = None
    air: Air | None = None
    past_c: float | None = None
    value_cents: Estimate | None = None

    def __post_init__(self) -> None:
        if (self.days is not None and self.days < 0) or (self.length_m is not None and self.length_m <= 0):
            raise BadWait(
                f"{self.name or 'A log'} cannot be felled in the future or have no length; look at the date and the length."
            )


@dataclass(frozen=True)
class Cost:
    """What the coming week costs; share and cents None: no value, and `reason` says why. Shares are of the log's value [-]."""

    log: Waiting
    trouble: str
    stain: Estimate | None
    checks: Estimate
    share: Estimate | None
    cents: Estimate | None
    reason: str
    not_counted: tuple[str, ...]


def cost_of_week(log: Waiting, scenarios: Scenarios, own: Own = NONE_OF_OUR_OWN) -> Cost:
    """What another week costs a log. own: what stain took of the shop's own logs, where that is known.

    Half-known input gives a wider range, never an error.
    """
    keeping = kept(log.species, own)
    named = _doubts(log, keeping)
    draws, middle = scenarios.draws(named), likely(named)
    humidity = USUAL_HUMIDITY if log.air is None else log.air.humidity
    length = log.length_m or ANY_LENGTH_M
    checked = np.array([_checks(v, length, humidity) for v in draws])
    checks = summed_up(checked, _checks(middle, length, humidity), CHECKS_M.basis)
    if keeping is None:
        wood = _called(log.species) or "a wood nobody named"
        why = f"{NO_VALUE}: no table that was read says how {wood} keeps in the log; only its end checks are counted"
        return Cost(log, NO_VALUE, None, checks, None, None, why, without_value())
    stained = np.array([_stain(v) for v in draws])
    stain = summed_up(stained, _stain(middle), keeping.loss.basis)
    both = 1.0 - (1.0 - stained) * (1.0 - checked)
    likely_both = 1.0 - (1.0 - stain.likely) * (1.0 - checks.likely)
    share = summed_up(both, likely_both, keeping.weeks.basis)
    return Cost(
        log,
        keeping.trouble,
        stain,
        checks,
        share,
        _money(log, both, likely_both, scenarios),
        _reason(stain, checks, keeping),
        without_value(),
    )


def in_order(logs: Sequence[Waiting], scenarios: Scenarios, own: Own = NONE_OF_OUR_OWN) -> tuple[Cost, ...]:
    """The log that loses most first: by money where every log that has a share has a value too, else by share; no value last."""
    return in_order_of_costs([cost_of_week(log, scenarios, own) for log in logs])[0]


def in_order_of_costs(costs: Sequence[Cost]) -> tuple[tuple[Cost, ...], bool]:
    """The same for costs at hand, and whether the order is one of money."""
    known = [cost for cost in costs if cost.share is not None]
    by_money = bool(known) and all(cost.cents is not None for cost in known)

    def loses(cost: Cost) -> tuple[bool, float]:
        if cost.share is None:
            return True, -cost.checks.likely
        return False, -(cost.cents.likely if by_money and cost.cents is not None else cost.share.likely)

    return tuple(sorted(costs, key=loses)), by_money


def kept(species: str, own: Own) -> Keeping | None:
    """How a wood keeps, by the table and by the shop's own logs as far as they go; None where no row fits."""
    keeping = keeping_of(species)
    if keeping is None:
        return None
    return replace(keeping, loss=stain_learned(keeping, own).now or keeping.loss)


def _called(wood: str) -> str:
    """A wood as people call it, where it is an id that the table knows."""
    try:
        return species(wood).common
    except Problem:
        return wood


def stain_learned(keeping: Keeping, own: Own) -> Learned:
    """What stain takes once it is all there: the table's figure and the shop's own side by side."""
    return learned(f"lost to {keeping.trouble}", "share of the value", keeping.loss, own.get(keeping.begins, ()))


def gone_by(log: Waiting) -> tuple[float, float]:
    """How far stain has come by now, 0 to 1, and the share of the length that is checked, both likely; 0: no row, no stain."""
    keeping = keeping_of(log.species)
    v = likely(_doubts(log, keeping))
    so_far, roots = _warm_weeks(v), sqrt(v["wait.days"] / 7.0)
    checked = _ends(v, roots, v["wait.past"], log.length_m or ANY_LENGTH_M, USUAL_HUMIDITY)
    return 0.0 if keeping is None else _stained(v, so_far), checked


def _doubts(log: Waiting, keeping: Keeping | None) -> Mapping[str, Estimate]:
    kept = {} if keeping is None else {"wait.weeks": keeping.weeks, "wait.loss": keeping.loss}
    told = Basis(Ground.READING, "the day it was felled")
    return {
        **kept,
        "wait.days": ANY_DAYS if log.days is None else Estimate.known(log.days, told),
        "wait.temperature": ANY_AIR_C if log.air is None else _about(log.air.temperature_c, f"a week of month {log.air.month}"),
        "wait.past": ANY_AIR_C if log.past_c is None else _about(log.past_c, "mean since felling"),
        "wait.cold": COLD_C,
        "wait.checks": CHECKS_M,
        "wait.sealed": SEALED_OR_NOT if log.sealed is None else SEALED if log.sealed else BARE,
        "wait.bark": BARK_OR_NOT if log.bark_on is None else BARK_ON if log.bark_on else DEBARKED,
    }


def _about(temperature_c: float, note: str) -> Estimate:
    spread = Basis(Ground.DEFAULT, "", f"{note}, give or take {MONTH_ERROR_C:g} °C")
    return Estimate(temperature_c, temperature_c - MONTH_ERROR_C, temperature_c + MONTH_ERROR_C, spread)


def warmth(temperature_c: float, cold_c: float) -> float:
    """How many warm weeks a week counts for stain, 0 to 1: straight from the lower end of the band to 22 °C.

    >>> warmth(0.0, 5.0), warmth(22.0, 5.0), warmth(30.0, 5.0)
    (0.0, 1.0, 1.0)
    """
    return min(max((temperature_c - cold_c) / (WARM_C - cold_c), 0.0), 1.0)


def _stain(v: Values) -> float:
    """Share of value that stain takes in the coming week."""
    so_far, coming = _warm_weeks(v), warmth(v["wait.temperature"], v["wait.cold"])
    return v["wait.loss"] * (_stained(v, so_far + coming) - _stained(v, so_far))


def _warm_weeks(v: Values) -> float:
    """Since felling."""
    return v["wait.days"] / 7.0 * warmth(v["wait.past"], v["wait.cold"])


def _stained(v: Values, warm_weeks: float) -> float:
    """How far stain has come then, 0 to 1."""
    return min(warm_weeks * v["wait.bark"] / v["wait.weeks"], 1.0)


def _checks(v: Values, length_m: float, humidity: float) -> float:
    """Share of the length that both ends lose more in the coming week."""
    weeks = v["wait.days"] / 7.0
    return _ends(v, sqrt(weeks + 1.0) - sqrt(weeks), v["wait.temperature"], length_m, humidity)


def _ends(v: Values, roots: float, temperature_c: float, length_m: float, humidity: float) -> float:
    """Share of the length that both ends lose while the root of the weeks grows by so much, in such air."""
    depth = v["wait.checks"] * roots * v["wait.sealed"] * v["wait.bark"]
    return min(2.0 * depth * thirst(temperature_c, humidity) / length_m, 1.0)


def thirst(temperature_c: float, humidity: float) -> float:
    """What the air still takes up beside the warm dry week of 22 °C and 60 %, 0 to 2 [-]; frozen ends do not check."""
    if temperature_c <= 0.0:
        return 0.0
    missing = saturation_pressure(temperature_c) * (1.0 - humidity)
    return min(missing / (saturation_pressure(CHECKING_C) * (1.0 - CHECKING_HUMIDITY)), MOST_CHECKING)


def _money(log: Waiting, shares: NDArray[np.float64], middle: float, scenarios: Scenarios) -> Estimate | None:
    if log.value_cents is None:
        return None
    values = scenarios.values("wait.value", log.value_cents)
    return summed_up(values * shares, middle * log.value_cents.likely, log.value_cents.basis)


def _reason(stain: Estimate, checks: Estimate, keeping: Keeping) -> str:
    if stain.high <= 0.0:
        return f"too cold for {keeping.trouble}; only the ends check"
    if stain.likely == 0.0 and checks.likely >= stain.likely:
        return f"{keeping.trouble} is likely over or not begun; the ends still check"
    more = keeping.trouble if stain.likely >= checks.likely else "end checks"
    weeks = keeping.weeks
    return f"most of it is {more}; the wood keeps {weeks.likely:g} warm weeks ({weeks.low:g} to {weeks.high:g})"


def mean_since(climate: Climate, felled: date, today: date) -> float:
    """Mean temperature from felling to today by the months of a mean year [degC]; felled today or later: this month's."""
    days = max((today - felled).days, 1)
    return fmean(climate.months[(felled + timedelta(days=day)).month - 1].temperature_c for day in range(days))
