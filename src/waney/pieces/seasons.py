"""Seasons: the width of a piece in a room through the year, by the one moisture-size law along its own rings.

The room's air by month says what moisture the piece would settle at; its mean moisture follows with one lag (`wood.lag`).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios, summed_up
from waney.pieces.piece import Piece
from waney.pieces.ring_samples import samples
from waney.units.duration import CALENDAR_DAYS
from waney.wood.climate import Climate
from waney.wood.emc import equilibrium_moisture
from waney.wood.lag import (
    BARE,
    DAY_S,
    DIFFUSION_FACTOR,
    air_conductance_m_s,
    diffusion_m2_s,
    finish_conductance,
    followed,
    lag_s,
)
from waney.wood.limits import SHRINKAGE_START
from waney.wood.movement import RADIAL, TANGENTIAL, shrinkage_doubts
from waney.wood.room import Indoor, room_humidity
from waney.wood.species import Species
from waney.wood.traits import Trait

Array = NDArray[np.float64]

SAID = Basis(Ground.DEFAULT, "", "how the grain stands in the end")
C2_OF_GRAIN = {
    "flat": Estimate(0.95, 0.75, 1.0, SAID, hard_min=0.0, hard_max=1.0),
    "rift": Estimate(0.50, 0.25, 0.75, SAID, hard_min=0.0, hard_max=1.0),
    "quarter": Estimate(0.05, 0.0, 0.25, SAID, hard_min=0.0, hard_max=1.0),
    "": Estimate(0.50, 0.0, 1.0, Basis(Ground.DEFAULT, "", "grain not known: from flat to quarter"), hard_min=0.0, hard_max=1.0),
}
"""Mean cos² of the angle between the face's normal and the radial direction, by the word for it (0 to 30 to 60 to 90 degrees)."""
MONTH_DAYS = CALENDAR_DAYS / 12.0


@dataclass(frozen=True)
class Standing:
    """Where the piece stands: climate of the place, the room, and what is on its faces (`wood.lag.finishes`)."""

    climate: Climate
    room: Indoor
    finish: str = BARE


@dataclass(frozen=True)
class Wide:
    """A width as it is now: width_m at moisture mc, thickness_m through which the piece breathes; c2: its ring angle, see
    `pieces.ring_samples`."""

    width_m: float
    mc: float
    thickness_m: float
    c2: Estimate


def own_rings(piece: Piece) -> Estimate | None:
    """The ring angle of a piece whose place in its log is known, as the mean over its mid-plane; None where it is not."""
    found = samples(piece)
    if not found.known:
        return None
    basis = Basis(Ground.READING, "the ends of its log", "mean of its mid-plane, where the plan has it")
    return Estimate.known(found.mean_c2, basis)


@dataclass(frozen=True)
class Seasons:
    """lag: time constant [days]; months: width in the middle of each, January first [m]; narrowest, widest over the year [m] and
    the months (1 to 12) they fall in; driest, dampest: its mean moisture then [-]; moves: widest less narrowest [m]."""

    lag_days: Estimate
    months: tuple[Estimate, ...]
    narrowest: Estimate
    widest: Estimate
    narrowest_month: int
    widest_month: int
    driest: Estimate
    dampest: Estimate
    moves: Estimate


def seasons(wood: Species, wide: Wide, standing: Standing, scenarios: Scenarios) -> Seasons:
    """The year of a width. Raises NoFigure where shrinkage or gravity is not known, NoFinish.

    Doubts: those of `wood.room` and `wood.movement`, piece.c2, wood.diffusion, wood.finish.
    """
    air = _air(standing, scenarios)
    lag = _lags(wood, wide, standing, scenarios, float(air[0].mean()))
    moisture = followed(air, lag)
    width = _widths(wood, wide, scenarios, moisture)
    basis = shrinkage_doubts(wood)[TANGENTIAL].basis
    low, high = int(np.argmin(width[0])), int(np.argmax(width[0]))

    def over(figures: Array, of: Basis = basis) -> Estimate:
        return summed_up(figures[1:], float(figures[0]), of)

    middles = (np.arange(12) * MONTH_DAYS + MONTH_DAYS / 2.0).astype(int)
    return Seasons(
        over(lag, DIFFUSION_FACTOR.basis),
        tuple(over(width[:, day]) for day in middles),
        over(width.min(axis=1)),
        over(width.max(axis=1)),
        int(low / MONTH_DAYS) + 1,
        int(high / MONTH_DAYS) + 1,
        over(moisture.min(axis=1)),
        over(moisture.max(axis=1)),
        over(width.max(axis=1) - width.min(axis=1)),
    )


def _with_likely(name: str, doubt: Estimate, scenarios: Scenarios) -> Array:
    """The likely value, then one for each scenario."""
    return np.concatenate([[doubt.likely], scenarios.values(name, doubt)])


def _air(standing: Standing, scenarios: Scenarios) -> Array:
    """Moisture that wood would settle at in the room, (1 + n, 12)."""
    room = standing.room
    gains = _with_likely("room.gain", room.gain_pa, scenarios)
    tops = _with_likely("room.highest_humidity", room.highest_humidity, scenarios)
    months = list(zip(standing.climate.months, room.temperature_c, strict=True))
    return np.array(
        [
            [equilibrium_moisture(warm, room_humidity(outdoors, warm, float(gain), float(top))) for outdoors, warm in months]
            for gain, top in zip(gains, tops, strict=True)
        ]
    )


def _lags(wood: Species, wide: Wide, standing: Standing, scenarios: Scenarios, mc: float) -> Array:
    """Time constants [days], (1 + n,): bare air and finish one after the other."""
    gravity, warm = wood.needed(Trait.SG_GREEN).likely, float(np.mean(standing.room.temperature_c))
    diffusion = diffusion_m2_s(gravity, mc, warm) * _with_likely("wood.diffusion", DIFFUSION_FACTOR, scenarios)
    air = air_conductance_m_s(gravity, mc, warm)
    finish = finish_conductance(standing.finish)
    over = np.full(scenarios.n + 1, inf) if finish is None else _with_likely("wood.finish", finish, scenarios)
    both = 1.0 / (1.0 / air + 1.0 / over)
    return np.array([lag_s(wide.thickness_m, float(d), float(h)) for d, h in zip(diffusion, both, strict=True)]) / DAY_S


def _widths(wood: Species, wide: Wide, scenarios: Scenarios, moisture: Array) -> Array:
    """Width of every day, (1 + n, 365), from what it measures now."""
    doubts = shrinkage_doubts(wood)
    radial, tangential = (_with_likely(name, doubts[name], scenarios) for name in (RADIAL, TANGENTIAL))
    c2 = _with_likely("piece.c2", wide.c2, scenarios)
    across = (radial * (1.0 - c2) + tangential * c2)[:, None]

    def left(mc: Array) -> Array:
        share: Array = 1.0 - across * np.maximum(0.0, 1.0 - mc / SHRINKAGE_START)
        return share

    now = left(np.full((scenarios.n + 1, 1), wide.mc))
    width: Array = wide.width_m * left(moisture) / now
    return width
