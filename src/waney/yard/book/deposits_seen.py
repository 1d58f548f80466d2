"""Deposits as they stand: what lies here of each hold, and what the shop was said to keep."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from waney.yard.book import selling_models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading


@dataclass(frozen=True)
class Kept:
    """Of the deposit of a hold, what was said to stay with the shop: when, in cents."""

    hold: str
    cents: int
    happened_at: str


def into_sales(at: Connection) -> dict[str, int]:
    """What went of the deposits of holds into sales that said how much [cents]."""
    s = selling_models.sale
    asked = select(s.c.hold, func.sum(s.c.deposit_cents)).where(s.c.deposit_cents.is_not(None)).group_by(s.c.hold)
    return {row[0]: int(row[1]) for row in at.execute(asked)}


def deposits_here(book: Book) -> Mapping[str, int]:
    """What was paid to keep pieces and neither given back, nor gone into a sale, nor said to be kept, by hold [cents]."""
    h, m, s, k = selling_models.hold, selling_models.money, selling_models.sale, selling_models.deposit_kept
    paid = select(h.c.id, func.sum(m.c.cents)).join(m, m.c.about == "hold:" + h.c.id).group_by(h.c.id)
    kept = select(k.c.hold, func.sum(k.c.cents)).group_by(k.c.hold)
    with reading(book.engine) as at:
        here = {row[0]: int(row[1]) for row in at.execute(paid)}
        gone = set(at.execute(select(s.c.hold).where(s.c.hold.is_not(None), s.c.deposit_cents.is_(None))).scalars())
        less = [*into_sales(at).items(), *((row[0], int(row[1])) for row in at.execute(kept))]
    for hold, cents in less:
        here[hold] = here.get(hold, 0) - cents
    return {hold: cents for hold, cents in here.items() if cents and hold not in gone}


def deposits_kept(book: Book) -> tuple[Kept, ...]:
    """What was said to be kept, in the order of the book."""
    k, e = selling_models.deposit_kept, truth.event
    with reading(book.engine) as at:
        asked = select(k.c.hold, k.c.cents, e.c.happened_at).join(e, e.c.seq == k.c.seq).order_by(k.c.seq)
        return tuple(Kept(*row) for row in at.execute(asked))
