"""Weight of a piece as it stands there: as it was weighed, else by its sizes, its wood and what was read of its moisture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.drying.dry_weight import dry_by_sizes
from waney.figures.estimate import Estimate
from waney.wood.species import NoFigure, SeveralSpecies, UnknownSpecies, species
from waney.wood.weight import green_moisture
from waney.yard.book.drying_seen import Reading, last_moistures
from waney.yard.book.looking import PieceStands

DRIEST = 0.06
"""No wood in a heated room is much drier [-]; ours, a choice: the low end where nobody read the moisture."""


@dataclass(frozen=True)
class Weight:
    """From low to high [kg], with what it stands on. weighed_on: the day of the scales; mc: the moisture counted with [-]."""

    low_kg: float
    high_kg: float
    weighed_on: str = ""
    mc: float | None = None


def weight_of(piece: PieceStands, told: Sequence[Reading]) -> Weight | None:
    """What a piece weighs; None where neither scales nor its sizes and wood say it. By its sizes: all along half way between its
    narrowest and its widest."""
    weighed = [one for one in told if one.mass_kg is not None]
    if weighed:
        kg = weighed[-1].mass_kg or 0.0
        return Weight(kg, kg, weighed[-1].happened_at[:10])
    try:
        return _by_sizes(piece, max((one.mc or 0.0 for one in last_moistures(told)), default=None))
    except (NoFigure, UnknownSpecies, SeveralSpecies):
        return None


def _by_sizes(piece: PieceStands, mc: float | None) -> Weight | None:
    """Where nobody read the moisture, from as dry as a heated room makes it to green. Raises NoFigure and those of `species`."""
    if None in (piece.thickness_m, piece.length_m, piece.least_width_m, piece.most_width_m) or not piece.species:
        return None
    wood = species(piece.species)
    width = ((piece.least_width_m or 0.0) + (piece.most_width_m or 0.0)) / 2.0
    dry: Estimate = dry_by_sizes(wood, (piece.thickness_m or 0.0) * (piece.length_m or 0.0) * width).estimate
    low, high = (DRIEST, green_moisture(wood).high) if mc is None else (mc, mc)
    return Weight(dry.low * (1.0 + low), dry.high * (1.0 + high), "", mc)
