"""Hard chamber: where a vacuum chamber, set as it is, is harder on a lot than its wood bears, and whom it may then travel with.

A chamber is set once for all that lie in it. Wood that needs it milder may travel with its like, never with wood that does not:
that one would have it set harder than the first bears.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto

import numpy as np

from waney.drying.board import Course
from waney.drying.lot import Lot
from waney.drying.objections import FASTER, HOTTER_C, SLACK, WETTER
from waney.drying.safe_rate import fastest_day, safe_rate
from waney.drying.schedules import Schedule
from waney.drying.stress import stresses
from waney.drying.vacuum import Cycle
from waney.wood.emc import equilibrium_moisture
from waney.wood.species import NoFigure

PULLED = 1.05
"""Stress counts when the surface is kept from shrinking more than by the wood's own schedule by this factor: common practice is
to look at the prongs; no source for the figure."""


NO_WIDTH = 0.001
"""Limits nearer to each other than this are not told [-]."""
MOISTEST = 0.95
"""Moister air is beyond the table of equilibrium [-]."""


class Kind(Enum):
    """What a chamber can be too hard by."""

    HOT = auto()
    FAST = auto()
    PULLED = auto()


MARGIN = {Kind.HOT: HOTTER_C, Kind.FAST: FASTER - 1.0, Kind.PULLED: PULLED - 1.0}
"""How far two lots may differ in what they need and still be set for alike, in the units of `Hard.over`."""


@dataclass(frozen=True)
class Hard:
    """How a chamber compares with what one lot bears. over: for HOT how much hotter the wood is than the air of its own schedule
    [°C], else loss or strain over what it bears, less 1 [-]; said: the sentence, empty where the wood bears it."""

    kind: Kind
    over: float
    said: str


@dataclass(frozen=True)
class Ways:
    """What one lot does in a chamber: course: the likely piece, with its profiles; limits: the same at both limits of its
    permeability; alone: by its own schedule in heated air, with profiles; own: that schedule; None for both: none is known."""

    course: Course
    limits: tuple[Course, Course]
    own: Schedule | None
    alone: Course | None


@dataclass(frozen=True)
class Judged:
    """What is said of one lot. against: why it may not travel with the others; hard: where the chamber, set as it is, is too hard
    for it whoever travels with it; unjudged: what no table can say of it, empty for nothing."""

    against: tuple[str, ...]
    hard: tuple[str, ...] = ()
    unjudged: str = ""


def judged(lots: Sequence[Lot], ways: Sequence[Ways], cycle: Cycle | None) -> tuple[Judged, ...]:
    """Every lot of a load in a vacuum chamber."""
    found = [hard_on(lot, each) for lot, each in zip(lots, ways, strict=True)]
    return tuple(_judged(i, lots, found, cycle) for i in range(len(lots)))


def _judged(at: int, lots: Sequence[Lot], found: Sequence[Sequence[Hard]], cycle: Cycle | None) -> Judged:
    whom = {one: _bears_more(one, at, lots, found) for one in found[at] if one.said}
    against = (*(one.said for one, more in whom.items() if more), *dict.fromkeys(filter(None, whom.values())))
    hard = [one.said for one, more in whom.items() if not more]
    if cycle is not None:
        hard += wetted(lots[at], cycle)
    return Judged(against, tuple(hard), unjudged(lots[at], found[at]))


def _bears_more(one: Hard, at: int, lots: Sequence[Lot], found: Sequence[Sequence[Hard]]) -> str:
    """Who of the others would not have the chamber set for this lot, as a sentence; empty: nobody."""
    for i, theirs in enumerate(found):
        same = next((each.over for each in theirs if each.kind is one.kind), None)
        if i != at and same is None:
            return f"What {lots[i].name} bears, no table tells."
        if i != at and same is not None and max(same, 0.0) < one.over - MARGIN[one.kind]:
            return f"{lots[i].name}, as it comes in, bears more."
    return ""


def hard_on(lot: Lot, ways: Ways) -> tuple[Hard, ...]:
    """What the chamber is to a lot, one entry for each kind that its tables can judge."""
    return (*_hot(lot, ways), *_fast(lot, ways), *_pulled(lot, ways))


def unjudged(lot: Lot, found: Sequence[Hard]) -> str:
    """What nobody can say of a lot in vacuum because no table has it; empty for nothing."""
    missing = {Kind.HOT: "how hot it may get", Kind.FAST: "how fast it may dry", Kind.PULLED: "how hard it is pulled"}
    gone = [words for kind, words in missing.items() if kind not in {one.kind for one in found}]
    return f"{lot.name}: no table tells {', '.join(gone)}." if gone else ""


def wetted(lot: Lot, cycle: Cycle) -> Iterator[str]:
    """Where the warm air of a cycle would wet a lot at the start."""
    settles = equilibrium_moisture(cycle.warming.temperature_c, min(cycle.warming.humidity, MOISTEST))
    if settles > lot.start.likely + WETTER:
        at = _whole(lot.start.likely)
        yield f"{lot.name} is at {at} and would take up water: in the warm air wood settles at {_whole(settles)}."


def _hot(lot: Lot, ways: Ways) -> Iterator[Hard]:
    """The wood itself, hour by hour until it is at its target, against the air of its own schedule at that moisture."""
    if ways.own is None:
        return
    course = ways.course
    wet = course.mean > lot.target
    means, warm = course.mean[wet], course.temperature_c[wet]
    if means.size == 0:
        return
    fits = np.array([ways.own.at(mc - SLACK).dry_c for mc in means])
    worst = int((warm - fits).argmax())
    over = float(warm[worst] - fits[worst])
    said = (
        f"{lot.name} is at {_whole(means[worst])} on day {course.days[wet][worst]:.0f}, when it is itself at "
        f"{warm[worst]:.1f} °C; its own schedule has air of {fits[worst]:.1f} °C."
    )
    yield Hard(Kind.HOT, over, said if over > HOTTER_C else "")


def _fast(lot: Lot, ways: Ways) -> Iterator[Hard]:
    """The fastest day against the safe rate and, because the model makes first days too fast, the day by its own schedule."""
    limit = safe_rate(lot.wood.id, lot.thickness_m)
    if limit is None:
        return
    rate, when = _fastest(ways.course)
    slow, fast = sorted(_fastest(one)[0] for one in ways.limits)
    own = 0.0 if ways.alone is None else _fastest(ways.alone)[0]
    bears = max(limit.a_day, FASTER * own)
    by_own = f"; by its own schedule {_share(own)}" if own else ""
    between = f" ({slow * 100:.1f} to {_share(fast)} by how much vapour it lets through)" if fast - slow > NO_WIDTH else ""
    said = f"{lot.name}, day {when + 1:.0f}: {limit.said(rate)}{between}{by_own}."
    yield Hard(Kind.FAST, rate / bears - 1.0, said if rate > bears else "")


def _fastest(course: Course) -> tuple[float, float]:
    return fastest_day(course.days, course.mean, course.start.mean)


def _pulled(lot: Lot, ways: Ways) -> Iterator[Hard]:
    """How far the surface is kept from shrinking, against its own schedule."""
    if ways.alone is None:
        return
    try:
        here, own = stresses(ways.course, lot.wood), stresses(ways.alone, lot.wood)
    except NoFigure:
        return
    over = here.most_strain / own.most_strain - 1.0
    index = here.surface_index
    of_strength = "" if index is None else f", pulled to {index.said} of its strength"
    said = (
        f"{lot.name}: its surface is kept from shrinking by {_share(here.most_strain)}{of_strength}; by its own schedule by "
        f"{_share(own.most_strain)}."
    )
    yield Hard(Kind.PULLED, over, said if over > PULLED - 1.0 else "")


def _share(value: float) -> str:
    return f"{value * 100.0:.1f} %"


def _whole(value: float) -> str:
    return f"{value * 100.0:.0f} %"
