"""Weight of a piece, green and at the moisture it will be used at. The high end of a range is the one to lift by."""

from __future__ import annotations

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.pieces.piece import Piece
from waney.pieces.volume import volume_m3
from waney.wood.species import Species
from waney.wood.weight import green_log_mass, piece_mass


def green_weight(piece: Piece, wood: Species, scenarios: Scenarios) -> Estimate:
    """As it comes off the saw, without bark [kg]; the range is that of density and green moisture. Raises NoFigure."""
    return green_log_mass(wood, volume_m3(piece), scenarios, bark=False)


def weight_at(piece: Piece, wood: Species, mc: float) -> Estimate:
    """At moisture `mc` [share of oven-dry mass], all of the piece still there [kg]. Raises NoFigure."""
    return piece_mass(wood, volume_m3(piece), mc)
