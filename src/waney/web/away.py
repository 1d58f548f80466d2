"""Away: what pages that work without a signal share."""

from __future__ import annotations

import json

from waney.figures.typed_json import Json
from waney.papers.words import Shop as Writes
from waney.papers.words import plain, sized
from waney.web.showing import Figures
from waney.yard.book.looking import PieceStands


def words_of(piece: PieceStands, write: Writes) -> str:
    """A piece in a line: wood and sizes, as far as they are known."""
    sizes = sized(write, piece.thickness_m, piece.least_width_m, piece.most_width_m, piece.length_m)
    return ", ".join(filter(None, (Figures.wood(piece.species), plain(sizes))))


def inside(body: Json) -> str:
    """JSON that may stand in a page."""
    return json.dumps(body).replace("<", "\\u003c")
