"""Money that stayed with the shop though nothing was sold for it: at returns, and of deposits; by the piece it came for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from waney.prices.measure import whole_cents
from waney.trade.shares import shares
from waney.yard.book.book import Book
from waney.yard.book.deposits_seen import deposits_kept
from waney.yard.book.selling_seen import SaleStands, holds
from waney.yard.here import day_here


@dataclass(frozen=True)
class KeptFor:
    """What stayed for one piece [cents]; on: the day of the sale that came back, or on which a deposit was said to be kept."""

    piece: str
    cents: int
    on: date


def kept_at_returns(sales: Iterable[SaleStands]) -> Iterator[KeptFor]:
    """What was paid for pieces that came back and not given back for them, without their taxes' part, parted by their prices."""
    for sale in sales:
        back = {part.piece: float(part.cents) for part in sale.pieces if part.returned}
        left = min(max(-sale.owed_cents, 0), sale.back_cents)
        price = sum(back.values())
        if left and price > 0:
            net = whole_cents(left * price / sale.back_cents)
            yield from (KeptFor(piece, cents, date.fromisoformat(sale.on)) for piece, cents in shares(net, back).items())


def kept_of_deposits(book: Book, sales: Iterable[SaleStands]) -> Iterator[KeptFor]:
    """What was said to be kept of deposits, parted alike among what the hold kept and was not sold by it."""
    kept = deposits_kept(book)
    pieces = {each.id: each.pieces for each in holds(book)} if kept else {}
    sold = {(sale.hold, part.piece) for sale in sales for part in sale.pieces if sale.hold}
    for one in kept:
        some = [piece for piece in pieces[one.hold] if (one.hold, piece) not in sold] or pieces[one.hold]
        parts = shares(one.cents, dict.fromkeys(some, 1.0))
        yield from (KeptFor(piece, cents, day_here(one.happened_at)) for piece, cents in parts.items())
