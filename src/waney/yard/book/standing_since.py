"""Since when wood stands in the yard, and under how much it lies: what shed room turns on."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from sqlalchemy import func, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.here import day_here


def came_on(book: Book, pieces: Iterable[str] | None = None) -> dict[str, date]:
    """The day here that each piece, or each of some, came into the book, by the book's clock; one query."""
    p, e = models.piece, truth.event
    asked = select(p.c.id, e.c.recorded_at).join(e, e.c.seq == p.c.seq).where(p.c.taken_back_seq.is_(None))
    asked = asked if pieces is None else asked.where(p.c.id.in_(list(pieces)))
    with reading(book.engine) as at:
        return {ident: day_here(recorded_at) for ident, recorded_at in at.execute(asked)}


def layers_of(book: Book, pieces: Iterable[str] | None = None) -> dict[str, int]:
    """How many layers the stack of a piece has, for pieces (all, or some) that lie on one; one query."""
    on, some = models.stack_piece, None if pieces is None else models.stack_piece.c.piece.in_(list(pieces))
    high = select(on.c.stack, func.max(func.coalesce(on.c.layer, 1)).label("layers")).group_by(on.c.stack)
    high = high if some is None else high.where(on.c.stack.in_(select(on.c.stack).where(some)))
    each = high.subquery()
    asked = select(on.c.piece, each.c.layers).join(each, each.c.stack == on.c.stack)
    with reading(book.engine) as at:
        return {row.piece: row.layers for row in at.execute(asked if some is None else asked.where(some))}
