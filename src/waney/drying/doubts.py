"""Doubts: what nobody knows of a piece that dries, by name, and the piece that one draw of them makes."""

from __future__ import annotations

from collections.abc import Mapping

from waney.drying.board import Drying, evenly
from waney.drying.grid import grid
from waney.drying.law import law_of
from waney.drying.pace import Pace, shared, species_factor
from waney.figures.estimate import Estimate
from waney.wood.species import Species
from waney.wood.traits import Trait
from waney.wood.weight import MOISTURE, SG, green_moisture

FACTOR, FILM, LEVEL = "drying.factor", "drying.film", "drying.level"
"""Names of the doubts of the model, for `figures.scenarios`."""
LOOSE = 2e-4
"""Tolerance of the scenarios' steps in time: far below what they differ by [-]."""


def doubts(wood: Species, start: Estimate | None = None) -> Mapping[str, Estimate]:
    """What makes the days uncertain: gravity, moisture at the start (green when None), the wood's factor, level and film."""
    found = shared()
    return {
        SG: wood.needed(Trait.SG_GREEN),
        MOISTURE: start or green_moisture(wood),
        FACTOR: species_factor(wood),
        LEVEL: found["level"],
        FILM: found["film"],
    }


def drawn(values: Mapping[str, float], thickness_m: float, temperature_c: float) -> Drying:
    """The piece of one scenario."""
    numbers = {name: estimate.likely for name, estimate in shared().items()}
    pace = Pace(values[LEVEL], numbers["density_slope"], numbers["free"], values[FILM])
    # a law for every gravity would cost more than the piece: to the nearest hundredth it makes no difference that could be seen
    gravity, nodes = round(values[SG], 2), grid()
    law = law_of(gravity, Pace(free=pace.free))
    return Drying(
        thickness_m,
        gravity,
        law,
        evenly(values[MOISTURE], nodes),
        temperature_c,
        values[FACTOR] * pace.factor(gravity),
        0.0,
        nodes,
    )
