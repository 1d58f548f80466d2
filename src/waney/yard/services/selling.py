"""What a person does to sell wood: price, quote, hold, take along, sell, take back; who buys and what they wish for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from waney.trade.shares import shares
from waney.trade.wish import SLACK_M, Sized, Wish, fits
from waney.yard.acts.promises import (
    Held,
    LeaseClosed,
    LeaseTaken,
    Priced,
    PricedPiece,
)
from waney.yard.acts.sales import BuysHere, Paid, PaidBy, Returned, Sold, TaxTaken
from waney.yard.acts.wishes import WishEnded, WishLeft
from waney.yard.book.around import buyers
from waney.yard.book.book import Answer, Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.deciding import can_be_promised
from waney.yard.book.engine import reading
from waney.yard.book.finding import MOST_ROWS, Wanted, find_pieces
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import PieceStands, names_of, pieces, pieces_of_logs
from waney.yard.book.selling_seen import AskedInVain, HoldStands, WishStands, asked_in_vain, holds, promises, wishes, woods_here
from waney.yard.book.shelf import Database
from waney.yard.here import day_here
from waney.yard.problems import NotPossible
from waney.yard.services.deposits import by_what_is_asked, deposit_part, kept_by
from waney.yard.services.hand import Hand, Made
from waney.yard.services.pieces import add_person
from waney.yard.services.woods import known_wood
from waney.yard.streams import parts, stream


def add_buyer(hand: Hand, called: str) -> Made:
    """Somebody buys here: nothing is kept of them but what to call them."""
    made = add_person(hand, called)
    hand.write(BuysHere(made.id))
    return made


def price_piece(hand: Hand, piece: str, cents: int | None, way: str = "") -> Answer:
    """What is asked for a piece; None: nothing any more. Raises NotInBook."""
    act = Priced(piece, cents, way)
    return hand.write(act, *hand.seen(act))


def hold_pieces(
    hand: Hand, person: str, some: Sequence[str], until: str, deposit_cents: int = 0, *, breaks_set: bool = False
) -> Made:
    """Keep pieces for somebody. Raises NotPossible for one that is promised already, or that would be parted from its set."""
    act = Held(hand.new_id(), person, tuple(some), until, deposit_cents, breaks_set)
    return Made(act.hold, hand.write(act, *hand.seen(act)))


def take_along(hand: Hand, some: Sequence[str], until: str, words: str = "", device: str = "") -> Made:
    """A device (this one, or the phone that goes) takes pieces to sell them out of reach. Raises NotPossible."""
    not_at_a_kiln(hand.book, some)
    act = LeaseTaken(hand.new_id(), device or hand.device, tuple(some), until, words)
    return Made(act.lease, hand.write(act, *hand.seen(act)))


def come_home(hand: Hand, lease: str, home: Sequence[str]) -> Answer:
    """The selling day is over; home: what came home."""
    return hand.write(LeaseClosed(lease, tuple(home)))


def sell_pieces(hand: Hand, sale: Sold) -> Answer:
    """Sell. Raises NotPossible for a piece that is promised to somebody else, that would be parted from its set, or that stands
    at someone else's kiln."""
    not_at_a_kiln(hand.book, sale.piece_ids())
    return hand.write(sale, *hand.seen(sale))


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
    goes_to: str = "",
) -> str:
    """Sell to somebody by name (empty: nobody named); goes_to: the state or country that the wood goes to. The hold that they
    have on a piece is settled, and so much less is paid now as its deposit was. Returns the sale's id.

    A buyer who is new is written down once it is clear that the sale can be. Raises NotPossible, Stale.
    """
    known = buyer_called(hand.book, called) if called.strip() else ""
    sale = with_their_hold(hand.book, new_sale(hand, some, on, known, taxes, paid_by))
    sale = replace(sale, breaks_set=breaks_set, goes_to=goes_to)
    free_to_sell(hand.book, sale, on)
    if called.strip() and not known:
        sale = replace(sale, person=add_buyer(hand, called.strip()).id)
    sell_pieces(hand, sale)
    return sale.sale


def with_their_hold(book: Book, sale: Sold) -> Sold:
    """A sale that settles the hold which its buyer has on one of its pieces; so much less is paid now as goes into it of the
    deposit. What else the hold keeps stays held."""
    mine = promises(book, sale.on) if sale.person else {}
    theirs = [mine[each.piece] for each in sale.pieces if each.piece in mine and mine[each.piece].person == sale.person]
    holds_it = next((one.ident for one in theirs if one.kind == "hold"), "")
    if not holds_it:
        return sale
    total = sum(each.cents for each in sale.pieces) + sum(tax.cents for tax in sale.taxes)
    off = min(deposit_part(book, holds_it, kept_by(book, holds_it), sale.piece_ids()), total)
    return replace(sale, hold=holds_it, deposit_cents=off, paid_cents=max(sale.paid_cents - off, 0))


def running_out(book: Book, today: str) -> tuple[HoldStands, ...]:
    """Holds whose last day is today, and those that ran out and that nobody ended: money may lie in them."""
    return tuple(each for each in holds(book) if not (each.ended or each.lost_to) and each.until <= today)


def hold_for(
    hand: Hand,
    some: Sequence[str],
    called: str,
    until: str,
    deposit_cents: int,
    *,
    by: PaidBy = PaidBy.CASH,
    breaks_set: bool = False,
) -> str:
    """Keep pieces for somebody by name; by: how the deposit was paid. Returns the hold's id. Raises NotPossible, Stale."""
    known = buyer_called(hand.book, called)
    today = day_here(hand.now()).isoformat()
    free_to_sell(hand.book, Held(hand.new_id(), known or hand.new_id(), tuple(some), until, deposit_cents, breaks_set), today)
    person = known or add_buyer(hand, called.strip()).id
    hold = hold_pieces(hand, person, some, until, breaks_set=breaks_set).id
    if deposit_cents:
        pay(hand, f"hold:{hold}", deposit_cents, by)
    return hold


def parted(cents: int, some: Sequence[PieceStands], asked: Mapping[str, tuple[int, str]]) -> tuple[PricedPiece, ...]:
    """One price for pieces that go together, parted by what is asked for each (alike where nothing is), to the cent."""
    weights = by_what_is_asked((piece.id for piece in some), asked)
    each = shares(cents, {piece.name: weights[piece.id] for piece in some})
    return tuple(PricedPiece(piece.id, each[piece.name]) for piece in some)


def pay(hand: Hand, about: str, cents: int, by: PaidBy = PaidBy.CASH) -> Answer:
    """Money came, for a sale or a hold (its stream). Raises NotPossible for what is owed still."""
    if by is PaidBy.OWED:
        raise NotPossible("Money that is owed has not come yet; say how it was paid.")
    return hand.write(Paid(about, cents, by))


def take_pieces_back(hand: Hand, back: Returned) -> Answer:
    """Pieces of a sale came back."""
    return hand.write(back)


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
    stand = wishes(book, today)
    if not stand:
        return ()
    taken, woods = not_free(book, today), woods_here(book)
    met = (WishMet(wish, tuple(piece for piece in _fitting(book, wish, woods) if piece.id not in taken)) for wish in stand)
    return tuple(each for each in met if each.pieces)


def _fitting(book: Book, wish: WishStands, woods: Iterable[str]) -> list[PieceStands]:
    """The newest pieces in the yard that are what was wished for, MOST_ROWS of each way in which its wood was typed."""
    sizes = Wanted(
        thinnest_m=_at_least(wish.thickness_m),
        thickest_m=None if wish.most_thickness_m is None else wish.most_thickness_m + SLACK_M,
        length_m=_at_least(wish.length_m),
        width_m=_at_least(wish.width_m),
    )
    asked = _wish(wish)
    typed = [wood for wood in woods if known_wood(wood) == asked.species] if asked.species else [""]
    pages = (find_pieces(book, replace(sizes, species=wood), MOST_ROWS) for wood in typed)
    found = [piece for page in pages for piece in page.rows if fits(asked, sized(piece))]
    return sorted(found, key=lambda piece: piece.seq, reverse=True)


def _at_least(size: float | None) -> float | None:
    return None if size is None else size - SLACK_M


def _wish(wish: WishStands) -> Wish:
    return Wish(known_wood(wish.species), wish.thickness_m, wish.most_thickness_m, wish.width_m, wish.length_m)


def sized(piece: PieceStands) -> Sized:
    """A piece by its sizes, its narrowest width."""
    return Sized(piece.id, known_wood(piece.species), piece.thickness_m, piece.least_width_m, piece.length_m)


def free_pieces(book: Book, today: str, logs: Iterable[str] | None = None) -> tuple[PieceStands, ...]:
    """The shop's pieces in the yard, of some logs or all, not at another's kiln, that nobody is promised today."""
    taken, some = not_free(book, today), pieces(book) if logs is None else pieces_of_logs(book, logs)
    return tuple(piece for piece in some if not piece.ended and piece.id not in taken)


def not_free(book: Book, today: str) -> set[str]:
    """Pieces that are a customer's, that somebody is promised today, or that stand at someone else's kiln."""
    promised = {piece for piece, promised in promises(book, today).items() if promised.stands}
    return promised | customers_pieces(book) | set(at_kilns(book))


def came_second(book: Book) -> dict[str, str]:
    """Whom to tell that their hold was not granted, by name, and who was first; one sentence for each hold, by its id."""
    lost = asked_in_vain(book)
    named = names_of(book, [stream("piece", piece) for each in lost for piece in each.pieces])

    def sentence(each: AskedInVain) -> str:
        names = sorted(named.get(stream("piece", piece), "a piece") for piece in each.pieces)
        return f"{each.called} asked for {', '.join(names)}. {why_lost(each)}"

    return {each.hold: sentence(each) for each in lost}


WHY_LOST = {
    "sale": "It is sold.",
    "lease": "It was taken along to be sold elsewhere.",
    "piece": "It is no more, or belongs to a set that stays whole.",
    "custom": "It belongs to whoever brought its log to be sawn.",
}


def why_lost(asked: AskedInVain) -> str:
    """Why a hold that was asked for cannot be, by name where it is known who was first."""
    return (
        f"{asked.first_called} was first." if asked.first_called else WHY_LOST.get(parts(asked.lost_to)[0], "Somebody was first.")
    )
