"""A wood at one moisture: how heavy it is, and how much of its green size is gone; what no table supports is None."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios, likely, summed_up
from waney.wood.density import density_at
from waney.wood.shrinkage import shrunk_share
from waney.wood.species import NoFigure, Species
from waney.wood.traits import Trait
from waney.wood.weight import SG, green_log_mass, piece_mass

VOLUMETRIC = "wood.shrink_volumetric"
"""Name of the doubt in a wood's volumetric shrinkage, for `figures.scenarios`."""


@dataclass(frozen=True)
class AtMoisture:
    """Density with its water [kg/m3]; mass of what was a cubic metre when sawn green [kg]; shares of the green size that are
    gone across a quartersawn (radial) and a flatsawn (tangential) width [-]."""

    mc: float
    density_kg_m3: Estimate | None
    sawn_m3_kg: Estimate | None
    shrunk_radial: Estimate | None
    shrunk_tangential: Estimate | None


def at_moisture(wood: Species, mc: float, scenarios: Scenarios) -> AtMoisture:
    """What is known of a wood at moisture `mc` [-]. Raises OutOfRange below zero."""
    return AtMoisture(
        mc,
        _or_none(lambda: density(wood, mc, scenarios)),
        _or_none(lambda: piece_mass(wood, 1.0, mc)),
        _gone(wood.shrink_radial, mc),
        _gone(wood.shrink_tangential, mc),
    )


def density(wood: Species, mc: float, scenarios: Scenarios) -> Estimate:
    """Density with its water at moisture `mc` [kg/m3]. Raises NoFigure."""
    doubts = {SG: wood.needed(Trait.SG_GREEN), VOLUMETRIC: wood.needed(Trait.SHRINK_VOLUMETRIC)}
    found = np.array([_density(values, mc) for values in scenarios.draws(doubts)])
    return summed_up(found, _density(likely(doubts), mc), doubts[SG].basis)


def sawn_green(wood: Species, scenarios: Scenarios) -> Estimate | None:
    """Mass of a cubic metre of wood as it comes off the saw, green [kg]; None when no table gives what it needs."""
    return _or_none(lambda: green_log_mass(wood, 1.0, scenarios, bark=False))


def _density(values: Mapping[str, float], mc: float) -> float:
    return density_at(values[SG], values[VOLUMETRIC], mc)


def _gone(shrinkage: Estimate | None, mc: float) -> Estimate | None:
    if shrinkage is None:
        return None
    low, middle, high = (shrunk_share(value, mc) for value in (shrinkage.low, shrinkage.likely, shrinkage.high))
    return Estimate(middle, low, high, shrinkage.basis, hard_min=0.0)


def _or_none(figure: Callable[[], Estimate]) -> Estimate | None:
    try:
        return figure()
    except NoFigure:
        return None
