"""Air of a heated or cooled room through the year, and the moisture that furniture follows in it.

Indoor vapour pressure = outdoor mean + what people, plants and cooking add, never more than cooling or a dehumidifier leaves.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import OutOfRange
from waney.figures.scenarios import Scenarios, summed_up
from waney.wood.climate import Climate
from waney.wood.emc import equilibrium_moisture
from waney.wood.vapour import saturation_pressure, vapour_pressure
from waney.wood.weather import Air

GAIN_PA = Estimate(300.0, 0.0, 800.0, Basis(Ground.DEFAULT, "", "vapour added indoors"), hard_min=0.0)
"""Vapour pressure that living in a room adds [Pa]: a guess, no source."""
HIGHEST_HUMIDITY = Estimate(0.60, 0.50, 0.70, Basis(Ground.DEFAULT, "", "highest indoor humidity"), hard_min=0.0, hard_max=1.0)
"""Highest relative humidity that cooling or a dehumidifier leaves [-]: asked of the person; this is a guess, no source."""
INDOOR_C = (5.0, 40.0)
"""Indoor temperatures that are taken for a room's [°C]."""


@dataclass(frozen=True)
class Indoor:
    """How a room is kept: temperature of each month, January first [°C], and the two figures that are asked."""

    temperature_c: tuple[float, ...]
    gain_pa: Estimate = GAIN_PA
    highest_humidity: Estimate = HIGHEST_HUMIDITY

    def __post_init__(self) -> None:
        if len(self.temperature_c) != 12:
            raise OutOfRange("The count of indoor temperatures", len(self.temperature_c), 12, 12, "", "A year of months")
        for degrees in self.temperature_c:
            if not INDOOR_C[0] <= degrees <= INDOOR_C[1]:
                raise OutOfRange("Indoor temperature", degrees, *INDOOR_C, "°C", "A room for people")


def by_season(winter_c: float, spring_c: float, summer_c: float, autumn_c: float, *, southern: bool = False) -> tuple[float, ...]:
    """Indoor temperatures of twelve months, January first, from the four seasons.

    Winter is December to February, in the south June to August.
    """
    seasons = (winter_c, spring_c, summer_c, autumn_c)
    shift = 6 if southern else 0
    return tuple(seasons[((month + shift) % 12) // 3] for month in range(1, 13))


@dataclass(frozen=True)
class RoomMonth:
    """One month indoors: temperature [°C], relative humidity [-], and the moisture wood follows [-]."""

    month: int
    temperature_c: float
    humidity: Estimate
    moisture: Estimate
    held_down: float
    """share of scenarios in which the highest indoor humidity set the limit [-]"""


def room_humidity(outdoor: Air, indoor_c: float, gain_pa: float, highest: float) -> float:
    """Relative humidity indoors [-]: outdoor vapour and the gain, warmed to the room, at most `highest`."""
    vapour = vapour_pressure(outdoor.temperature_c, outdoor.humidity) + gain_pa
    return min(vapour / saturation_pressure(indoor_c), highest)


def _month(outdoor: Air, indoor_c: float, indoor: Indoor, scenarios: Scenarios) -> RoomMonth:
    gains = scenarios.values("room.gain", indoor.gain_pa)
    tops = scenarios.values("room.highest_humidity", indoor.highest_humidity)
    humidities = [room_humidity(outdoor, indoor_c, float(gain), float(top)) for gain, top in zip(gains, tops, strict=True)]
    moistures = [equilibrium_moisture(indoor_c, humidity) for humidity in humidities]
    likely = room_humidity(outdoor, indoor_c, indoor.gain_pa.likely, indoor.highest_humidity.likely)
    basis = Basis(Ground.DEFAULT, "", "outdoor vapour, vapour added indoors, highest indoor humidity")
    return RoomMonth(
        outdoor.month,
        indoor_c,
        summed_up(np.array(humidities), likely, basis),
        summed_up(np.array(moistures), equilibrium_moisture(indoor_c, likely), basis),
        float(np.mean(np.array(humidities) >= tops)),
    )


def room_year(climate: Climate, indoor: Indoor, scenarios: Scenarios) -> tuple[RoomMonth, ...]:
    """Twelve months indoors, January first. The doubts are `room.gain` and `room.highest_humidity`, the same all year."""
    return tuple(
        _month(outdoor, degrees, indoor, scenarios) for outdoor, degrees in zip(climate.months, indoor.temperature_c, strict=True)
    )
