"""The air about a piece, interval by interval, as the solver takes it: from temperature, humidity, speed and pressure."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from waney.drying.kernel.records import AirSteps
from waney.figures.problem import Problem
from waney.wood.film import heat_film, latent_heat, mean_air_pressure, through_stack, vapour_film
from waney.wood.vapour import STANDARD_PRESSURE, saturation_pressure

DAY, HOUR = 86_400.0, 3600.0
STICKER_M = 0.022
"""Thickness of stickers [m]: 7/8 in, common practice, no source."""


class NoAir(Problem):
    """Intervals that cannot be dried in."""


@dataclass(frozen=True)
class AirState:
    """Air that stays as it is: temperature [°C], humidity [-], speed past the wood [m/s], total pressure [Pa]; width of the stack
    that it crosses [m], 0 for a piece alone; height of the gaps that it crosses in [m]."""

    temperature_c: float
    humidity: float
    speed_m_s: float
    pressure_pa: float = STANDARD_PRESSURE
    stack_m: float = 0.0
    sticker_m: float = STICKER_M

    @property
    def vapour_pa(self) -> float:
        """Pressure of its vapour [Pa]."""
        return self.humidity * saturation_pressure(self.temperature_c)

    @property
    def heat_film(self) -> float:
        """Heat film of the mean piece [W/(m2 K)]."""
        film = heat_film(self.speed_m_s, self.pressure_pa)
        return through_stack(film, self.speed_m_s, self.stack_m, self.sticker_m, self.pressure_pa)


def film_resistance(state: AirState) -> float:
    """Resistance of the vapour film [m2 s Pa/kg] between this air and a wet surface at its wet bulb; 0 in pure vapour."""
    heat = state.heat_film
    vapour = state.vapour_pa
    low, high = -40.0, state.temperature_c
    resistance = 0.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        saturated = saturation_pressure(middle)
        air = mean_air_pressure(min(saturated, state.pressure_pa), vapour, state.pressure_pa)
        resistance = 1.0 / vapour_film(heat, air) if air > 0.0 else 0.0
        if (saturated - vapour) * latent_heat(middle) > heat * (state.temperature_c - middle) * resistance:
            high = middle
        else:
            low = middle
    return resistance


def air_steps(states: Iterable[tuple[float, AirState]]) -> AirSteps:
    """Intervals of (seconds, air), heated by the air itself, in that order. Raises NoAir for none or for one without length."""
    rows = [(seconds, *_row(state)) for seconds, state in states]
    if not rows or min(row[0] for row in rows) <= 0.0:
        raise NoAir("Every interval of air needs a length above zero, and there must be one at least.")
    return AirSteps(*(np.array(column, dtype=np.float64) for column in zip(*rows, strict=True)))


def _row(state: AirState) -> tuple[float, float, float, float, float]:
    return state.vapour_pa, film_resistance(state), state.heat_film, state.temperature_c, state.pressure_pa


def filmed(steps: AirSteps, factor: float) -> AirSteps:
    """The same air with films that carry `factor` times as much heat and vapour [-]: the film factor of the model."""
    return steps._replace(resistance=steps.resistance / factor, heat=steps.heat * factor)


def joined(parts: Sequence[AirSteps]) -> AirSteps:
    """Several lengths of time, one after the other."""
    return AirSteps(*(np.concatenate(columns) for columns in zip(*parts, strict=True)))


def length_days(steps: AirSteps) -> float:
    """How long all intervals last together [days]."""
    return float(steps.seconds.sum()) / DAY


def intervals(steps: AirSteps, days: float) -> int:
    """How many intervals from the first on last so many days or longer; all of them where they are shorter."""
    return min(int(np.searchsorted(np.cumsum(steps.seconds), days * DAY * (1.0 - 1e-12))) + 1, steps.seconds.size)


def part(steps: AirSteps, begin: int, end: int) -> AirSteps:
    """Intervals `begin` up to, not including, `end`."""
    return AirSteps(*(column[begin:end] for column in steps))
