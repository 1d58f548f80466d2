"""Outdoors: a year of weather as the air about a stack, by exposure and start date.

A stack's own air is slower than the wind, and the wider the stack and the thinner its stickers, the damper and cooler it leaves.
Rain on the topmost layer is not counted, nor sun on the ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from functools import lru_cache

import numpy as np

from waney.drying.air import DAY, HOUR, STICKER_M, AirState, air_steps
from waney.drying.kernel.records import AirSteps, Array
from waney.figures.problem import Problem
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


SPEED = {Exposure.OPEN: 0.1, Exposure.ROOF: 0.05, Exposure.FAN: 1.5}
"""Air between the layers [m/s]. In the open: the round speed at which the film factor that was fitted to printed yard times comes
out near 1; nobody's measured speed was read. Under a roof half of that: common practice, no source. A fan: 300 ft/min, middle of
the useful 200 to 400 of fpl-ah-188 (memory)."""
PACKAGE_M = 1.22
"""Width of a stack where nobody told it [m]: about 4 ft, as packages commonly are (fpl-tn-233, seen)."""
NARROWEST_M, WIDEST_M = 0.1, 10.0
"""One board; hand-stacked piles were up to 16 ft wide (fpl-tn-233, seen), and twice that is no stack [m]."""
THINNEST_M, THICKEST_M = 0.003, 0.1
"""Stickers: thinner or thicker is a slip of the pen [m]. Ours."""


class NoPassage(Problem):
    """A width or a sticker that no stack has."""


@dataclass(frozen=True)
class Passage:
    """What the air of a stack goes through: from one side to the other [m], between layers as far apart as its stickers are thick
    [m]. Raises NoPassage."""

    wide_m: float = PACKAGE_M
    sticker_m: float = STICKER_M

    def __post_init__(self) -> None:
        if not NARROWEST_M <= self.wide_m <= WIDEST_M:
            raise NoPassage(f"A stack {self.wide_m:.2f} m wide is none: from one board, {NARROWEST_M} m, to {WIDEST_M:g} m.")
        if not THINNEST_M <= self.sticker_m <= THICKEST_M:
            raise NoPassage(
                f"Stickers {self.sticker_m * 1000:.0f} mm thick are none: from {THINNEST_M * 1000:g} to {THICKEST_M * 1000:g} mm."
            )

    def state(self, temperature_c: float, humidity: float, speed_m_s: float) -> AirState:
        """Air of this temperature [°C], humidity [-] and speed [m/s] on its way."""
        return AirState(temperature_c, humidity, speed_m_s, stack_m=self.wide_m, sticker_m=self.sticker_m)


PACKAGE = Passage()
"""A package on common stickers."""


def daily(climate: Climate) -> Array:
    """Mean temperature [°C] and humidity [-] of every day of the year, (365, 2): straight lines between the middles of months."""
    middles = np.array([(date(2023, m, 15) - date(2023, 1, 1)).days for m in range(1, 13)], dtype=float)
    x = np.concatenate((middles - CALENDAR_DAYS, middles, middles + CALENDAR_DAYS))
    series = [[getattr(air, name) for air in climate.months] * 3 for name in ("temperature_c", "humidity")]
    return np.column_stack([np.interp(np.arange(CALENDAR_DAYS), x, values) for values in series])


@lru_cache(maxsize=256)
def _year(climate: Climate, speed_m_s: float, passage: Passage) -> AirSteps:
    return air_steps((DAY, passage.state(max(t, COLDEST_C), h, speed_m_s)) for t, h in daily(climate))


def outdoor_air(
    climate: Climate, start: date, days: int, exposure: Exposure = Exposure.OPEN, passage: Passage = PACKAGE
) -> AirSteps:
    """The air of `days` days from `start`, a day at a time, by the month's means; the year comes round again."""
    return turned(_year(climate, SPEED[exposure], passage), (start - date(start.year, 1, 1)).days, days)


def turned(year: AirSteps, first: int, count: int) -> AirSteps:
    """`count` intervals of a year that begins anew when it ends, from number `first` on."""
    at = (first + np.arange(count)) % year.seconds.size
    return AirSteps(*(column[at] for column in year))


def hourly_air(
    year: HourlyYear,
    start: date,
    days: int,
    exposure: Exposure = Exposure.OPEN,
    passage: Passage = PACKAGE,
    block: int = 6,
) -> AirSteps:
    """The air of `days` days from `start` by the hours of a year, `block` hours at a time: mean temperature, mean vapour."""
    states = [(max(air.temperature_c, COLDEST_C), air.humidity) for air in year.hours]
    blocks = [states[i : i + block] for i in range(0, len(states) - block + 1, block)]
    steps = air_steps((block * HOUR, _mean(hours, SPEED[exposure], passage)) for hours in blocks)
    return turned(steps, (start - date(start.year, 1, 1)).days * 24 // block, days * 24 // block)


def _mean(hours: list[tuple[float, float]], speed_m_s: float, passage: Passage) -> AirState:
    temperature = sum(t for t, _ in hours) / len(hours)
    vapour = sum(h * saturation_pressure(t) for t, h in hours) / len(hours)
    return passage.state(temperature, min(vapour / saturation_pressure(temperature), 1.0), speed_m_s)
