"""Days until a piece is dry, with the range that what nobody knows makes of it: the same model run in every scenario."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from waney.drying.air import DAY, filmed
from waney.drying.board import Course, Drying, dry, dry_many, evenly
from waney.drying.grid import grid
from waney.drying.kernel.records import AirSteps
from waney.drying.law import law_of
from waney.drying.pace import MODEL, Pace, shared, species_factor
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.species import Species
from waney.wood.traits import Trait
from waney.wood.weight import MOISTURE, SG, green_moisture

FACTOR, FILM, LEVEL = "drying.factor", "drying.film", "drying.level"
"""Names of the doubts of the model, for `figures.scenarios`."""
LOOSE = 2e-4
"""Tolerance of the scenarios' steps in time: far below what they differ by [-]."""


class NotDryInTime(Problem):
    """Even the likely piece does not get there in the air given."""


@dataclass(frozen=True)
class DaysRange:
    """Days to a target; how many scenarios out of all did not get there before the air ended (their days count as its length);
    the likely piece's course."""

    days: Estimate
    late: int
    scenarios: int
    course: Course


def doubts(wood: Species, start: Estimate | None = None) -> Mapping[str, Estimate]:
    """What makes the days uncertain: gravity, moisture at the start (green when None), the wood's factor, level and film."""
    found = shared()
    return {
        SG: wood.needed(Trait.SG_GREEN),
        MOISTURE: start or green_moisture(wood),
        FACTOR: species_factor(wood),
        LEVEL: found["level"],
        FILM: found["film"],
    }


def drawn(values: Mapping[str, float], thickness_m: float, temperature_c: float) -> Drying:
    """The piece of one scenario."""
    numbers = {name: estimate.likely for name, estimate in shared().items()}
    pace = Pace(values[LEVEL], numbers["density_slope"], numbers["free"], values[FILM])
    # a law for every gravity would cost more than the piece: to the nearest hundredth it makes no difference that could be seen
    gravity, nodes = round(values[SG], 2), grid()
    law = law_of(gravity, Pace(free=pace.free))
    return Drying(
        thickness_m,
        gravity,
        law,
        evenly(values[MOISTURE], nodes),
        temperature_c,
        values[FACTOR] * pace.factor(gravity),
        0.0,
        nodes,
    )


def days_range(
    wood: Species,
    thickness_m: float,
    air: AirSteps,
    target: float,
    scenarios: Scenarios,
    *,
    start: Estimate | None = None,
    outdoors: bool = True,
) -> DaysRange:
    """Days until the mean of a piece is at `target` [-] in air without a film factor (as `outdoor_air` and `kiln_air` make it).

    outdoors: whether the film factor of stacks outdoors holds. Raises NotDryInTime, or NoFigure for a wood without gravity.
    """
    known = doubts(wood, start)
    temperature = float(air.source[0])
    middle = likely(known)
    course = dry(drawn(middle, thickness_m, temperature), _filmed(air, middle[FILM], outdoors), stop_at=target)
    found = course.days_to(target)
    if found is None:
        raise NotDryInTime(
            f"In {air.seconds.sum() / DAY:.0f} days the piece comes to {course.mean[-1]:.0%}, not to {target:.0%}: give it more."
        )
    draws = scenarios.draws(known)
    pieces = [(drawn(values, thickness_m, temperature), _filmed(air, values[FILM], outdoors)) for values in draws]
    courses = dry_many(pieces, stop_at=target, tolerance=LOOSE)
    return _summed(course, found, courses, target, air)


def _filmed(air: AirSteps, film: float, outdoors: bool) -> AirSteps:
    return filmed(air, film) if outdoors else air


def _summed(course: Course, found: float, courses: Sequence[Course], target: float, air: AirSteps) -> DaysRange:
    length = float(air.seconds.sum()) / DAY
    days = [one.days_to(target) for one in courses]
    late = sum(one is None for one in days)
    reached = [length if one is None else one for one in days]
    return DaysRange(summed_up(reached, found, MODEL, hard_min=0.0), late, len(days), course)
