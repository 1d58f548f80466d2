"""Deposits: what of them lies here still, and what becomes of it."""

from __future__ import annotations

from waney.yard.acts.promises import DepositSettled
from waney.yard.acts.sales import Sold
from waney.yard.book import selling_models
from waney.yard.book.applying.pen import Contradicts, Pen
from waney.yard.book.applying.promises import SOLD, came, end, end_hold, free
from waney.yard.book.shelf import Shelf
from waney.yard.book.truth import Event
from waney.yard.streams import stream


def lies_in(shelf: Shelf, hold: str) -> int:
    """Paid to keep pieces and neither given back, nor gone into a sale, nor said to be kept [cents]."""
    into = [row["deposit_cents"] for row in shelf.find(selling_models.sale, hold=hold)]
    if None in into:
        return 0
    paid = sum(row["cents"] for row in shelf.find(selling_models.money, about=f"hold:{hold}"))
    return int(paid - sum(into) - sum(row["cents"] for row in shelf.find(selling_models.deposit_kept, hold=hold)))


def settled(pen: Pen, event: Event, act: DepositSettled) -> None:
    """Given back, or kept. Raises Contradicts for more than lies here."""
    if act.returned_cents + act.kept_cents > lies_in(pen.shelf, act.hold) and not pen.believed:
        words = "More of a deposit is said to be given back or kept than is left of it."
        raise Contradicts(pen.row(selling_models.hold, act.hold).seq, words)
    if act.returned_cents:
        came(pen, event, stream("hold", act.hold), "refund", "", -act.returned_cents)
    if act.kept_cents:
        pen.insert(selling_models.deposit_kept, seq=event.seq, hold=act.hold, cents=act.kept_cents)


def settle_by_sale(pen: Pen, event: Event, act: Sold) -> None:
    """The hold lets go of what is sold, and ends with the last of it; at once where nobody said what of its deposit goes in."""
    if act.deposit_cents is None:
        end_hold(pen, act.hold, SOLD, event.seq)
        return
    free(pen, act.piece_ids(), f"hold:{act.hold}")
    if not _keeps(pen.shelf, act.hold):
        end(pen, selling_models.hold, act.hold, SOLD, event.seq)


def _keeps(shelf: Shelf, hold: str) -> bool:
    rows = (shelf.get(selling_models.promise, row["piece"]) for row in shelf.find(selling_models.hold_piece, hold=hold))
    return any(row is not None and row["by"] == f"hold:{hold}" for row in rows)
