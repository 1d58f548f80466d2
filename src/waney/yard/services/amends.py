"""Amends: money was taken for a piece that is gone, or somebody asked second. Whom to tell, what to offer, what is given back."""

from __future__ import annotations

from dataclasses import dataclass, replace

from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy, Returned
from waney.yard.book.applying.pen import TaskKind
from waney.yard.book.book import Book
from waney.yard.book.looking import OpenTask, PieceStands, open_tasks, pieces_by_id
from waney.yard.book.selling_seen import SaleStands, sales
from waney.yard.problems import NotInBook
from waney.yard.services.deposits import end_hold
from waney.yard.services.hand import Hand
from waney.yard.services.mill import settle
from waney.yard.services.nearest import others_like
from waney.yard.services.selling import free_to_sell, new_sale, sell_pieces, take_pieces_back
from waney.yard.streams import parts

TOLD_APART = (TaskKind.PAID_FOR_GONE, TaskKind.CAME_SECOND)
"""tasks that have a place of their own"""


@dataclass(frozen=True)
class PaidForGone:
    """A piece that was paid for and is somebody else's, or is no more. price, taxes: of it alone; others: nearest, free now.

    words: why, without names.
    """

    sale: SaleStands
    piece: PieceStands
    price_cents: int
    taxes: tuple[tuple[str, int], ...]
    others: tuple[PieceStands, ...]
    words: str
    task: str

    @property
    def due_cents(self) -> int:
        """What to give back: its price with its tax, no more than was paid."""
        return min(self.price_cents + sum(cents for _, cents in self.taxes), self.sale.paid_cents)


def paid_for_gone(book: Book, today: str) -> tuple[PaidForGone, ...]:
    """Everything that money was taken for and that is not there, as long as its task is open; oldest first."""
    found = []
    tasks = open_tasks(book, kinds=(TaskKind.PAID_FOR_GONE,))
    for ident in dict.fromkeys(parts(task.about)[1] for task in tasks):
        (sale,) = sales(book, sale=ident)
        own = [task for task in tasks if parts(task.about)[1] == ident]
        gone = [part.piece for part in sale.pieces if part.gone and not part.returned]
        for piece in pieces_by_id(book, gone):
            task = next((task for task in own if piece.name in task.words), own[0])
            found.append(_gone(book, sale, piece, task, today))
    return tuple(found)


def _gone(book: Book, sale: SaleStands, piece: PieceStands, task: OpenTask, today: str) -> PaidForGone:
    price = next(part.cents for part in sale.pieces if part.piece == piece.id)
    return PaidForGone(sale, piece, price, sale.taxes_of(piece.id), others_like(book, piece.id, today), task.words, task.id)


def give_back(hand: Hand, gone: PaidForGone, cents: int) -> None:
    """The buyer has the money again; the task is done."""
    take_pieces_back(hand, Returned(gone.sale.id, (gone.piece.id,), cents))
    settle(hand, gone.task, words="the money was given back")


def give_another(hand: Hand, gone: PaidForGone, other: str, on: str) -> None:
    """The buyer takes another for the same money: the one that is gone is given back, the other sold and paid for.

    Raises NotPossible where the other cannot be sold: then nothing is written.
    """
    by = gone.sale.paid_by or (PaidBy.CASH,)
    sale = new_sale(hand, [PricedPiece(other, gone.price_cents)], on, gone.sale.person, gone.taxes, PaidBy(by[0]))
    free_to_sell(hand.book, sale, on)
    take_pieces_back(hand, Returned(gone.sale.id, (gone.piece.id,), gone.due_cents))
    sell_pieces(hand, replace(sale, paid_cents=gone.due_cents))
    settle(hand, gone.task, words="another was taken instead")


def tell_second(hand: Hand, hold: str) -> None:
    """Whoever asked second was told: the request ends, and its tasks are done."""
    end_hold(hand, hold)
    for task in open_tasks(hand.book, kinds=(TaskKind.CAME_SECOND,)):
        if task.about == f"hold:{hold}":
            settle(hand, task.id, words="they were told")


def gone_one(book: Book, sale: str, piece: str, today: str) -> PaidForGone:
    """One of them. Raises NotInBook where it was put right meanwhile."""
    found = [one for one in paid_for_gone(book, today) if (one.sale.id, one.piece.id) == (sale, piece)]
    if not found:
        raise NotInBook("This was put right already; look at the week again.")
    return found[0]
