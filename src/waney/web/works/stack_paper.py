"""Stack paper: the work that lays a stack as it was told, weighs it, and sets its sheet."""

from __future__ import annotations

from datetime import date

from waney.drying.air import STICKER_M
from waney.drying.bearing import Bears, pile_weight
from waney.drying.pile_parts import NoPile, PilePiece
from waney.drying.pull_out import places_of, pull_outs
from waney.drying.told_pile import base_under, told_pile
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.papers.paper import paper_pdf
from waney.papers.stack_sheet import StackOnPaper, stack_sheet
from waney.papers.words import INCHES, METRIC
from waney.web.asked.packing import read_back
from waney.web.asked.paper import PieceOnPaper, StackPaperAsked
from waney.wood.species import species
from waney.wood.weight import green_moisture, piece_mass
from waney.work.apart import Progress

WEIGHED = Basis(Ground.READING, "weighing scale", "its last weight")
ANY_KG_M3 = Estimate(900.0, 550.0, 1250.0, Basis(Ground.DEFAULT, "", "green wood of any kind"))
"""For a wood that no table knows: from poplar to live oak, green. Common practice, no source."""
NOT_MEASURED = "its thickness, width or length is not known"
PULLED = 3
"""pieces that are proposed to be weighed"""


def print_stack(given: bytes, _progress: Progress) -> bytes:
    """The stack sheet as PDF. Raises NoPile, NotAsked."""
    asked = read_back(given, StackPaperAsked)
    drawn = {one.name: piece for one in asked.pieces if (piece := laid_piece(one)) is not None}
    layers, rest = _layers(asked, drawn)
    base = base_under(layers, rest, asked.sticker_m or STICKER_M, asked.apart_m)
    pile = told_pile(layers, rest, base)
    bears = Bears(asked.bearer_kg, asked.ground_kg_m2) if asked.bearer_kg and asked.ground_kg_m2 else None
    chosen = tuple(one.name for one in asked.pieces if one.weighed)
    drawn_out = places_of(pile, chosen)
    hidden = tuple(name for name in chosen if name in drawn and name not in {one.name for one in drawn_out})
    left = [(one.name, NOT_MEASURED) for one in asked.pieces if one.name not in drawn]
    told = StackOnPaper(
        asked.name, asked.below, asked.facts, pile, not any(layers),
        drawn_out or pull_outs(pile, PULLED), bool(drawn_out), hidden,
        {one.name: one.wood for one in asked.pieces}, pile_weight(pile, asked.top_kg_m2, bears), asked.top_kg_m2, bears,
        (*left, *((piece.name, why) for piece, why in pile.left)),
    )  # fmt: skip
    printed = date.fromisoformat(asked.printed)
    return paper_pdf(stack_sheet(told, METRIC if asked.metric else INCHES, printed), printed)


def _layers(asked: StackPaperAsked, drawn: dict[str, PilePiece]) -> tuple[list[list[PilePiece]], list[PilePiece]]:
    """By their layers from the bottom, and those of no told layer."""
    highest = max((one.layer or 0 for one in asked.pieces), default=0)
    told = [one for one in asked.pieces if one.name in drawn]
    layers = [[drawn[one.name] for one in told if one.layer == number] for number in range(1, highest + 1)]
    rest = [drawn[one.name] for one in told if one.layer is None]
    if not drawn:
        raise NoPile("Of none of its pieces thickness, width and length are known: measure them, then it can be drawn.")
    return [layer for layer in layers if layer], rest


def laid_piece(one: PieceOnPaper) -> PilePiece | None:
    """A piece as it is laid; None where a size is missing."""
    if not (one.thickness_m and one.length_m and one.width_m):
        return None
    return PilePiece(
        one.name, one.length_m, one.width_m, one.thickness_m, _mass(one, one.thickness_m * one.length_m * one.width_m)
    )


def _mass(one: PieceOnPaper, green_m3: float) -> Estimate:
    """Its last weight; else that of green wood of its kind, with its range."""
    if one.kg:
        return Estimate.known(one.kg, WEIGHED)
    try:
        wood = species(one.wood)
        wet = green_moisture(wood)
        ends = [piece_mass(wood, green_m3, mc) for mc in (wet.low, wet.likely, wet.high)]
    except Problem:
        likely, low, high = (green_m3 * kg for kg in (ANY_KG_M3.likely, ANY_KG_M3.low, ANY_KG_M3.high))
        return Estimate(likely, low, high, ANY_KG_M3.basis, 0.0)
    return Estimate(ends[1].likely, ends[0].low, ends[2].high, ends[1].basis, 0.0)
