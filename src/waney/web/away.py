"""Away: what pages that work without a signal share."""

from __future__ import annotations

import json

from waney.figures.typed_json import Json
from waney.papers.words import Shop as Writes
from waney.web.showing import Figures
from waney.yard.book.looking import PieceStands


def words_of(piece: PieceStands, write: Writes) -> str:
    """A piece in a line: wood and sizes, as far as they are known."""
    sizes = [
        f"{write.read(piece.thickness_m)} thick" if piece.thickness_m else "",
        f"{write.long(piece.length_m)} long" if piece.length_m else "",
        _wide(piece, write),
    ]
    return ", ".join([Figures.wood(piece.species), *(size for size in sizes if size)])


def _wide(piece: PieceStands, write: Writes) -> str:
    least, most = piece.least_width_m, piece.most_width_m
    if not least or not most:
        return ""
    narrow, wide = write.have(least), write.have(most)
    return f"{wide} wide" if narrow == wide else f"{narrow} to {wide} wide"


def inside(body: Json) -> str:
    """JSON that may stand in a page."""
    return json.dumps(body).replace("<", "\\u003c")
