"""Quotes of pieces as they stand. Names of people are looked up at every look."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select

from waney.yard.book import selling_models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.selling_seen import called_here


@dataclass(frozen=True)
class QuoteStands:
    """A quote: what was asked of somebody for which pieces [cents], until when; ended: empty while it is open; hold: empty for
    one that keeps nothing back; on: a moment by the book's clock; goes_to: the state or country, empty: not told."""

    id: str
    person: str
    called: str
    pieces: tuple[tuple[str, int], ...]
    until: str
    words: str
    hold: str
    ended: str
    on: str
    goes_to: str

    @property
    def cents(self) -> int:
        """What all of it comes to, before tax."""
        return sum(cents for _, cents in self.pieces)


def quotes(book: Book, quote: str = "", person: str = "", open_on: str = "") -> tuple[QuoteStands, ...]:
    """Every quote, one, those of a buyer, or those that are open on a day; the newest first; three queries."""
    q, p, e = selling_models.quote, selling_models.quote_piece, truth.event
    asked = select(q, e.c.recorded_at).join(e, e.c.seq == q.c.seq).order_by(q.c.seq.desc())
    where = [column == value for column, value in ((q.c.id, quote), (q.c.person, person)) if value]
    where += [q.c.ended == "", q.c.until >= open_on] if open_on else []
    with reading(book.engine) as at:
        rows = at.execute(asked.where(*where)).all()
        called, parts_of = called_here(at), dict[str, list[tuple[str, int]]]()
        for row in at.execute(select(p).where(p.c.quote.in_([row.id for row in rows])).order_by(p.c.piece)):
            parts_of.setdefault(row.quote, []).append((row.piece, row.cents))
    return tuple(
        QuoteStands(
            r.id, r.person, called.get(r.person, ""), tuple(parts_of.get(r.id, ())), r.until, r.words, r.hold or "", r.ended,
            r.recorded_at, r.goes_to,
        )
        for r in rows
    )  # fmt: skip
