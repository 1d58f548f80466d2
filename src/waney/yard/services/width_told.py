"""Width told: how wide a piece is as the book has it, and how moist it was then; what a room does to it is counted from there."""

from __future__ import annotations

from dataclasses import dataclass

from waney.drying.moisture_told import OfDay
from waney.wood.limits import SHRINKAGE_START
from waney.yard.book.book import Book
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands
from waney.yard.book.stack_seen import ReadOf
from waney.yard.services.moisture_told import last_held, meter_of


@dataclass(frozen=True)
class WidthTold:
    """width_m: at its widest; mc: moisture then [-]; None: not known. how: in words."""

    width_m: float | None
    mc: float | None
    how: str


def moisture_now(book: Book, piece: PieceStands) -> OfDay | None:
    """What the piece held when it was read last, since a kiln if it was in one; None where that is not known."""
    return last_held(read_since_kiln(book, [piece.id]).get(piece.id, ReadOf()), piece.species, meter_of(book))


def width_told(piece: PieceStands, held: OfDay | None) -> WidthTold:
    """A piece that came off the saw was green when it was taped (SHRINKAGE_START stands for it: above it nothing shrinks); one
    that was measured as it lies, counted, or cut out of another, was as it was read last.
    """
    if piece.measured is None and not piece.parent and (piece.log or piece.day):
        return WidthTold(piece.most_width_m, SHRINKAGE_START, "as it came off the saw, green")
    return WidthTold(
        piece.most_width_m, None if held is None else held.mc.likely, "as the book has it, at the moisture read last"
    )
