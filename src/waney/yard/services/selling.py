"""What a person does to sell wood: price, quote, hold, take along, sell, take back; who buys and what they wish for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from waney.trade.wish import Sized, Wish, fits
from waney.yard.acts.every import Act
from waney.yard.acts.promises import (
    Held,
    HoldEnd,
    HoldEnded,
    LeaseClosed,
    LeaseTaken,
    Priced,
    PricedPiece,
    Quoted,
)
from waney.yard.acts.sales import BuysHere, Paid, PaidBy, Returned, Sold, Spent, TaxTaken
from waney.yard.acts.wishes import WishEnded, WishLeft
from waney.yard.book.around import buyers
from waney.yard.book.book import Answer, Book
from waney.yard.book.deciding import can_be_promised
from waney.yard.book.engine import reading
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import PieceStands, names_of, pieces, version_of
from waney.yard.book.selling_seen import WishStands, asked_in_vain, promises, wishes
from waney.yard.book.shelf import Database
from waney.yard.commands import Read
from waney.yard.here import day_here
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.logs import Made
from waney.yard.services.pieces import add_person
from waney.yard.services.woods import known_wood
from waney.yard.streams import stream


def _seen(hand: Hand, act: Act) -> tuple[Read, ...]:
    """Everything that a decision is made on, as it stands now."""
    return tuple(Read(each, version_of(hand.book, each)) for each in act.streams())


def add_buyer(hand: Hand, called: str) -> Made:
    """Somebody buys here: nothing is kept of them but what to call them."""
    made = add_person(hand, called)
    hand.write(BuysHere(made.id))
    return made


def price_piece(hand: Hand, piece: str, cents: int | None, way: str = "") -> Answer:
    """What is asked for a piece; None: nothing any more. Raises NotInBook."""
    act = Priced(piece, cents, way)
    return hand.write(act, *_seen(hand, act))


def quote_pieces(hand: Hand, person: str, some: Sequence[PricedPiece], until: str, words: str = "") -> Made:
    """Prices that hold until a day. Raises NotPossible for a piece that is sold or no more."""
    act = Quoted(hand.new_id(), person, tuple(some), until, words)
    return Made(act.quote, hand.write(act, *_seen(hand, act)))


def hold_pieces(
    hand: Hand, person: str, some: Sequence[str], until: str, deposit_cents: int = 0, *, breaks_set: bool = False
) -> Made:
    """Keep pieces for somebody. Raises NotPossible for one that is promised already, or that would be parted from its set."""
    act = Held(hand.new_id(), person, tuple(some), until, deposit_cents, breaks_set)
    return Made(act.hold, hand.write(act, *_seen(hand, act)))


def end_hold(hand: Hand, hold: str, how: HoldEnd = HoldEnd.RELEASED, returned_cents: int = 0) -> Answer:
    """A hold is given up or ran out; returned_cents: of its deposit."""
    return hand.write(HoldEnded(hold, how, returned_cents))


def take_along(hand: Hand, some: Sequence[str], until: str, words: str = "", device: str = "") -> Made:
    """A device (this one, or the phone that goes) takes pieces to sell them out of reach. Raises NotPossible."""
    not_at_a_kiln(hand.book, some)
    act = LeaseTaken(hand.new_id(), device or hand.device, tuple(some), until, words)
    return Made(act.lease, hand.write(act, *_seen(hand, act)))


def come_home(hand: Hand, lease: str, home: Sequence[str]) -> Answer:
    """The selling day is over; home: what came home."""
    return hand.write(LeaseClosed(lease, tuple(home)))


def sell_pieces(hand: Hand, sale: Sold) -> Answer:
    """Sell. Raises NotPossible for a piece that is promised to somebody else, that would be parted from its set, or that stands
    at someone else's kiln."""
    not_at_a_kiln(hand.book, sale.piece_ids())
    return hand.write(sale, *_seen(hand, sale))


def free_to_sell(book: Book, sale: Sold | Held, today: str) -> None:
    """Look before a new buyer is written down. Raises NotPossible as selling or holding would; nothing is written."""
    not_at_a_kiln(book, sale.pieces if isinstance(sale, Held) else sale.piece_ids())
    with reading(book.engine) as at:
        can_be_promised(Database(at), sale, today)


def not_at_a_kiln(book: Book, some: Iterable[str]) -> None:
    """What was handed over to a kiln and not taken back is not known to be dry, and is not here. Raises NotPossible."""
    away = at_kilns(book)
    for piece in some:
        if piece in away:
            name = names_of(book, [stream("piece", piece)]).get(stream("piece", piece), "A piece")
            raise NotPossible(f"{name} cannot be sold as dry. {away[piece].sentence} Take it back first.")


def new_sale(
    hand: Hand,
    some: Sequence[PricedPiece],
    on: str,
    person: str = "",
    taxes: Sequence[tuple[str, int]] = (),
    paid_by: PaidBy = PaidBy.CASH,
) -> Sold:
    """A sale that is paid in full, ready to be changed (`dataclasses.replace`) and sold."""
    taken = tuple(TaxTaken(name, cents) for name, cents in taxes)
    total = sum(each.cents for each in some) + sum(tax.cents for tax in taken)
    sale = Sold(hand.new_id(), tuple(some), on, person, 0 if paid_by is PaidBy.OWED else total, paid_by, taken)
    return sale


def buyer_called(book: Book, called: str) -> str:
    """The id of a buyer by name; empty where nobody is called so yet. Raises NotPossible for a name that several bear."""
    same = [each.id for each in buyers(book) if each.called.casefold() == called.strip().casefold()]
    if len(same) > 1:
        raise NotPossible(f"Several buyers are called {called}; add to the name what tells them apart.")
    return same[0] if same else ""


def sell_to(
    hand: Hand,
    some: Sequence[PricedPiece],
    called: str,
    on: str,
    taxes: Sequence[tuple[str, int]] = (),
    paid_by: PaidBy = PaidBy.CASH,
    *,
    breaks_set: bool = False,
) -> str:
    """Sell to somebody by name (empty: nobody named); the hold that they have on a piece is settled. Returns the sale's id.

    A buyer who is new is written down once it is clear that the sale can be. Raises NotPossible, Stale.
    """
    known = buyer_called(hand.book, called) if called.strip() else ""
    mine = promises(hand.book, on)
    holds = [mine[each.piece].ident for each in some if each.piece in mine and known and mine[each.piece].person == known]
    sale = new_sale(hand, some, on, known, taxes, paid_by)
    sale = replace(sale, hold=holds[0] if holds else "", breaks_set=breaks_set)
    free_to_sell(hand.book, sale, on)
    if called.strip() and not known:
        sale = replace(sale, person=add_buyer(hand, called.strip()).id)
    sell_pieces(hand, sale)
    return sale.sale


def hold_for(hand: Hand, some: Sequence[str], called: str, until: str, deposit_cents: int, *, breaks_set: bool = False) -> str:
    """Keep pieces for somebody by name. Returns the hold's id. Raises NotPossible, Stale."""
    known = buyer_called(hand.book, called)
    today = day_here(hand.now()).isoformat()
    free_to_sell(hand.book, Held(hand.new_id(), known or hand.new_id(), tuple(some), until, deposit_cents, breaks_set), today)
    person = known or add_buyer(hand, called.strip()).id
    return hold_pieces(hand, person, some, until, deposit_cents, breaks_set=breaks_set).id


def pay(hand: Hand, about: str, cents: int, by: PaidBy = PaidBy.CASH) -> Answer:
    """Money came, for a sale or a hold (its stream)."""
    return hand.write(Paid(about, cents, by))


def take_pieces_back(hand: Hand, back: Returned) -> Answer:
    """Pieces of a sale came back."""
    return hand.write(back)


def note_spent(hand: Hand, spent: Spent) -> Answer:
    """Money or hours went into a log or a piece."""
    return hand.write(spent)


def leave_wish(hand: Hand, wish: WishLeft) -> Answer:
    """Somebody would like to be told."""
    return hand.write(wish)


def end_wish(hand: Hand, wish: str) -> Answer:
    """It was met, or is no more."""
    return hand.write(WishEnded(wish))


@dataclass(frozen=True)
class WishMet:
    """A wish and the free pieces that fit it, the newest first."""

    wish: WishStands
    pieces: tuple[PieceStands, ...]


def wishes_met(book: Book, today: str) -> tuple[WishMet, ...]:
    """Wishes that stand today and can be met from the yard: the week's list of who asked."""
    free = sorted(free_pieces(book, today), key=lambda piece: -piece.seq)
    met = (WishMet(wish, tuple(piece for piece in free if fits(_wish(wish), sized(piece)))) for wish in wishes(book, today))
    return tuple(each for each in met if each.pieces)


def _wish(wish: WishStands) -> Wish:
    return Wish(known_wood(wish.species), wish.thickness_m, wish.most_thickness_m, wish.width_m, wish.length_m)


def sized(piece: PieceStands) -> Sized:
    """A piece by its sizes, its narrowest width."""
    return Sized(piece.id, known_wood(piece.species), piece.thickness_m, piece.least_width_m, piece.length_m)


def free_pieces(book: Book, today: str) -> tuple[PieceStands, ...]:
    """Pieces in the yard that nobody is promised today."""
    taken = {piece for piece, promised in promises(book, today).items() if promised.stands}
    return tuple(piece for piece in pieces(book) if not piece.ended and piece.id not in taken)


def came_second(book: Book) -> tuple[str, ...]:
    """Whom to tell that their hold was not granted, by name, and who was first; one sentence each."""
    lost = asked_in_vain(book)
    named = names_of(book, [stream("piece", piece) for each in lost for piece in each.pieces])
    return tuple(
        f"{each.called} asked for {', '.join(sorted(named.get(f'piece:{piece}', 'a piece') for piece in each.pieces))}; "
        f"{f'{each.first_called} was first' if each.first_called else 'it cannot be kept for them'}."
        for each in lost
    )
