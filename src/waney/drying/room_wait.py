"""Room wait: whether a piece is ready for the room it will live in, and how many weeks in that room make it so.

Wanted is the mean moisture of the room's year: a piece that comes there from above goes on shrinking, whatever is made of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum

import numpy as np

from waney.drying.air import DAY, AirState, air_steps, joined
from waney.drying.board import Drying, dry, dry_many
from waney.drying.doubts import FACTOR, FILM, LEVEL, LOOSE, doubts, drawn
from waney.drying.dry_weight import AIR_DRY
from waney.drying.grid import positions
from waney.drying.kernel.records import AirSteps, Array
from waney.drying.outdoors import turned
from waney.drying.pace import MODEL
from waney.drying.ready import Part, Readiness, Word, by_parts
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.units.duration import CALENDAR_DAYS
from waney.wood.climate import Climate
from waney.wood.emc import equilibrium_moisture
from waney.wood.room import Indoor, room_humidity
from waney.wood.species import Species
from waney.wood.weight import MOISTURE, SG

WITHIN = 0.01
"""So far above the mean of its room's year a part of a piece counts as come to it [-]: less than the room itself moves it
through a year. Ours, a choice."""
SENSIBLE_WEEKS = 26.0
"""Longer than this a kiln is the better place: half a year takes the room through a dry season. Ours, a choice."""
LONGEST_WEEKS = 104
"""What a room has not done in two years it does not do."""
WEEK = 7.0 * DAY
GAIN, HIGHEST, SHELL, CORE = "room.gain", "room.highest_humidity", "ready.shell", "ready.core"
"""Names of doubts, for `figures.scenarios`; those of the room are `wood.room`'s."""


class Verdict(StrEnum):
    """What to do with the piece; the text is how a page says it."""

    READY = "ready"
    PERHAPS = "perhaps ready"
    LIE = "not ready: let it lie in this room"
    KILN = "not ready: back in the kiln"
    STACK = "not ready: dry it on a stack or in a kiln first"
    NOT_KNOWN = "not known whether it is ready"


@dataclass(frozen=True)
class Room:
    """Where a piece will live."""

    climate: Climate
    kept: Indoor


@dataclass(frozen=True)
class AsRead:
    """What was read of a piece last [-]; None: that part was not read. whole: the mean of its thickness."""

    shell: Estimate | None
    core: Estimate | None
    whole: Estimate | None = None

    @property
    def inside(self) -> Estimate | None:
        """Its wettest part as far as it is known: the core, else the mean."""
        return self.core or self.whole


@dataclass(frozen=True)
class RoomReady:
    """mean: moisture of the room's year; driest, dampest: of its months, likely [-]; weeks: in this room until its inside has
    come there, None where there is nothing to wait for or nothing can be said; late: share not there in LONGEST_WEEKS."""

    verdict: Verdict
    figures: Readiness
    mean: Estimate
    driest: float
    dampest: float
    weeks: Estimate | None
    late: float
    drier: bool
    """its shell, or all of it, is far drier than the room: it will swell there"""


def room_ready(
    wood: Species | None, thickness_m: float | None, read: AsRead, room: Room, start: date, scenarios: Scenarios
) -> RoomReady:
    """Whether a piece is ready for a room, as it was read, and what a wait there from `start` on does.

    Of a wood or a thickness that is not known no wait is said. Raises NoFigure for a wood without gravity.
    """
    year = _year(room, scenarios)
    mean = summed_up(year[1:].mean(axis=1), float(year[0].mean()), Basis(Ground.DEFAULT, "", "air of the room"), hard_min=0.0)
    figures = _figures(read, mean.likely + WITHIN)
    weeks, late = None, 0.0
    waits = figures.word in (Word.NOT, Word.PERHAPS) and read.inside is not None and read.inside.likely <= AIR_DRY
    if waits and wood is not None and thickness_m is not None:
        weeks, late = _weeks(wood, thickness_m, read, room, start, scenarios)
    outer = read.shell or read.whole or read.core
    drier = outer is not None and outer.likely < mean.likely - 3.0 * WITHIN
    verdict = _verdict(figures.word, read, weeks)
    return RoomReady(verdict, figures, mean, float(year[0].min()), float(year[0].max()), weeks, late, drier)


def _figures(read: AsRead, wanted: float) -> Readiness:
    """By shell and core; a core without its shell decides alone, because the shell is drier; the mean alone never says ready."""
    if read.core is not None:
        return by_parts(Part("shell", read.shell, wanted if read.shell else None), Part("core", read.core, wanted))
    if read.shell is not None and read.whole is None:
        return by_parts(Part("shell", read.shell, wanted), Part("core", None, wanted))
    found = by_parts(Part("whole thickness", read.whole, wanted))
    return Readiness(Word.PERHAPS, found.parts) if found.word is Word.READY else found


def _verdict(word: Word, read: AsRead, weeks: Estimate | None) -> Verdict:
    plain = {Word.READY: Verdict.READY, Word.PERHAPS: Verdict.PERHAPS, Word.NOT_KNOWN: Verdict.NOT_KNOWN}
    if word in plain:
        return plain[word]
    if any(one is not None and one.likely > AIR_DRY for one in (read.shell, read.inside)):
        return Verdict.STACK
    return Verdict.KILN if weeks is not None and weeks.likely > SENSIBLE_WEEKS else Verdict.LIE


def _year(room: Room, scenarios: Scenarios) -> Array:
    """Moisture that wood follows in the room, month by month: the likely room, then each scenario, (1 + n, 12)."""
    draws = [_likely_air(room), *scenarios.draws({GAIN: room.kept.gain_pa, HIGHEST: room.kept.highest_humidity})]
    return np.array([[equilibrium_moisture(warm, humid) for warm, humid in _months(room, values)] for values in draws])


def _likely_air(room: Room) -> Mapping[str, float]:
    return {GAIN: room.kept.gain_pa.likely, HIGHEST: room.kept.highest_humidity.likely}


def _months(room: Room, values: Mapping[str, float]) -> list[tuple[float, float]]:
    """Temperature [°C] and humidity [-] of twelve months."""
    both = zip(room.climate.months, room.kept.temperature_c, strict=True)
    return [(warm, room_humidity(outdoors, warm, values[GAIN], values[HIGHEST])) for outdoors, warm in both]


def _air(room: Room, values: Mapping[str, float], start: date) -> AirSteps:
    """LONGEST_WEEKS of still air in the room, a week at a time, straight between the middles of months."""
    middles = (np.arange(12) + 0.5) * CALENDAR_DAYS / 12.0
    x = np.concatenate((middles - CALENDAR_DAYS, middles, middles + CALENDAR_DAYS))
    on = (np.arange(52) + 0.5) * 7.0
    warm, humid = (np.interp(on, x, np.tile(one, 3)) for one in zip(*_months(room, values), strict=True))
    year = air_steps((WEEK, AirState(float(t), float(h), 0.0)) for t, h in zip(warm, humid, strict=True))
    turn = turned(year, (start - date(start.year, 1, 1)).days // 7, 52)
    return joined([turn] * (LONGEST_WEEKS // 52))


def _weeks(
    wood: Species, thickness_m: float, read: AsRead, room: Room, start: date, scenarios: Scenarios
) -> tuple[Estimate, float]:
    """Weeks until the inside of a piece has come to the mean of its room, each scenario to its own; share of those not there."""
    core = read.core or read.whole
    assert core is not None, "what was not read waits for nothing"
    shell = read.shell if read.core else None
    own = doubts(wood, core)
    known = {SG: own[SG], FACTOR: own[FACTOR], LEVEL: own[LEVEL], CORE: core}
    known |= {GAIN: room.kept.gain_pa, HIGHEST: room.kept.highest_humidity} | ({SHELL: shell} if shell else {})
    cases = [_case(values, own[FILM].likely, thickness_m, room, start) for values in (likely(known), *scenarios.draws(known))]
    middle = dry(cases[0].piece, cases[0].air)
    courses = dry_many([(case.piece, case.air) for case in cases[1:]], tolerance=LOOSE)
    found = [course.core_days_to(case.wanted) for course, case in zip((middle, *courses), cases, strict=True)]
    weeks = [float(LONGEST_WEEKS) if one is None else one / 7.0 for one in found]
    return summed_up(weeks[1:], weeks[0], MODEL, hard_min=0.0), sum(one is None for one in found[1:]) / scenarios.n


@dataclass(frozen=True)
class _Case:
    """The piece and the air of one scenario; wanted: the mean of that room, and WITHIN [-]."""

    piece: Drying
    air: AirSteps
    wanted: float


def _case(values: Mapping[str, float], film: float, thickness_m: float, room: Room, start: date) -> _Case:
    months = _months(room, values)
    piece = drawn({**values, FILM: film, MOISTURE: values[CORE]}, thickness_m, months[start.month - 1][0])
    outer = min(values.get(SHELL, values[CORE]), AIR_DRY)
    inwards = (1.0 - positions()) ** 2  # a parabola: the shell at the face, flat in the middle
    profile = np.maximum(values[CORE] + (outer - values[CORE]) * inwards, 0.01)
    mean = float(np.mean([equilibrium_moisture(warm, humid) for warm, humid in months]))
    return _Case(replace(piece, moistures=profile), _air(room, values, start), mean + WITHIN)
