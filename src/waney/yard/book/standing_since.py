"""Since when wood stands in the yard, and under how much it lies: what shed room turns on."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlalchemy import func, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


def came_on(book: Book, some: Iterable[str] | None = None) -> dict[str, date]:
    """The day that each piece (some: of these) came into the book, by the book's clock; one query."""
    p, e = models.piece, truth.event
    asked = select(p.c.id, e.c.recorded_at).join(e, e.c.seq == p.c.seq).where(p.c.taken_back_seq.is_(None))
    asked = asked if some is None else asked.where(p.c.id.in_(list(some)))
    with reading(book.engine) as at:
        return {ident: date.fromisoformat(recorded_at[:10]) for ident, recorded_at in at.execute(asked)}


def layers_of(book: Book) -> dict[str, int]:
    """How many layers the stack of a piece has, for pieces that lie on one; one query."""
    on = models.stack_piece
    high = select(on.c.stack, func.max(func.coalesce(on.c.layer, 1)).label("layers")).group_by(on.c.stack).subquery()
    with reading(book.engine) as at:
        return {
            row.piece: row.layers for row in at.execute(select(on.c.piece, high.c.layers).join(high, high.c.stack == on.c.stack))
        }
