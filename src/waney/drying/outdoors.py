"""Outdoors: a year of weather as the air about a stack, by exposure and start date.

A stack's own air is slower than the wind. Rain on the topmost layer is not counted, nor sun on the ends.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum
from functools import lru_cache

import numpy as np

from waney.drying.air import DAY, HOUR, AirState, air_steps
from waney.drying.kernel.records import AirSteps, Array
from waney.figures.problem import Problem
from waney.units.duration import CALENDAR_DAYS
from waney.wood.climate import Climate, HourlyYear
from waney.wood.vapour import saturation_pressure

COLDEST_C, HOTTEST_C = -39.0, 100.0


class BadChamber(Problem):
    """A drying chamber whose settings cannot be."""


class Exposure(StrEnum):
    """Where a stack stands; the text is how a page names it."""

    OPEN = "in the open, top covered"
    ROOF = "under a roof"
    FAN = "under a roof, with a fan"


SPEED = {Exposure.OPEN: 0.5, Exposure.ROOF: 0.25, Exposure.FAN: 1.5}
"""Air between the layers [m/s]. A fan: 300 ft/min, middle of the useful 200 to 400 of fpl-ah-188 (memory); the others: common
practice, no source. The film factor of the model was fitted with OPEN, so only their ratio matters."""


STACK_M = 1.5
"""Width of a stack that the air crosses [m]: 5 ft, common practice, no source."""


@dataclass(frozen=True)
class Chamber:
    """What a chamber makes of outdoor air. warmer: by day and by night above outdoors [K]; humidity: by day and by night, None
    to keep the outdoor vapour; speed of the air [m/s]; hours of day."""

    warmer_day: float
    warmer_night: float
    humidity_day: float | None
    humidity_night: float | None
    speed_m_s: float
    day_hours: float = 8.0

    def __post_init__(self) -> None:
        if not 0.0 < self.day_hours < 24.0 or any(
            h is not None and not 0.05 <= h <= 1.0 for h in (self.humidity_day, self.humidity_night)
        ):
            raise BadChamber(f"{self}: hours of day lie between 0 and 24, humidities between 5 and 100 %.")


SOLAR = Chamber(20.0, 2.0, 0.45, 0.80, 1.5)
"""A small glazed chamber with vents: common practice, no source; type your own readings in its place."""


def dehumidified(temperature_c: float, humidity: float, days: int, speed_m_s: float = 1.5) -> AirSteps:
    """A dehumidification chamber that holds what it is set to, day after day."""
    return air_steps([(DAY, AirState(temperature_c, humidity, speed_m_s, stack_m=STACK_M))] * days)


def daily(climate: Climate) -> Array:
    """Mean temperature [°C] and humidity [-] of every day of the year, (365, 2): straight lines between the middles of months."""
    middles = np.array([(date(2023, m, 15) - date(2023, 1, 1)).days for m in range(1, 13)], dtype=float)
    x = np.concatenate((middles - CALENDAR_DAYS, middles, middles + CALENDAR_DAYS))
    series = [[getattr(air, name) for air in climate.months] * 3 for name in ("temperature_c", "humidity")]
    return np.column_stack([np.interp(np.arange(CALENDAR_DAYS), x, values) for values in series])


@lru_cache(maxsize=256)
def _year(climate: Climate, speed_m_s: float) -> AirSteps:
    return air_steps((DAY, AirState(max(t, COLDEST_C), h, speed_m_s, stack_m=STACK_M)) for t, h in daily(climate))


def outdoor_air(climate: Climate, start: date, days: int, exposure: Exposure = Exposure.OPEN) -> AirSteps:
    """The air of `days` days from `start`, a day at a time, by the month's means; the year comes round again."""
    return turned(_year(climate, SPEED[exposure]), (start - date(start.year, 1, 1)).days, days)


def turned(year: AirSteps, first: int, count: int) -> AirSteps:
    """`count` intervals of a year that begins anew when it ends, from number `first` on."""
    at = (first + np.arange(count)) % year.seconds.size
    return AirSteps(*(column[at] for column in year))


def hourly_air(year: HourlyYear, start: date, days: int, exposure: Exposure = Exposure.OPEN, block: int = 6) -> AirSteps:
    """The air of `days` days from `start` by the hours of a year, `block` hours at a time: mean temperature, mean vapour."""
    states = [(max(air.temperature_c, COLDEST_C), air.humidity) for air in year.hours]
    blocks = [states[i : i + block] for i in range(0, len(states) - block + 1, block)]
    steps = air_steps((block * HOUR, _mean(hours, SPEED[exposure])) for hours in blocks)
    return turned(steps, (start - date(start.year, 1, 1)).days * 24 // block, days * 24 // block)


def _mean(hours: list[tuple[float, float]], speed_m_s: float) -> AirState:
    temperature = sum(t for t, _ in hours) / len(hours)
    vapour = sum(h * saturation_pressure(t) for t, h in hours) / len(hours)
    return AirState(temperature, min(vapour / saturation_pressure(temperature), 1.0), speed_m_s, stack_m=STACK_M)


def chamber_air(climate: Climate, start: date, days: int, chamber: Chamber) -> AirSteps:
    """A solar or other chamber that takes in outdoor air: a day part and a night part for each of `days` days from `start`."""
    year = daily(climate)
    first = start - date(start.year, 1, 1)
    rows = [year[(first + timedelta(n)).days % CALENDAR_DAYS] for n in range(days)]
    return air_steps(part for t, h in rows for part in _day_and_night(float(t), float(h), chamber))


def _day_and_night(t: float, h: float, chamber: Chamber) -> list[tuple[float, AirState]]:
    parts = (
        (chamber.day_hours, chamber.warmer_day, chamber.humidity_day),
        (24.0 - chamber.day_hours, chamber.warmer_night, chamber.humidity_night),
    )
    return [(hours * HOUR, _warmed(t, h, warmer, wanted, chamber.speed_m_s)) for hours, warmer, wanted in parts]


def _warmed(t: float, h: float, warmer: float, wanted: float | None, speed: float) -> AirState:
    """Air after warming; the vents let in as much outdoor air as the wanted humidity asks, never less vapour than outdoors."""
    warm = min(max(t, COLDEST_C) + warmer, HOTTEST_C)
    brought = min(h * saturation_pressure(max(t, COLDEST_C)) / saturation_pressure(warm), 1.0)
    state = AirState(warm, brought, speed, stack_m=STACK_M)
    return state if wanted is None else replace(state, humidity=max(wanted, brought))
