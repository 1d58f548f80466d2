"""Chamber: a closed space in which a stack dries: warmed by the sun through glass, or with the water taken out of its air.

A chamber that the sun warms is told by what it makes of the outdoor air by day and by night; sun by the hour, glass and vents
are not modelled, nor what the load itself does to the air.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from math import ceil

from waney.drying.air import DAY, HOUR, AirState, air_steps, filmed
from waney.drying.board import Drying, dry
from waney.drying.kernel.records import AirSteps
from waney.drying.outdoors import COLDEST_C, PACKAGE, Passage, daily, turned
from waney.drying.pace import likely_pace
from waney.drying.wood_piece import piece_of
from waney.figures.problem import Problem
from waney.units.share import print_share
from waney.wood.climate import Climate
from waney.wood.species import Species
from waney.wood.vapour import saturation_pressure

HOTTEST_C = 100.0
DRIEST_AIR = 0.05


class BadChamber(Problem):
    """A drying chamber whose settings cannot be."""


def _checked(humidity: float) -> None:
    if not DRIEST_AIR <= humidity <= 1.0:
        raise BadChamber(f"A humidity of {print_share(humidity)} is no air to dry in: it lies between 5 and 100 %.")


@dataclass(frozen=True)
class SunChamber:
    """What a chamber makes of outdoor air. warmer: by day and by night above the day's mean outdoors [K]; humidity_day: as read
    inside by day [-], None: the outdoor vapour, warmed; speed of the air [m/s]; hours of day."""

    warmer_day: float
    warmer_night: float
    humidity_day: float | None = None
    speed_m_s: float = 1.5
    day_hours: float = 8.0

    def __post_init__(self) -> None:
        if not 0.0 < self.day_hours < 24.0:
            raise BadChamber("Hours of day lie between 0 and 24.")
        if self.humidity_day is not None:
            _checked(self.humidity_day)

    @classmethod
    def read(
        cls,
        by_day: tuple[float, float],
        by_night: tuple[float, float],
        humidity_day: float | None = None,
        speed_m_s: float = 1.5,
    ) -> SunChamber:
        """From two thermometers read at one time, inside and outside, by day and by night [°C]."""
        warmer_day, warmer_night = (inside - outside for inside, outside in (by_day, by_night))
        return cls(warmer_day + DAY_K, warmer_night - NIGHT_K, humidity_day, speed_m_s)


DAY_K, NIGHT_K = 4.0, 3.0
"""Outdoor air by day above the mean of day and night, and by night below it [K]: common practice, no source."""
SUN_CHAMBERS = (SunChamber(10.0, 3.0), SunChamber(14.0, 4.0), SunChamber(18.0, 6.0))
"""A dull, a usual and a good one, tried all three where nobody read the air of a chamber. A good one is 20 to 30 °F (11 to 17 K)
above the outdoor air of a sunny day (wvu-dr-1, seen); a year has dull days too. Nights and
speed: a choice, no source."""
CLOSE_AT = 0.15
"""Once the boards are so dry [-] the vents are shut and the fans stand still by night, so that nothing is gained back: ours, a
choice. Until then the night's air goes through as the day's does."""
STILL = 1e4
"""How much more a film holds back where the air is shut in and stands still [-]."""


@dataclass(frozen=True)
class Dehumidified:
    """A chamber that holds its air: temperature [°C], humidity [-], speed of the air [m/s]."""

    temperature_c: float
    humidity: float
    speed_m_s: float = 1.5

    def __post_init__(self) -> None:
        _checked(self.humidity)


def dehumidified(chamber: Dehumidified, days: int, passage: Passage = PACKAGE) -> AirSteps:
    """The same air day after day about a stack."""
    return air_steps([(DAY, passage.state(chamber.temperature_c, chamber.humidity, chamber.speed_m_s))] * days)


@lru_cache(maxsize=64)
def _year(climate: Climate, chamber: SunChamber, passage: Passage) -> AirSteps:
    return air_steps(part for t, h in daily(climate) for part in _day_and_night(float(t), float(h), chamber, passage))


def sun_air(
    climate: Climate,
    start: date,
    days: int,
    chamber: SunChamber,
    passage: Passage = PACKAGE,
    closed_from: int | None = None,
) -> AirSteps:
    """A day part and a night part for each of `days` days from `start`, by the month's means outdoors. closed_from: the day from
    which on the nights are closed; None: they never are."""
    steps = turned(_year(climate, chamber, passage), 2 * (start - date(start.year, 1, 1)).days, 2 * days)
    if closed_from is not None:
        steps.resistance[2 * closed_from + 1 :: 2] *= STILL
    return steps


def sun_air_about(
    board: Drying, climate: Climate, start: date, days: int, chamber: SunChamber, passage: Passage, film: float
) -> AirSteps:
    """The same about one board: nights are closed once it is at `CLOSE_AT`; film: factor on the film [-]."""
    vented = sun_air(climate, start, days, chamber, passage)
    found = dry(board, filmed(vented, film), stop_at=CLOSE_AT).days_to(CLOSE_AT)
    return vented if found is None else sun_air(climate, start, days, chamber, passage, ceil(found))


def sun_air_for(
    wood: Species, thickness_m: float, climate: Climate, start: date, days: int, chamber: SunChamber, passage: Passage = PACKAGE
) -> AirSteps:
    """The same about the likely board of a wood and green thickness [m]."""
    return sun_air_about(piece_of(wood, thickness_m), climate, start, days, chamber, passage, likely_pace().film)


def _day_and_night(t: float, h: float, chamber: SunChamber, passage: Passage) -> list[tuple[float, AirState]]:
    by_day = _warmed(t, h, chamber.warmer_day, chamber, passage)
    if chamber.humidity_day is not None:
        by_day = replace(by_day, humidity=max(chamber.humidity_day, by_day.humidity))
    by_night = _warmed(t, h, chamber.warmer_night, chamber, passage)
    return [(chamber.day_hours * HOUR, by_day), ((24.0 - chamber.day_hours) * HOUR, by_night)]


def _warmed(t: float, h: float, warmer: float, chamber: SunChamber, passage: Passage) -> AirState:
    """Outdoor air after warming: its vapour stays."""
    cold = max(t, COLDEST_C)
    warm = min(cold + warmer, HOTTEST_C)
    brought = min(h * saturation_pressure(cold) / saturation_pressure(warm), 1.0)
    return passage.state(warm, brought, chamber.speed_m_s)
