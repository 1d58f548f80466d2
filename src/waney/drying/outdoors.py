"""Outdoors: a year of weather as the air about a stack, by exposure and start date.

A stack's own air is slower than the wind. Rain on the topmost layer is not counted, nor sun on the ends.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from functools import lru_cache

import numpy as np

from waney.drying.air import DAY, HOUR, AirState, air_steps
from waney.drying.kernel.records import AirSteps, Array
from waney.units.duration import CALENDAR_DAYS
from waney.wood.climate import Climate, HourlyYear
from waney.wood.vapour import saturation_pressure

COLDEST_C = -39.0


class Exposure(StrEnum):
    """Where a stack stands; the text is how a page names it. What a chamber makes of its air: `drying.chamber`."""

    OPEN = "in the open, top covered"
    ROOF = "under a roof"
    FAN = "under a roof, with a fan"
    SUN = "in a chamber that the sun warms"
    DEHUMIDIFIER = "in a chamber with a dehumidifier"


SPEED = {Exposure.OPEN: 0.5, Exposure.ROOF: 0.25, Exposure.FAN: 1.5}
"""Air between the layers [m/s]. A fan: 300 ft/min, middle of the useful 200 to 400 of fpl-ah-188 (memory); the others: common
practice, no source. The film factor of the model was fitted with OPEN, so only their ratio matters."""


STACK_M = 1.5
"""Width of a stack that the air crosses [m]: 5 ft, common practice, no source."""


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
