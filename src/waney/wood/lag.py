"""How slowly the mean moisture of a piece follows the air: one time constant, from diffusion, thickness and what is on its faces.

At seasons' pace a plate with both faces open follows with the lag T/3 + (a/2)/h, T = (a/2)²/D: the first moment of its answer
to a step, exact where D does not change (Crank 1975, memory). a: thickness; h: conductance of finish and air on moisture.
"""

from __future__ import annotations

from functools import cache
from math import exp

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.tables import Row, table
from waney.units.duration import CALENDAR_DAYS
from waney.wood.density import WATER
from waney.wood.diffusion import REFERENCE_C, across_grain, warmth
from waney.wood.film import heat_film, vapour_film
from waney.wood.sorption import sorption_slope
from waney.wood.vapour import STANDARD_PRESSURE, saturation_pressure

Array = NDArray[np.float64]

DAY_S = 86_400.0
BARE = "none"
DIFFUSION_FACTOR = Estimate(
    0.65, 0.4, 1.1, Basis(Ground.DEFAULT, "", "published formula against published drying times"), hard_min=0.0
)
"""What the coefficient of a board is over the published formula [-], as the drying model's fit has it for common woods."""
PANEL_M = 0.016
"""Thickness of the panels that finishes were tested on [m]: 5/8 in, from memory."""
PANEL_GRAVITY, PANEL_C, PANEL_MC = 0.38, 26.7, 0.13
"""Ponderosa pine, 80 °F, half way between 30 and 90 % humidity."""
UNHINDERED = 2.0
"""Effectiveness after seven days [%] up to which a finish counts as none."""


class NoFinish(Problem):
    """A finish that no table knows."""


def diffusion_m2_s(sg_green: float, mc: float, temperature_c: float) -> float:
    """Coefficient across the grain [m2/s]: the published formula at its reference warmth, carried to another (as drying does)."""
    return float(warmth(temperature_c) * across_grain(np.array([mc]), REFERENCE_C, sg_green)[0])


def air_conductance_m_s(sg_green: float, mc: float, temperature_c: float) -> float:
    """Conductance of still air over bare wood, counted on moisture [m/s]: vapour film · p_sat · dh/dM over dry density."""
    film = vapour_film(heat_film(0.0), STANDARD_PRESSURE)
    steep = float(sorption_slope(np.array([mc]), temperature_c)[0])
    return film * saturation_pressure(temperature_c) * steep / (WATER * sg_green)


def lag_s(thickness_m: float, diffusion: float, conductance_m_s: float) -> float:
    """Time constant of a piece with both faces open [s].

    >>> round(lag_s(0.02, 1e-10, float("inf")) / 86400, 2)      # (0.01 m)² / 1e-10 / 3
    3.86
    """
    half = thickness_m / 2.0
    return half**2 / diffusion / 3.0 + half / conductance_m_s


def finishes() -> tuple[str, ...]:
    """The finishes that are known, as they are asked for: "shellac, 2 coats"; "none" first."""
    return (BARE, *(_called(row) for row in table("finishes")))


def _called(row: Row) -> str:
    return f"{row['finish']}, {row['coats']} coats"


@cache
def finish_conductance(name: str) -> Estimate | None:
    """Conductance of a finish, counted on moisture of a wood like pine [m/s]; None where it holds nothing back. Raises NoFinish.

    From what it kept out in seven and in fourteen days: 1 - E/100 = (1 - exp(-t/lag)) / (1 - exp(-t/lag of bare wood)).
    """
    if name == BARE:
        return None
    row = next((row for row in table("finishes") if _called(row) == name), None)
    if row is None:
        raise NoFinish(f"No finish is called {name!r}; known are: {'; '.join(finishes())}.")
    if float(row["day_7"]) <= UNHINDERED:
        return None
    found = sorted(_conductance(float(row[f"day_{days}"]) / 100.0, days * DAY_S) for days in (7, 14))
    likely = float(np.sqrt(found[0] * found[1]))
    basis = Basis(Ground.SOURCE, row["source"], "worked out of what it kept out in 7 and 14 days; panels 5/8 in thick, memory")
    return Estimate(likely, found[0] / 1.3, found[1] * 1.3, basis, hard_min=0.0)


def _conductance(kept_out: float, seconds: float) -> float:
    diffusion = diffusion_m2_s(PANEL_GRAVITY, PANEL_MC, PANEL_C)
    air = air_conductance_m_s(PANEL_GRAVITY, PANEL_MC, PANEL_C)
    bare = lag_s(PANEL_M, diffusion, air)
    taken = (1.0 - kept_out) * (1.0 - exp(-seconds / bare))
    lag = -seconds / float(np.log1p(-taken))
    return PANEL_M / 2.0 / (lag - bare)


def followed(monthly: Array, lag_days: Array) -> Array:
    """Moisture of every day of a year that comes round again, (s, 365), for monthly moistures of the air (s, 12) and lags (s,).

    Straight between the middles of months; the first-order lag is taken exactly over each day.
    """
    middles = (np.arange(12) + 0.5) * CALENDAR_DAYS / 12.0
    x = np.concatenate((middles - CALENDAR_DAYS, middles, middles + CALENDAR_DAYS))
    days = np.arange(CALENDAR_DAYS) + 0.5
    air = np.array([np.interp(days, x, np.tile(row, 3)) for row in monthly])
    keep = np.exp(-1.0 / lag_days)
    at = np.zeros(len(air))
    for day in range(CALENDAR_DAYS):
        at = keep * at + (1.0 - keep) * air[:, day]
    at = at / (1.0 - keep**CALENDAR_DAYS)  # where the year begins as it ends
    out = np.empty_like(air)
    for day in range(CALENDAR_DAYS):
        at = keep * at + (1.0 - keep) * air[:, day]
        out[:, day] = at
    return out
