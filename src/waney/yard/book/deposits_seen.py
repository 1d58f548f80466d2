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


def gone_of(at: Connection) -> dict[str, int]:
    """What of the deposits of holds went into sales that said how much, or was said to be kept [cents]."""
    s, k = selling_models.sale, selling_models.deposit_kept
    into = select(s.c.hold, func.sum(s.c.deposit_cents)).where(s.c.deposit_cents.is_not(None)).group_by(s.c.hold)
    kept = select(k.c.hold, func.sum(k.c.cents)).group_by(k.c.hold)
    gone: dict[str, int] = {}
    for hold, cents in (*at.execute(into), *at.execute(kept)):
        gone[hold] = gone.get(hold, 0) + int(cents)
    return gone


def deposits_here(book: Book) -> Mapping[str, int]:
    """What was paid to keep pieces and neither given back, nor gone into a sale, nor said to be kept, by hold [cents]."""
    h, m, s = selling_models.hold, selling_models.money, selling_models.sale
    paid = select(h.c.id, func.sum(m.c.cents)).join(m, m.c.about == "hold:" + h.c.id).group_by(h.c.id)
    with reading(book.engine) as at:
        here = {row[0]: int(row[1]) for row in at.execute(paid)}
        whole = set(at.execute(select(s.c.hold).where(s.c.hold.is_not(None), s.c.deposit_cents.is_(None))).scalars())
        gone = gone_of(at)
    left = {hold: cents - gone.get(hold, 0) for hold, cents in here.items() if hold not in whole}
    return {hold: cents for hold, cents in left.items() if cents}


def deposits_kept(book: Book) -> tuple[Kept, ...]:
    """What was said to be kept, in the order of the book."""
    k, e = selling_models.deposit_kept, truth.event
    with reading(book.engine) as at:
        asked = select(k.c.hold, k.c.cents, e.c.happened_at).join(e, e.c.seq == k.c.seq).order_by(k.c.seq)
        return tuple(Kept(*row) for row in at.execute(asked))
