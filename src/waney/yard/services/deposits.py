"""Deposits: what somebody paid to have wood kept for them, into a sale, back to them, or kept by the shop as it was said."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from waney.trade.shares import shares
from waney.yard.acts.promises import DepositSettled, HoldEnd, HoldEnded
from waney.yard.book.book import Book
from waney.yard.book.deposits_seen import deposits_here
from waney.yard.book.selling_seen import HoldStands, holds, pieces_promised_by, prices_asked
from waney.yard.problems import NotInBook, NotPossible
from waney.yard.services.hand import Hand


@dataclass(frozen=True)
class Deposit:
    """What lies here of a hold [cents]. over: the hold is no more, or its day is over, so that it is to be given back or kept."""

    hold: HoldStands
    cents: int
    over: bool


def deposits(book: Book, today: str, person: str = "") -> tuple[Deposit, ...]:
    """Every deposit of which something lies here, or those of one buyer; oldest hold first."""
    here = {hold: cents for hold, cents in deposits_here(book).items() if cents > 0}
    some = [each for each in holds(book) if each.id in here and person in ("", each.person)] if here else []
    return tuple(Deposit(each, here[each.id], _over(each, today)) for each in some)


def _over(hold: HoldStands, today: str) -> bool:
    """It is no more, or its day is over."""
    return bool(hold.ended) or hold.until < today


def deposit_of(book: Book, hold: str) -> int:
    """What of it lies here [cents]; 0 for no such hold."""
    return max(deposits_here(book).get(hold, 0), 0)


def kept_by(book: Book, hold: str) -> tuple[str, ...]:
    """The pieces that a hold keeps still, whether or not its day is over."""
    return pieces_promised_by(book, f"hold:{hold}")


def by_what_is_asked(some: Iterable[str], asked: Mapping[str, tuple[int, str]]) -> dict[str, float]:
    """What pieces count where one sum is parted among them: what is asked for each, alike where one has no price."""
    known = {piece: float(asked.get(piece, (0, ""))[0]) for piece in some}
    return known if all(known.values()) else dict.fromkeys(known, 1.0)


def deposit_part(book: Book, hold: str, kept: Collection[str], taken: Collection[str]) -> int:
    """What of a deposit goes with some of the pieces that its hold keeps [cents]: all of it with the last of them."""
    here = deposit_of(book, hold)
    if not here or set(kept) <= set(taken):
        return here
    parts = shares(here, by_what_is_asked(kept, prices_asked(book, kept)))
    return sum(cents for piece, cents in parts.items() if piece in taken)


def end_hold(
    hand: Hand, hold: str, how: HoldEnd = HoldEnd.RELEASED, returned_cents: int = 0, *, keeps_rest: bool = False
) -> None:
    """A hold is given up or ran out. returned_cents: of its deposit; keeps_rest: the shop keeps what is left of it, else that
    lies here until somebody says what becomes of it. Raises NotPossible for more than lies here."""
    left = _left(hand.book, hold, returned_cents)
    hand.write(HoldEnded(hold, how, returned_cents))
    if keeps_rest and left:
        hand.write(DepositSettled(hold, kept_cents=left))


def settle_deposit(hand: Hand, hold: str, returned_cents: int, today: str) -> None:
    """So much is given back, the shop keeps the rest; a hold whose day is over ends with it.

    Raises NotInBook; NotPossible while the hold stands, for more than lies here, and for nothing.
    """
    stands = next((each for each in holds(hand.book) if each.id == hold), None)
    if stands is None:
        raise NotInBook("There is no such hold in the book.")
    if not deposit_of(hand.book, hold):
        raise NotPossible("Nothing of this deposit lies here any more; look again.")
    if not _over(stands, today):
        raise NotPossible("This hold still stands. Wait until its day is over, or give it up first; then say what becomes of it.")
    left = _left(hand.book, hold, returned_cents)
    if stands.ended:
        hand.write(DepositSettled(hold, returned_cents, left))
    else:
        end_hold(hand, hold, HoldEnd.RAN_OUT, returned_cents, keeps_rest=True)


def _left(book: Book, hold: str, returned_cents: int) -> int:
    here = deposit_of(book, hold)
    if not 0 <= returned_cents <= here:
        raise NotPossible("Write what is given back: 0 at least, and no more than lies here of this deposit.")
    return here - returned_cents
