"""The one lag of a piece in a room against the full model of drying: how far they part, in moisture, over a settled year."""

from __future__ import annotations

import numpy as np
import pytest

from waney.drying.air import DAY, AirState, air_steps
from waney.drying.board import dry
from waney.drying.wood_piece import piece_of
from waney.units.duration import CALENDAR_DAYS
from waney.wood.climate import station
from waney.wood.emc import equilibrium_moisture
from waney.wood.lag import DAY_S, air_conductance_m_s, diffusion_m2_s, followed, lag_s
from waney.wood.room import Indoor, by_season, room_humidity
from waney.wood.species import species
from waney.wood.traits import Trait

INDOOR = Indoor(by_season(20.0, 21.0, 24.0, 21.0))
PLACE = station("MN", "Minneapolis-St.Paul")


def room() -> tuple[np.ndarray, np.ndarray]:
    """Temperature and humidity of twelve months."""
    humid = [room_humidity(air, warm, 300.0, 0.60) for air, warm in zip(PLACE.months, INDOOR.temperature_c, strict=True)]
    return np.array(INDOOR.temperature_c), np.array(humid)


def by_day(monthly: np.ndarray) -> np.ndarray:
    middles = (np.arange(12) + 0.5) * CALENDAR_DAYS / 12
    x = np.concatenate([middles - CALENDAR_DAYS, middles, middles + CALENDAR_DAYS])
    return np.interp(np.arange(CALENDAR_DAYS) + 0.5, x, np.tile(monthly, 3))


def full_year(wood: str, thickness_m: float, factor: float) -> np.ndarray:
    """Mean moisture of the fourth year in the room, a day at a time, by the full model."""
    warm, humid = (by_day(months) for months in room())
    air = air_steps([(DAY, AirState(float(t), float(h), 0.0)) for t, h in zip(warm, humid, strict=True)] * 4)
    piece = piece_of(species(wood), thickness_m, 0.08, factor=factor, temperature_c=21.0)
    return dry(piece, air).mean[-CALENDAR_DAYS:]


@pytest.mark.parametrize(("wood", "thickness_m"), [("black walnut", 0.019), ("white oak", 0.045), ("black cherry", 0.06)])
def test_one_lag_follows_the_full_model_through_a_year_in_a_room(wood: str, thickness_m: float) -> None:
    """Stated: within 1 % moisture anywhere in the year (0.6 to 0.9 seen), the swing 0 to 20 % larger (4 to 16 seen).

    Both with the full model's coefficient, taken at the room's mean. What parts them: D falls as wood dries, so that real wood is
    slower to dry in winter than one lag says.
    """
    temperature, humidity = room()
    monthly = np.array([equilibrium_moisture(float(t), float(h)) for t, h in zip(temperature, humidity, strict=True)])
    gravity, mean, warm = species(wood).needed(Trait.SG_GREEN).likely, float(monthly.mean()), float(temperature.mean())
    pace = piece_of(species(wood), thickness_m, 0.08).factor
    diffusion = pace * diffusion_m2_s(gravity, mean, warm)
    lag = lag_s(thickness_m, diffusion, air_conductance_m_s(gravity, mean, warm)) / DAY_S
    simple = followed(monthly[None], np.array([lag]))[0]
    full = full_year(wood, thickness_m, pace)
    assert np.abs(simple - full).max() < 0.010
    assert 1.0 <= np.ptp(simple) / np.ptp(full) < 1.2
