"""Objections: why a lot may not travel in the air that another lot's schedule makes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from waney.drying.board import Course
from waney.drying.lot import Lot
from waney.drying.safe_rate import fastest_day, safe_rate
from waney.drying.schedules import Schedule, Step
from waney.units.share import print_share

HOTTER_C, DRIER, WETTER = 3.0, 0.01, 0.02
"""How much hotter [°C] and drier (EMC) [-] than a wood's own step an air may be, and moister than the wood at the start [-]:
common practice, no source."""
SLACK = 0.01
"""Moisture is looked at no finer than this [-]: a step that begins a little early is none too early."""
FASTER = 1.05
"""A day above the safe rate counts when it is faster than by the wood's own schedule: the model makes first days too fast."""


def objections(lot: Lot, own: Schedule, steps: Sequence[tuple[Step, float]], course: Course, alone: Course) -> tuple[str, ...]:
    """What speaks against a lot in these steps of air, as sentences. own: its schedule; steps: each with its days; course: what
    it does in them; alone: what it does by its own schedule."""
    return (*_moist(lot, steps), *_hard(lot, own, steps, course), *_fast(lot, course, alone))


def _moist(lot: Lot, steps: Sequence[tuple[Step, float]]) -> Iterator[str]:
    first = steps[0][0]
    if first.emc > lot.start.likely + WETTER:
        yield (
            f"{lot.name} is at {print_share(lot.start.likely)} and would take up water: "
            "the load begins with air in which wood settles at "
            f"{print_share(first.emc)}."
        )


def _hard(lot: Lot, own: Schedule, steps: Sequence[tuple[Step, float]], course: Course) -> Iterator[str]:
    """The first step that is too hot and the first that is too dry for the moisture that the lot has as it begins."""
    begin = 0.0
    hot = dry = False
    for step, days in steps:
        mc = float(course.mean_on([begin])[0])
        if mc <= lot.target:
            return
        fits, at = own.at(mc - SLACK), f"{lot.name} is at {print_share(mc)} on day {begin:.0f}"
        if step.dry_c > fits.dry_c + HOTTER_C and not hot:
            hot = True
            yield f"{at}, when it gets {step.dry_c:.0f} °C; its own schedule has {fits.dry_c:.0f} °C."
        if step.emc < fits.emc - DRIER and not dry:
            dry = True
            yield f"{at}, when the EMC is {print_share(step.emc, 1)}; its own schedule has {print_share(fits.emc, 1)}."
        begin += days


def _fast(lot: Lot, course: Course, alone: Course) -> Iterator[str]:
    limit = safe_rate(lot.wood.id, lot.thickness_m)
    rate, when = fastest_day(course.days, course.mean, course.start.mean)
    own, _ = fastest_day(alone.days, alone.mean, alone.start.mean)
    if limit is not None and rate > limit.a_day and rate > FASTER * own:
        yield f"{lot.name}, day {when + 1:.0f}: {limit.said(rate)}; by its own schedule {print_share(own, 1)}."
