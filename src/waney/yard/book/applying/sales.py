"""Sales, payments, returns; what was spent; wishes."""

from __future__ import annotations

from dataclasses import asdict

from waney.trade.costing import What
from waney.yard.acts.sales import BuysHere, KilnShared, Paid, Returned, Sold, SoldAway, Spent
from waney.yard.acts.wishes import WishEnded, WishLeft
from waney.yard.book import models, selling_models
from waney.yard.book.applying.deposits import settle_by_sale
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind
from waney.yard.book.applying.promises import FORGOTTEN, SOLD, called, came, day_of, end, free, in_the_way, promise
from waney.yard.book.truth import Event, packed
from waney.yard.streams import Stream, parts, stream

MET = "ended"


def sold(pen: Pen, event: Event, act: Sold) -> None:
    """The pieces are the buyer's; the hold that led to it is settled."""
    if act.hold:
        settle_by_sale(pen, event, act)
    if act.quote:
        end(pen, selling_models.quote, act.quote, SOLD, event.seq)
    _sale(pen, event, act, hold=act.hold or None, lease=None, deposit=act.deposit_cents, goes_to=act.goes_to)
    for each in act.pieces:
        _hand_over(pen, event, act.makes(), each.piece)


def sold_away(pen: Pen, event: Event, act: SoldAway) -> None:
    """Money was taken, so the sale stands in any case; a piece that is somebody else's or no more is said first, in a task."""
    _sale(pen, event, act, hold=None, lease=act.lease or None)
    mine = (f"lease:{act.lease}",) if act.lease else ()
    for each in act.pieces:
        other = in_the_way(pen.shelf, (each.piece,), day_of(event), mine)
        if other is None:
            _hand_over(pen, event, act.makes(), each.piece)
            continue
        pen.change(selling_models.sale_piece, act.sale, each.piece, gone=1)
        gone = f"{called(pen.shelf, each.piece)}, which {other.words}"
        words = f"Money was taken for {gone}. Tell the buyer, offer another, or give it back."
        pen.open_task(TaskKind.PAID_FOR_GONE, event, words)


def _sale(
    pen: Pen,
    event: Event,
    act: Sold | SoldAway,
    *,
    hold: str | None,
    lease: str | None,
    deposit: int | None = None,
    goes_to: str = "",
) -> None:
    told = {"person": act.person or None, "hold": hold, "lease": lease, "on_date": act.on, "words": act.words, "goes_to": goes_to}
    sums = {"pieces_cents": sum(each.cents for each in act.pieces), "tax_cents": sum(tax.cents for tax in act.taxes)}
    pen.insert(
        selling_models.sale,
        id=act.sale,
        **told,
        **sums,
        taxes=packed([asdict(tax) for tax in act.taxes]),
        deposit_cents=deposit,
        seq=event.seq,
    )
    for each in act.pieces:
        pen.insert(selling_models.sale_piece, sale=act.sale, piece=each.piece, cents=each.cents, gone=0, returned_seq=None)
    if act.paid_cents:
        came(pen, event, act.makes(), "payment", str(act.paid_by), act.paid_cents)


def _hand_over(pen: Pen, event: Event, sale: Stream, piece: str) -> None:
    promise(pen, event, (piece,), sale)
    pen.change(models.piece, piece, ended=SOLD, ended_seq=event.seq)


def paid(pen: Pen, event: Event, act: Paid) -> None:
    """Money came later."""
    came(pen, event, Stream(act.about), "deposit" if parts(act.about)[0] == "hold" else "payment", str(act.by), act.cents)
    if parts(act.about)[0] == "hold":
        hold = parts(act.about)[1]
        pen.change(selling_models.hold, hold, deposit_cents=pen.row(selling_models.hold, hold).deposit_cents + act.cents)


def returned(pen: Pen, event: Event, act: Returned) -> None:
    """The pieces are the shop's again. Raises Contradicts for a piece that was not sold so, or came back before."""
    rows = {row["piece"]: row for row in pen.shelf.find(selling_models.sale_piece, sale=act.sale)}
    for piece in act.pieces:
        if piece not in rows:
            raise Contradicts(pen.row(selling_models.sale, act.sale).seq, "One of these pieces was not in this sale.")
        if rows[piece]["returned_seq"] is not None:
            raise Contradicts(rows[piece]["returned_seq"], "One of these pieces came back before.")
    for piece in act.pieces:
        pen.change(selling_models.sale_piece, act.sale, piece, returned_seq=event.seq)
        if not rows[piece]["gone"]:
            _back(pen, event, act, piece)
    if act.refund_cents:
        came(pen, event, stream("sale", act.sale), "refund", "", -act.refund_cents)


def _back(pen: Pen, event: Event, act: Returned, piece: str) -> None:
    free(pen, (piece,), f"sale:{act.sale}")
    lease = pen.row(selling_models.sale, act.sale).lease
    if lease is not None and _still_away(pen, event, lease, piece):
        promise(pen, event, (piece,), stream("lease", lease))
    if pen.row(models.piece, piece).ended == SOLD:
        spot = {"spot": act.spot} if act.spot else {}
        pen.change(models.piece, piece, ended="", ended_seq=None, **spot)


def _still_away(pen: Pen, event: Event, lease: str, piece: str) -> bool:
    """It came back to the stall: the device that sold it has it still, and nobody else can sell it."""
    row = pen.row(selling_models.lease, lease)
    along = pen.shelf.get(selling_models.lease_piece, lease, piece) is not None
    return along and row.closed_seq is None and row.device == event.device


def spent(pen: Pen, event: Event, act: Spent) -> None:
    """Money or hours."""
    told = {"about": act.about, "what": str(act.what), "cents": act.cents, "hours": act.hours, "words": act.words}
    pen.insert(selling_models.spent, seq=event.seq, **told, load=None, taken_back_seq=None)


def kiln_shared(pen: Pen, event: Event, act: KilnShared) -> None:
    """A part of what the load cost, at each of these pieces."""
    told = {"what": str(What.KILN), "hours": None, "words": "", "load": act.load, "taken_back_seq": None}
    for each in act.pieces:
        pen.insert(selling_models.spent, seq=event.seq, about=f"piece:{each.piece}", cents=each.cents, **told)


def buys_here(pen: Pen, _event: Event, act: BuysHere) -> None:
    """Somebody who buys."""
    pen.change(models.person, act.person, buys=1)


def wish_left(pen: Pen, event: Event, act: WishLeft) -> None:
    """A wish; of somebody who was forgotten meanwhile there is none."""
    sizes = {name: getattr(act, name) for name in ("thickness_m", "most_thickness_m", "width_m", "length_m")}
    told = {"person": act.person, "until": act.until, "species": act.species, **sizes}
    pen.insert(selling_models.wish, id=act.wish, **told, ended="", ended_seq=None, seq=event.seq)
    if pen.row(models.person, act.person).forgotten_seq is not None:
        end(pen, selling_models.wish, act.wish, FORGOTTEN, event.seq)


def wish_ended(pen: Pen, event: Event, act: WishEnded) -> None:
    """No more."""
    end(pen, selling_models.wish, act.wish, MET, event.seq)
