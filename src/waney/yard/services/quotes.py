"""Quotes of pieces: prices for one buyer until a day, perhaps with a hold; what became of them; a sale in one press."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from waney.yard.acts.promises import HoldEnd, PricedPiece, Quoted, QuoteEnded
from waney.yard.acts.sales import PaidBy
from waney.yard.book.book import Book
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.quotes_seen import QuoteStands, quotes
from waney.yard.book.selling_seen import Promised, holds, promises
from waney.yard.here import day_here
from waney.yard.problems import NotInBook, NotPossible
from waney.yard.services.deposits import end_hold
from waney.yard.services.hand import Hand, Made
from waney.yard.services.selling import (
    add_buyer,
    buyer_called,
    hold_for,
    new_sale,
    not_at_a_kiln,
    sell_pieces,
    with_their_hold,
)


def quote_pieces(
    hand: Hand, person: str, some: Sequence[PricedPiece], until: str, words: str = "", hold: str = "", goes_to: str = ""
) -> Made:  # fmt: skip
    """Prices that hold until a day. Raises NotPossible for a piece that is sold or no more."""
    act = Quoted(hand.new_id(), person, tuple(some), until, words, hold, goes_to)
    return Made(act.quote, hand.write(act, *hand.seen(act)))


def quote_for(
    hand: Hand,
    some: Sequence[PricedPiece],
    called: str,
    until: str,
    words: str = "",
    *,
    goes_to: str = "",
    keep: bool = False,
    breaks_set: bool = False,
) -> str:
    """A quote for somebody by name; goes_to: the state or country that the wood goes to; keep: a hold keeps the pieces for them
    so long. Returns its id.

    Raises NotPossible for a day that is over, a name that several bear, a piece that cannot be promised; BadAct; Stale.
    """
    if until < day_here(hand.now()).isoformat():
        raise NotPossible("That day is over; a quote is good until a day that comes.")
    if not some:
        raise NotPossible("Name a piece at least.")
    not_at_a_kiln(hand.book, [each.piece for each in some])
    # what cannot be a quote keeps nothing and adds nobody
    Quoted(hand.new_id(), hand.new_id(), tuple(some), until, words, goes_to=goes_to)
    kept = ""
    if keep:
        kept = hold_for(hand, [each.piece for each in some], called, until, 0, breaks_set=breaks_set)
    person = buyer_called(hand.book, called) or add_buyer(hand, called.strip()).id
    return quote_pieces(hand, person, some, until, words, kept, goes_to).id


@dataclass(frozen=True)
class Quote:
    """A quote with its pieces as they stand. taken: those that somebody else has by now, or that are no more; runs: whether its
    prices hold today still."""

    quote: QuoteStands
    pieces: tuple[tuple[PieceStands, int], ...]
    taken: tuple[PieceStands, ...]
    runs: bool

    @property
    def open(self) -> bool:
        """Whether a sale may come of it."""
        return self.runs and not self.quote.ended

    @property
    def left(self) -> tuple[tuple[PieceStands, int], ...]:
        """What can still be sold by it."""
        return tuple(one for one in self.pieces if one[0] not in self.taken)


def quoted(book: Book, today: str, quote: str = "", person: str = "", *, only_open: bool = False) -> tuple[Quote, ...]:
    """Quotes as they stand today: all, one, those of a buyer, or those that are open; the newest first."""
    found = quotes(book, quote, person, today if only_open else "")
    pieces = {one.id: one for one in pieces_by_id(book, [piece for each in found for piece, _ in each.pieces])}
    taken = promises(book, today) if found else {}
    return tuple(_stands(each, pieces, taken, today) for each in found)


def _stands(quote: QuoteStands, pieces: dict[str, PieceStands], promised: dict[str, Promised], today: str) -> Quote:
    known = tuple((pieces[piece], cents) for piece, cents in quote.pieces if piece in pieces)
    taken = tuple(piece for piece, _ in known if piece.ended or _theirs(promised.get(piece.id), quote))
    return Quote(quote, known, taken, quote.until >= today)


def _theirs(promised: Promised | None, quote: QuoteStands) -> bool:
    """Whether somebody else than who the quote is for has it."""
    return promised is not None and promised.stands and not (promised.kind == "hold" and promised.person == quote.person)


def sell_quote(
    hand: Hand,
    quote: str,
    some: Collection[str],
    on: str,
    taxes: Sequence[tuple[str, int]] = (),
    paid_by: PaidBy = PaidBy.CASH,
    *,
    breaks_set: bool = False,
) -> str:
    """Sell these pieces of a quote at its prices; it is over then, and a hold of it with it. Returns the sale's id.

    Raises NotInBook, NotPossible, Stale.
    """
    one = _one(hand.book, quote, on)
    if not one.runs:
        raise NotPossible("Its day is over, and its prices with it; make a new quote.")
    parts = [PricedPiece(piece.id, cents) for piece, cents in one.pieces if piece.id in some]
    if not parts:
        raise NotPossible("Tick the pieces that are sold.")
    sale = with_their_hold(hand.book, new_sale(hand, parts, on, one.quote.person, taxes, paid_by))
    sale = replace(sale, quote=quote, breaks_set=breaks_set, goes_to=one.quote.goes_to)
    sell_pieces(hand, sale)
    _let_go(hand, one.quote)
    return sale.sale


def end_quote(hand: Hand, quote: str, on: str, words: str = "") -> None:
    """Nothing comes of it; what it kept is free. Raises NotInBook."""
    one = _one(hand.book, quote, on)
    if not one.quote.ended:
        hand.write(QuoteEnded(quote, words))
    _let_go(hand, one.quote)


def _one(book: Book, quote: str, on: str) -> Quote:
    found = next(iter(quoted(book, on, quote)), None)
    if found is None:
        raise NotInBook("There is no such quote in the book.")
    return found


def _let_go(hand: Hand, quote: QuoteStands) -> None:
    """Its hold ends, unless a sale settled it."""
    if quote.hold and any(one.id == quote.hold and not one.ended for one in holds(hand.book)):
        end_hold(hand, quote.hold, HoldEnd.RELEASED)
