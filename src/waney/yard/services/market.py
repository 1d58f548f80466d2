"""A market day: what a device takes along to sell out of reach of the book, and what the day came to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.yard.acts.sales import Sold, SoldAway
from waney.yard.book.applying.promises import called, in_the_way
from waney.yard.book.book import Answer, Book
from waney.yard.book.engine import reading
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import PieceStands, names_of, pieces_by_id
from waney.yard.book.selling_seen import (
    HoldStands,
    LeaseStands,
    SaleStands,
    asked_from,
    asked_in_vain,
    leases,
    money_by_way,
    promises,
    sales,
)
from waney.yard.book.shelf import Database
from waney.yard.problems import NotInBook
from waney.yard.services.hand import Hand
from waney.yard.services.selling import add_buyer, buyer_called, why_lost


def open_lease(book: Book, device: str) -> LeaseStands | None:
    """What a device has taken along now; the last, where it took along twice."""
    return next((lease for lease in leases(book) if lease.device == device and not lease.closed), None)


def lease_called(book: Book, ident: str) -> LeaseStands:
    """A lease by its id. Raises NotInBook."""
    found = next((lease for lease in leases(book) if lease.id == ident), None)
    if found is None:
        raise NotInBook("This selling day is not in the book; its address may have been cut off.")
    return found


def stays_here(book: Book, some: Sequence[str], today: str) -> dict[str, str]:
    """Why each piece that cannot be taken along cannot: one sentence each, by piece."""
    away, found = at_kilns(book), {}
    with reading(book.engine) as at:
        shelf = Database(at)
        for piece in some:
            other = in_the_way(shelf, (piece,), today)
            if other is not None:
                found[piece] = f"{called(shelf, piece)} {other.words}."
            elif piece in away:
                found[piece] = f"{called(shelf, piece)}: {away[piece].sentence}"
    return found


def sell_away(hand: Hand, sale: Sold, who: str, lease: str) -> Answer:
    """Sold on a lease; who: the buyer's name, empty for nobody named. Raises NotPossible for a name that several bear."""
    person = (buyer_called(hand.book, who) or add_buyer(hand, who).id) if who else ""
    return hand.write(SoldAway(sale.sale, sale.pieces, sale.on, person, sale.paid_cents, sale.paid_by, sale.taxes, lease=lease))


@dataclass(frozen=True)
class Asked:
    """A hold that was asked for on the way: what became of it."""

    hold: HoldStands
    names: tuple[str, ...]
    refused: str
    """a sentence; empty where it was granted"""


@dataclass(frozen=True)
class MarketDay:
    """What a selling day came to. sold: its sales in order, each with its pieces; left: still away; money by the way it was paid
    (the empty way: given back) [cents]."""

    lease: LeaseStands
    pieces: dict[str, PieceStands]
    sold: tuple[SaleStands, ...]
    home: tuple[PieceStands, ...]
    missing: tuple[PieceStands, ...]
    left: tuple[PieceStands, ...]
    asked: tuple[Asked, ...]
    money: dict[str, int]

    @property
    def gone(self) -> tuple[tuple[SaleStands, PieceStands], ...]:
        """Sold, but somebody else's or no more by then, and not given back."""
        parts = [(sale, part) for sale in self.sold for part in sale.pieces]
        return tuple((sale, self.pieces[part.piece]) for sale, part in parts if part.gone and not part.returned)

    @property
    def owed_cents(self) -> int:
        """What buyers of the day have not paid yet."""
        return sum(max(sale.owed_cents, 0) for sale in self.sold)


def market_day(book: Book, lease: LeaseStands) -> MarketDay:
    """What it came to, as far as the book has heard."""
    sold = sales(book, lease=lease.id)
    known = {each.id: each for each in pieces_by_id(book, [*lease.pieces(), *(p.piece for sale in sold for p in sale.pieces)])}
    away = dict(lease.home)
    taken = promises(book, lease.until)
    left = {piece for piece in away if piece in taken and taken[piece].ident == lease.id}
    some = [known[piece] for piece in away if piece in known]
    return MarketDay(
        lease,
        known,
        sold,
        tuple(piece for piece in some if away[piece.id] is True),
        tuple(piece for piece in some if away[piece.id] is False),
        tuple(piece for piece in some if piece.id in left),
        _asked(book, lease),
        money_by_way(book, [sale.id for sale in sold]),
    )


def _asked(book: Book, lease: LeaseStands) -> tuple[Asked, ...]:
    asked = asked_from(book, lease.device, lease.seq)
    lost = {each.hold: each for each in asked_in_vain(book)}
    names = names_of(book, [f"piece:{piece}" for hold in asked for piece in hold.pieces])
    return tuple(
        Asked(
            hold,
            tuple(names.get(f"piece:{piece}", "a piece") for piece in hold.pieces),
            why_lost(lost[hold.id]) if hold.id in lost else "It was not granted." if hold.lost_to else "",
        )
        for hold in asked
    )
