"""A piece of a named wood, ready for the solvers: its gravity, its law, its factor, its moisture."""

from __future__ import annotations

from waney.drying.board import Drying, evenly
from waney.drying.grid import grid
from waney.drying.kernel.records import Array
from waney.drying.law import law_of
from waney.drying.pace import Pace, likely_pace, species_factor
from waney.wood.species import Species
from waney.wood.traits import Trait
from waney.wood.vapour import STANDARD_PRESSURE
from waney.wood.weight import green_moisture


def piece_of(
    wood: Species, thickness_m: float, mc: float | None = None, *, factor: float | None = None, temperature_c: float = 15.0,
    pace: Pace | None = None, pressure_pa: float = STANDARD_PRESSURE, moistures: Array | None = None,
) -> Drying:  # fmt: skip
    """A piece of a wood at its likely figures. thickness_m: green [m]; mc: even moisture [-], green when None; moistures: a
    profile in its place, at the nodes of the usual grid.

    Raises NoFigure where no table gives the wood's gravity, or its green moisture when that is asked for.
    """
    used = pace or likely_pace()
    gravity = wood.needed(Trait.SG_GREEN).likely
    law = law_of(gravity, Pace(free=used.free), pressure_pa)
    own = species_factor(wood).likely if factor is None else factor
    nodes = grid()
    start = evenly(green_moisture(wood).likely if mc is None else mc, nodes) if moistures is None else moistures
    return Drying(thickness_m, gravity, law, start, temperature_c, own * used.factor(gravity), 0.0, nodes)
