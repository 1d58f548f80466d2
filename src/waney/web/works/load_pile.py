"""Load pile: the work that lays a load's pieces in their kiln and draws the pile."""

from __future__ import annotations

from waney.drying.kilns_sheet import kiln_named, read_kilns
from waney.drying.load_plan import packed
from waney.figures.problem import Problem
from waney.papers.load_words import counted
from waney.papers.stack_drawing import Drawn, front, plans
from waney.papers.words import INCHES, METRIC
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.pile import PileAsked, PileDrawn
from waney.web.works.stack_paper import NOT_MEASURED, laid_piece
from waney.work.apart import Progress


def draw_pile(given: bytes, _progress: Progress) -> bytes:
    """The job. What cannot be drawn is answered with its sentence."""
    asked = read_back(given, PileAsked)
    write = METRIC if asked.metric else INCHES
    pieces = [(one, laid_piece(one)) for one in asked.pieces]
    try:
        kiln = kiln_named(read_kilns(asked.kilns), asked.kiln)
        pile = packed(kiln, [piece for _, piece in pieces if piece is not None])
    except Problem as why:
        return as_bytes(PileDrawn(sentence=str(why)))
    left = [(one.name, NOT_MEASURED) for one, piece in pieces if piece is None]
    left += [(piece.name, why) for piece, why in pile.left]
    if not pile.layers:
        return as_bytes(PileDrawn(left=tuple(left), sentence=f"None of its pieces lies in {kiln.name} as it is typed in."))
    drawn = Drawn(kiln.name, pile, {}, write)
    names = ", ".join(one.piece.name for layer in pile.layers for one in layer.laid)
    layers = counted(len(pile.layers), "layer")
    first = (front(drawn), f"The load from the front, {layers}: {names}")
    kg = sum(piece.mass_kg.high for piece in pile.pieces)
    says = f"{layers}, {write.need(pile.height_m)} high, up to {write.heavy(kg)}."
    return as_bytes(PileDrawn((first, *plans(drawn)), says, tuple(left)))
