"""Tares: what sling, stickers and blocks weighed when somebody told it last, at each spot."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from sqlalchemy import func, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.streams import stream

OF_PIECE = stream("piece", "")
LOOKED_AT = 200
"""the newest weights of pieces that are looked through"""


@dataclass(frozen=True)
class Tares:
    """at: by the id of the spot, of pieces that stand there now; last: anywhere [kg]; None: nobody told one."""

    at: Mapping[str, float] = field(default_factory=dict)
    last: float | None = None

    def of(self, spot: str) -> float | None:
        """What to offer at a spot: what was told there last, else what was told last."""
        return self.at.get(spot, self.last)


def tares_told(book: Book) -> Tares:
    """What was told with the newest weights of pieces; a weight that was taken back told nothing."""
    weight, piece, event = models.weight, models.piece, truth.event
    of = func.substr(weight.c.about, len(OF_PIECE) + 1)
    asked = select(event.c.body, piece.c.spot).join(weight, weight.c.seq == event.c.seq).join(piece, piece.c.id == of)
    asked = asked.where(weight.c.about.startswith(OF_PIECE), weight.c.taken_back_seq.is_(None))
    at: dict[str, float] = {}
    last: float | None = None
    with reading(book.engine) as connection:
        for row in connection.execute(asked.order_by(weight.c.seq.desc()).limit(LOOKED_AT)):
            tare = json.loads(row.body).get("tare_kg")
            if tare is not None:
                last = tare if last is None else last
                at.setdefault(row.spot or "", tare)
    return Tares(at, last)
