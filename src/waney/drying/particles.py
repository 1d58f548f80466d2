"""Particles: many pieces alike but for what nobody knows, each with its own weather, run by the drying model.

n: particles, d: doubts, t: days. z: standard normal draws of the doubts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from math import exp

import numpy as np
from numpy.typing import NDArray

from waney.drying.air import DAY, filmed, intervals, length_days, part
from waney.drying.board import Course, Drying, dry_many
from waney.drying.doubts import FACTOR, FILM, LOOSE, doubts, drawn
from waney.drying.kernel.records import AirSteps, Array
from waney.drying.law import COLDEST, law_of
from waney.drying.pace import Pace, likely_pace
from waney.drying.sides import WIDE_AND_LONG, Sides, counted_m, middle_over
from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.wood.species import Species
from waney.wood.traits import Trait
from waney.wood.weight import MOISTURE

OWN = "drying.own"
OWN_SPREAD = 0.15
"""Spread of the logarithm of one piece's own factor beside its species': common practice, no source."""
SITE, SITE_SPREAD = "drying.site", 0.30
"""How much air gets through one stack beside the mean of the piles that printed times are of, by wind, neighbours, boards laid
close or wide: a factor on the film, spread of its logarithm. Ours, a choice, no source."""
WARMER_K, DAMPER = 2.0, 0.05
"""Standard deviation of a month's mean from its normal: temperature [K], humidity as a share of itself. Common
practice, no source."""
MONTH_DAYS = 30
ICE_C, HOT_C = -39.0, 109.0
DRIEST = 0.05
"""No piece is drawn drier than this at the start [-]: less than wood settles at outdoors."""


class BadAir(Problem):
    """Air that ends too soon."""


@dataclass(frozen=True)
class Case:
    """A piece that is forecast: wood, green thickness [m], the air it stands in from the start of drying, wanted moisture [-],
    moisture at the start where it is known [-]; outdoors: the film factor holds and weather differs; sides: what its edges and
    ends do."""

    wood: Species
    thickness_m: float
    air: AirSteps
    target: float
    start: Estimate | None = None
    outdoors: bool = True
    sides: Sides = WIDE_AND_LONG

    @property
    def filmed(self) -> AirSteps:
        """The air with the likely film factor, where that holds."""
        return filmed(self.air, likely_pace().film) if self.outdoors else self.air

    @property
    def counted_m(self) -> float:
        """Thickness of the wide board that dries in the same days [m]."""
        return counted_m(self.thickness_m, self.sides, self.wood.needed(Trait.SG_GREEN).likely, self.filmed)

    def doubts(self) -> Mapping[str, Estimate]:
        """What nobody knows of it, by name."""
        stack = of_one_stack() if self.outdoors else {OWN: _about_one(OWN_SPREAD)}
        return {**doubts(self.wood, self.start), **stack}


def of_one_stack() -> dict[str, Estimate]:
    """What is not known of a stack in the weather, by name: how its pieces differ from their wood, how much air gets through."""
    return {OWN: _about_one(OWN_SPREAD), SITE: _about_one(SITE_SPREAD)}


def _about_one(spread: float) -> Estimate:
    """A factor that is likely 1, by the spread of its logarithm [-]."""
    return Estimate(1.0, exp(-Z_95 * spread), exp(Z_95 * spread), Basis(Ground.DEFAULT, ""), exp(-4.0 * spread))


@dataclass(frozen=True)
class Weather:
    """How each particle's months differ from the normal ones: warmer [K] and damper [-], each (n, months)."""

    warmer: Array
    damper: Array

    @classmethod
    def drawn(cls, scenarios: Scenarios, months: int, stage: int, read_until: float = 0.0) -> Weather:
        """Months of their own for every particle; the same for the same seed, n and stage. Months before day `read_until` are
        normal ones: what the true ones did lies in the readings, and is held for pace (`evidence.LOSS_ERROR` allows for it)."""
        yet = (np.arange(months) + 1) * MONTH_DAYS > read_until
        columns = [
            np.column_stack([scenarios.column(f"drying.weather.{name}.{stage}.{m}") for m in range(months)])
            for name in ("warmer", "damper")
        ]
        return cls(WARMER_K * columns[0] * yet, DAMPER * columns[1] * yet)

    def each(self, air: AirSteps) -> list[AirSteps]:
        """The air of every particle."""
        begun = np.cumsum(air.seconds) - air.seconds
        month = np.minimum(begun / (MONTH_DAYS * DAY), self.warmer.shape[1] - 1).astype(int)
        source = np.clip(air.source + self.warmer[:, month], ICE_C, HOT_C)
        humidity = air.vapour / np.exp(_log_saturated(air.source)) * (1.0 + self.damper[:, month])
        vapour = np.exp(_log_saturated(source)) * np.clip(humidity, 0.02, 0.995)
        return [air._replace(source=warm, vapour=damp) for warm, damp in zip(source, vapour, strict=True)]


def _log_saturated(temperature_c: Array) -> Array:
    """Logarithm of the saturation pressure [Pa], by straight lines between whole degrees."""
    pressures = law_of(0.5, Pace()).pressures
    return np.interp(temperature_c, COLDEST + np.arange(pressures.size), pressures)


@dataclass(frozen=True)
class Paths:
    """What the particles did: draws z (n, d); days to the target (n,), the length of the air where it ended first; whether that
    was so, late (n,); moisture at the start (n,) and on the days asked for (n, j), in the mean, in the middle, at the face; what
    middle and face hold at the target (n, 2), not a number where late; moisture at the end of every whole day from the start on,
    held at the target once it is reached, (n, t)."""

    z: Array
    days: Array
    late: NDArray[np.bool_]
    starts: Array
    means: Array
    cores: Array
    faces: Array
    ends: Array
    daily: Array

    @classmethod
    def all_of(cls, several: Sequence[Paths]) -> Paths:
        """Those of several runs, one after the other."""
        return cls(*(np.concatenate([getattr(one, each.name) for one in several]) for each in fields(cls)))


def prior_draws(case: Case, scenarios: Scenarios) -> Array:
    """Draws of every doubt before anything is read, (n, d)."""
    return np.column_stack([scenarios.column(name) for name in case.doubts()])


def run(case: Case, z: Array, weather: Weather, on_days: Array) -> Paths:
    """Take every particle through its air. on_days: days from the start on which their moisture is asked for, (j,).

    Raises BadAir where the air ends before the last of them.
    """
    doubts = case.doubts()
    values = [_values(doubts, row) for row in z]
    airs = _airs(case, values, weather)
    last, length = float(np.ceil(on_days.max(initial=0.0))) + 1.0, length_days(case.air)
    if last >= length:
        raise BadAir(f"A reading on day {last - 1.0:.0f} lies beyond the {length:.0f} days of air that were given.")
    cut = intervals(case.air, last)
    counted = case.counted_m
    first = dry_many(
        [(_piece(case, one, counted), part(air, 0, cut)) for one, air in zip(values, airs, strict=True)], tolerance=LOOSE
    )
    legs = [(course.end, part(air, cut, air.seconds.size)) for course, air in zip(first, airs, strict=True)]
    rest = dry_many(legs, stop_at=case.target, tolerance=LOOSE)
    found = np.array([_reached(case.target, *both) for both in zip(first, rest, strict=True)])
    late = np.isnan(found)
    means = np.array([course.mean_on(on_days) for course in first]).reshape(len(first), on_days.size)
    inside = np.array([_inside(case, *course.inside_on(on_days)) for course in first])
    cores, faces = (inside[:, at].reshape(len(first), on_days.size) for at in (0, 1))
    ends = np.array([_at_target(case, *both) for both in zip(first, rest, strict=True)])
    daily = np.array([_daily(case, *both) for both in zip(first, rest, strict=True)])
    starts = np.array([course.start.mean for course in first])
    return Paths(z, np.where(late, length, found), late, starts, means, cores, faces, ends, daily)


def _values(doubts: Mapping[str, Estimate], row: Array) -> dict[str, float]:
    return {name: estimate.at(float(z)) for (name, estimate), z in zip(doubts.items(), row, strict=True)}


def _piece(case: Case, values: Mapping[str, float], counted: float) -> Drying:
    own = {FACTOR: values[FACTOR] * values[OWN], MOISTURE: max(values[MOISTURE], DRIEST)}
    return drawn({**values, **own}, counted, float(case.air.source[0]))


def _airs(case: Case, values: Sequence[Mapping[str, float]], weather: Weather) -> list[AirSteps]:
    if not case.outdoors:
        return [case.air] * len(values)
    return [filmed(air, one[FILM] * one[SITE]) for air, one in zip(weather.each(case.air), values, strict=True)]


def _daily(case: Case, first: Course, rest: Course) -> Array:
    """Moisture at every whole day, (t,)."""
    days = np.arange(round(length_days(case.air)), dtype=float)
    split = float(first.days[-1])
    both = np.where(days <= split, first.mean_on(days), rest.mean_on(days - split))
    dry = np.maximum.accumulate(both <= case.target)
    return np.where(dry, case.target, both)


def _inside(case: Case, core: Array, face: Array) -> tuple[Array, Array]:
    """What middle and face of the piece hold, from those of the board that stands in for it."""
    return face + middle_over(case.thickness_m, case.sides) * (core - face), face


def _at_target(case: Case, first: Course, rest: Course) -> tuple[float, float]:
    """Middle and face when the mean is at the target; not numbers where it does not get there."""
    early = first.days_to(case.target)
    course, when = (first, early) if early is not None else (rest, rest.days_to(case.target))
    if when is None:
        return float("nan"), float("nan")
    core, face = _inside(case, *course.inside_on([when]))
    return float(core[0]), float(face[0])


def _reached(target: float, first: Course, rest: Course) -> float:
    """Days to the target; not a number where it was not reached."""
    early = first.days_to(target)
    if early is not None:
        return early
    later = rest.days_to(target)
    return float("nan") if later is None else float(first.days[-1]) + later
