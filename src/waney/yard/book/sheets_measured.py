"""Sheets measured: the sheets that were written of several pieces, all of them in one query."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from sqlalchemy import select

from waney.yard.acts.pieces import PieceMeasured
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.truth import event_of


def sheets_measured(book: Book, pieces: Collection[str]) -> Iterator[PieceMeasured]:
    """Every sheet of these pieces, the newest first."""
    e, t = truth.event, models.touched
    of_these = e.c.seq.in_(select(t.c.seq).where(t.c.stream.in_([f"piece:{piece}" for piece in pieces])))
    asked = select(e).where(e.c.kind == "piece-measured", of_these).order_by(e.c.seq.desc())
    with reading(book.engine) as at:
        told = [event_of(row).act for row in at.execute(asked).mappings()]
    return (act for act in told if isinstance(act, PieceMeasured))
