"""Weight of a piece as it stands there: as it was weighed, else by its sizes, its wood and what was read of its moisture."""

from __future__ import annotations

from dataclasses import dataclass

from waney.drying.dry_weight import dry_by_sizes
from waney.drying.meter_sheet import MeterSheet
from waney.figures.estimate import Estimate
from waney.wood.species import NoFigure
from waney.wood.weight import green_moisture
from waney.yard.book.looking import PieceStands
from waney.yard.book.stack_seen import ReadOf
from waney.yard.here import day_here
from waney.yard.services.moisture_told import last_held
from waney.yard.services.woods import wood_of

DRIEST = 0.06
"""No wood in a heated room is much drier [-]; ours, a choice: the low end where nobody read the moisture."""


@dataclass(frozen=True)
class Weight:
    """From low to high [kg], with what it stands on. weighed_on: the day of the scales; mc: the moisture counted with [-]."""

    low_kg: float
    high_kg: float
    weighed_on: str = ""
    mc: float | None = None


def weight_of(piece: PieceStands, read: ReadOf, meter: MeterSheet) -> Weight | None:
    """What a piece weighs; None where neither scales nor its sizes and wood say it. By its sizes: all along half way between its
    narrowest and its widest."""
    last = read.last_weight
    if last is not None:
        return Weight(last.mass_kg, last.mass_kg, day_here(last.told.happened_at).isoformat())
    try:
        held = last_held(read, piece.species, meter)
        return _by_sizes(piece, None if held is None else held.mc)
    except NoFigure:
        return None


def _by_sizes(piece: PieceStands, mc: Estimate | None) -> Weight | None:
    """Where nobody read the moisture, from as dry as a heated room makes it to green. Raises NoFigure."""
    wood = wood_of(piece.species)
    if wood is None or piece.volume_m3 is None or None in (piece.least_width_m, piece.most_width_m):
        return None
    dry = dry_by_sizes(wood, piece.volume_m3).estimate
    low, high = (DRIEST, green_moisture(wood).high) if mc is None else (mc.low, mc.high)
    return Weight(dry.low * (1.0 + low), dry.high * (1.0 + high), "", None if mc is None else mc.likely)
