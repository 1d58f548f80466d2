"""Sizes due: what was measured of pieces and is not yet what they are counted by."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from sqlalchemy import select

from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.truth import event_of


@dataclass(frozen=True)
class SizeDue:
    """A sheet that says a shape and by which its piece is not counted yet: its event, who wrote it (empty: nobody said)."""

    piece: str
    seq: int
    sheet: str
    photo: str
    person: str


def sizes_due(book: Book, but: Collection[int] = ()) -> tuple[SizeDue, ...]:
    """Pieces that were measured and are counted as they were before, in the order they were measured; but: sheets that are left
    out, by their events."""
    p, e = models.piece, truth.event
    due = (p.c.to_size_seq.is_not(None), p.c.to_size_seq.not_in(list(but)), p.c.taken_back_seq.is_(None))
    asked = select(e).join(p, e.c.seq == p.c.to_size_seq).where(*due).order_by(p.c.to_size_seq)
    with reading(book.engine) as at:
        told = [event_of(row) for row in at.execute(asked).mappings()]
    acts = ((event, event.act) for event in told)
    return tuple(
        SizeDue(act.piece, event.seq, act.sheet, act.photo, event.person) for event, act in acts if isinstance(act, PieceMeasured)
    )
