"""Watch: whether a piece dries too fast, and whether it will be dry before winter has gone by."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date

from waney.drying.board import Course, dry
from waney.drying.evidence import WeightRead
from waney.drying.forecast import Forecast
from waney.drying.inside import Inside
from waney.drying.particles import Case
from waney.drying.safe_rate import SafeRate, fastest_day
from waney.drying.sides import WIDE_AND_LONG, Sides
from waney.drying.stress import stresses
from waney.drying.wood_piece import piece_of
from waney.wood.species import NoFigure, Species

LEAST_SHORTER = 0.97
"""Counted thickness over its own above which nothing is said of edges and ends: a twentieth of the days. Ours, a choice."""
SHORT = 0.93
"""The same for ends that are coated: below it a piece is short enough to speak of them. Ours, a choice."""
BY_EDGES, BY_ENDS = "edges", "bare ends"
GAP = "leave a gap beside each piece, or they do not"
CHECKS = "checks at bare ends are not counted, so coat them"
OVER = ": above 1 it may check, though many a wood stands so high by its own kiln schedule"
"""What docs/methods/drying-stress.md shows: with their most 34 of 40 woods do, by schedules that the trade dries them by."""
HARDLY = 0.5
NOT = 0.05


def read_loss(weights: Sequence[WeightRead], dry_kg: float) -> float | None:
    """Moisture lost a day between the last two weights [-]; None with fewer than two, or two on one day."""
    if len(weights) < 2:
        return None
    last, now = sorted(weights, key=lambda read: read.day)[-2:]
    return None if now.day <= last.day else (last.kg - now.kg) / dry_kg / (now.day - last.day)


def expected(case: Case) -> Course:
    """The likely piece's way to the target, its profiles kept."""
    start = case.start.likely if case.start else None
    piece = piece_of(case.wood, case.counted_m, start, temperature_c=float(case.air.source[0]))
    return dry(piece, case.filmed, stop_at=case.target, profiles=True)


def expected_loss(course: Course) -> tuple[float, float]:
    """Most that is lost in a day [-], and the day from the start on which that begins."""
    return fastest_day(course.days, course.mean, course.start.mean)


def said_of_core(inside: Inside | None) -> str:
    """What middle and face hold, with their ranges."""
    return "not known: it does not get there in three summers" if inside is None else inside.said


def said_of_sides(case: Case) -> str:
    """By how much open edges and bare ends shorten the likely days; of edges under bark and of coated ends of short pieces, how
    much they would. Empty for none."""
    if case.start is not None and case.start.likely <= case.target:
        return ""
    counting = which_count(case.sides, case.thickness_m, lambda sides: replace(case, sides=sides).counted_m)
    if any(counting):
        return shorter(_days(case), _days(replace(case, sides=WIDE_AND_LONG)), *counting)
    bare = replace(case, sides=replace(case.sides, edges_open=True))
    if bare.counted_m < LEAST_SHORTER * case.thickness_m:
        days = f"{said_of_days(_days(bare))} instead of {said_of_days(_days(case))}"
        return f"Its edges count as closed by bark; without it, by the model likely {days}."
    bare = replace(case, sides=replace(case.sides, ends_open=True))
    if bare.counted_m < SHORT * case.thickness_m:
        days = f"{said_of_days(_days(bare))} instead of {said_of_days(_days(case))}"
        return f"Its ends count as coated; bare, by the model likely {days}, and they would check."
    return ""


def which_count(sides: Sides, thickness_m: float, counted: Callable[[Sides], float]) -> tuple[bool, bool]:
    """Whether edges, and whether ends, shorten the days by so much that it is told. counted: the thickness that counts [m]."""
    closed = (replace(sides, ends_open=False), replace(sides, edges_open=False))
    edges, ends = (counted(one) < LEAST_SHORTER * thickness_m for one in closed)
    return edges, ends


def shorter(days: float | None, wide: float | None, edges: bool, ends: bool) -> str:
    """By how much a piece is dry earlier than a wide long board, where one of both counts, else nothing; None: later than was
    looked at."""
    if not (edges or ends):
        return ""
    parts = [(BY_EDGES, GAP)] * edges + [(BY_ENDS, CHECKS)] * ends
    names, cares = (" and ".join(one) for one in zip(*parts, strict=True))
    took = f"{said_of_days(days)} instead of {said_of_days(wide)}"
    return f"It dries by its {names} too: by the model likely in {took}; {cares}."


def said_of_days(days: float | None) -> str:
    """'60 days', '4.1 days'; None: more than were looked at."""
    if days is None:
        return "more days than were looked at"
    return f"{days:.0f} days" if days >= 10.0 else f"{days:.1f} days"


def _days(case: Case) -> float | None:
    return expected(case).days_to(case.target)


def said_of_stress(course: Course, wood: Species) -> str:
    """Drying stress on a way taken with profiles, as a risk: what the surface is pulled to, and kept from shrinking by."""
    try:
        found = stresses(course, wood)
    except NoFigure as lack:
        return f"not known: {lack}"
    kept = f"the surface is kept from shrinking by {found.most_strain * 100.0:.1f} %"
    surface, inside = found.surface_index, found.core_index
    if found.strength is None or surface is None or inside is None:
        return f"{kept}; how much this wood bears across the grain was not read"
    turned = found.turned_after_days
    core = f"; after day {turned:.0f} the core instead, to {inside.said}" if turned is not None else ""
    over = OVER if surface.most > 1.0 else ""
    return f"the surface is pulled to {surface.said} of {found.strength.of_what}{over}{core}; {kept}"


def said_of_loss(rate_a_day: float | None, safe: SafeRate | None) -> str:
    """A word and two numbers, 'too fast: 4.1 of 3.8 % a day'; what is missing where there are no two numbers."""
    if rate_a_day is None:
        return "not known: two weights, some days apart, tell it"
    if rate_a_day < 0.0:
        return f"gained {-rate_a_day * 100:.1f} % a day: weigh again, or look for rain and damp"
    if safe is None:
        return f"{rate_a_day * 100:.1f} % a day; no table gives a safe rate for this wood"
    return safe.said(rate_a_day)


def before_spring(found: Forecast, start: date, target: float, spring: date) -> str:
    """'Will not reach 20 % before spring 2027', where that is so; empty elsewhere. start: from which the forecast counts."""
    chance = found.ready_by((spring - start).days)
    if chance > HARDLY:
        return ""
    word = "will not" if chance <= NOT else "will hardly"
    return f"{word.capitalize()} reach {target * 100:.0f} % before spring {spring.year} ({_share(chance)})."


def _share(chance: float) -> str:
    return "less than one chance in twenty" if chance <= NOT else f"{chance * 100:.0f} chances in a hundred"
