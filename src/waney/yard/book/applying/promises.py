"""Who a piece is promised to: one row for each piece, and what stands in the way of another promise."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import Table

from waney.yard.acts.promises import Held, HoldAsked, HoldEnd, HoldEnded, LeaseClosed, LeaseTaken, Priced, Quoted, QuoteEnded
from waney.yard.book import models, selling_models
from waney.yard.book.applying.custom import owner_of
from waney.yard.book.applying.pen import Contradicts, Pen, TaskKind
from waney.yard.book.shelf import Row, Shelf
from waney.yard.book.truth import Event
from waney.yard.names import Name
from waney.yard.streams import Stream, parts, stream

SOLD = "sold"
FORGOTTEN = "forgotten"
GIVEN_UP = "given up"


@dataclass(frozen=True)
class InTheWay:
    """Why a piece cannot be promised: by what (a stream), in words that name nobody."""

    piece: str
    by: str
    words: str


def in_the_way(shelf: Shelf, pieces: Iterable[str], today: str, mine: Collection[str] = ()) -> InTheWay | None:
    """The first of these pieces that cannot be promised on a day; mine: promises that are settled by this one."""
    return next((found for piece in pieces if (found := _in_the_way(shelf, piece, today, mine)) is not None), None)


def _in_the_way(shelf: Shelf, piece: str, today: str, mine: Collection[str]) -> InTheWay | None:
    row = shelf.get(models.piece, piece)
    assert row is not None, "a piece is there before it is promised"
    if row["taken_back_seq"] is not None:
        return InTheWay(piece, f"piece:{piece}", "was taken back: it never was")
    promised = shelf.get(selling_models.promise, piece)
    if row["ended"] and row["ended"] != SOLD:
        return InTheWay(piece, f"piece:{piece}", f"is no more ({row['ended']})")
    whose = owner_of(shelf, piece)
    if whose:
        return InTheWay(piece, f"custom:{whose}", "belongs to whoever brought its log to be sawn")
    if promised is None or promised["by"] in mine or _ran_out(shelf, promised["by"], today):
        return None
    return InTheWay(piece, promised["by"], WORDS[parts(promised["by"])[0]])


WORDS = {
    "hold": "is held for somebody",
    "lease": "was taken along to be sold elsewhere",
    "sale": "is sold",
}


def _ran_out(shelf: Shelf, by: str, today: str) -> bool:
    kind, ident = parts(by)
    held = shelf.get(selling_models.hold, ident) if kind == "hold" else None
    return held is not None and str(held["until"]) < today


def called(shelf: Shelf, piece: str) -> str:
    """The name that stands on a piece."""
    row = shelf.get(models.piece, piece)
    return str(Name(row["code"], row["number"])) if row is not None and row["code"] else "A piece"


def parted_from(shelf: Shelf, pieces: Sequence[str]) -> list[str]:
    """Pieces that are still there and would be parted from their sets, in the order of each set."""
    found: dict[str, None] = {}
    for piece in pieces:
        own = shelf.get(models.together_piece, piece)
        mates = [] if own is None else shelf.find(models.together_piece, together=own["together"])
        for mate in sorted(mates, key=lambda row: int(row["place"])):
            row = shelf.get(models.piece, mate["piece"])
            if mate["piece"] not in pieces and row is not None and not row["ended"]:
                found[mate["piece"]] = None
    return list(found)


def day_of(event: Event) -> str:
    """The day by the book's clock, in the place where it was written down."""
    return event.recorded_at[:10]


def promise(pen: Pen, event: Event, pieces: Iterable[str], by: Stream) -> None:
    """From now on these pieces are promised so; a hold of theirs that ran out is no more."""
    for piece in pieces:
        former = pen.shelf.get(selling_models.promise, piece)
        if former is not None and former["by"] != by and former["by"].startswith("hold:"):
            end_hold(pen, parts(former["by"])[1], str(HoldEnd.RAN_OUT), event.seq)
        pen.insert(selling_models.promise, piece=piece, by=by, seq=event.seq)


def free(pen: Pen, pieces: Iterable[str], by: str) -> None:
    """What is still promised by this is promised no more."""
    for piece in pieces:
        row = pen.shelf.get(selling_models.promise, piece)
        if row is not None and row["by"] == by:
            pen.shelf.remove(selling_models.promise, piece)


def end(pen: Pen, table: Table, ident: str, how: str, seq: int) -> None:
    """A hold or a wish ends once."""
    if not pen.row(table, ident).ended:
        pen.change(table, ident, ended=how, ended_seq=seq)


def end_hold(pen: Pen, hold: str, how: str, seq: int) -> None:
    """A hold ends, and its pieces are free."""
    end(pen, selling_models.hold, hold, how, seq)
    free(pen, _pieces(pen.shelf.find(selling_models.hold_piece, hold=hold)), f"hold:{hold}")


def _pieces(rows: Iterable[Row]) -> list[str]:
    return [str(row["piece"]) for row in rows]


def priced(pen: Pen, event: Event, act: Priced) -> None:
    """What is asked."""
    if act.cents is not None:
        pen.insert(selling_models.asked, piece=act.piece, cents=act.cents, way=act.way, seq=event.seq)
    elif pen.shelf.get(selling_models.asked, act.piece) is not None:
        pen.shelf.remove(selling_models.asked, act.piece)


def quoted(pen: Pen, event: Event, act: Quoted) -> None:
    """A quote."""
    told = {"person": act.person, "hold": act.hold or None, "until": act.until, "words": act.words, "goes_to": act.goes_to}
    pen.insert(selling_models.quote, id=act.quote, **told, ended="", ended_seq=None, seq=event.seq)
    for each in act.pieces:
        pen.insert(selling_models.quote_piece, quote=act.quote, piece=each.piece, cents=each.cents)


def quote_ended(pen: Pen, event: Event, act: QuoteEnded) -> None:
    """Once; one that became a sale stays one."""
    end(pen, selling_models.quote, act.quote, GIVEN_UP, event.seq)


def held(pen: Pen, event: Event, act: Held) -> None:
    """A hold, its deposit paid."""
    _hold(pen, event, act, asked=0, lost_to="", deposit_cents=act.deposit_cents)
    if act.deposit_cents:
        came(pen, event, act.makes(), "deposit", "", act.deposit_cents)
    promise(pen, event, act.pieces, act.makes())


def hold_asked(pen: Pen, event: Event, act: HoldAsked) -> None:
    """Granted to whoever arrives first; the others are told, by a task that names no person."""
    first = in_the_way(pen.shelf, act.pieces, day_of(event))
    mates = parted_from(pen.shelf, act.pieces) if first is None else []
    if first is None and not mates:
        _hold(pen, event, act, asked=1, lost_to="", deposit_cents=0)
        promise(pen, event, act.pieces, act.makes())
        return
    _hold(pen, event, act, asked=1, lost_to=f"piece:{mates[0]}" if first is None else first.by, deposit_cents=0)
    why = "It belongs to a set that stays whole." if first is None else f"{called(pen.shelf, first.piece)} {first.words}."
    pen.open_task(TaskKind.CAME_SECOND, event, f"A hold was asked for and is not granted. {why}")


def _hold(pen: Pen, event: Event, act: Held | HoldAsked, *, asked: int, lost_to: str, deposit_cents: int) -> None:
    told = {"person": act.person, "until": act.until, "deposit_cents": deposit_cents, "asked": asked, "lost_to": lost_to}
    pen.insert(selling_models.hold, id=act.hold, **told, ended="", ended_seq=None, seq=event.seq)
    for piece in act.pieces:
        pen.insert(selling_models.hold_piece, hold=act.hold, piece=piece)


def hold_ended(pen: Pen, event: Event, act: HoldEnded) -> None:
    """Its pieces are free. Raises Contradicts for one that ended in a sale."""
    row = pen.row(selling_models.hold, act.hold)
    if row.ended == SOLD:
        raise Contradicts(row.ended_seq, "The hold ended in a sale, and yet it is said to be given up.")
    end_hold(pen, act.hold, str(act.how), event.seq)
    if act.returned_cents:
        came(pen, event, stream("hold", act.hold), "refund", "", -act.returned_cents)


def lease_taken(pen: Pen, event: Event, act: LeaseTaken) -> None:
    """Nobody else can sell these now."""
    told = {"device": act.device, "until": act.until, "words": act.words}
    pen.insert(selling_models.lease, id=act.lease, **told, closed_seq=None, seq=event.seq)
    for piece in act.pieces:
        pen.insert(selling_models.lease_piece, lease=act.lease, piece=piece, home=None)
    promise(pen, event, act.pieces, act.makes())


def lease_closed(pen: Pen, event: Event, act: LeaseClosed) -> None:
    """What was not sold is free again; what did not come home is looked for. Only the first closing counts."""
    row, by = pen.row(selling_models.lease, act.lease), f"lease:{act.lease}"
    if row.closed_seq is not None:
        return
    pen.change(selling_models.lease, act.lease, closed_seq=event.seq)
    for piece in _pieces(pen.shelf.find(selling_models.lease_piece, lease=act.lease)):
        promised = pen.shelf.get(selling_models.promise, piece)
        if promised is None or promised["by"] != by:
            continue
        pen.change(selling_models.lease_piece, act.lease, piece, home=int(piece in act.home))
        pen.shelf.remove(selling_models.promise, piece)
        if piece not in act.home:
            words = f"{called(pen.shelf, piece)} was taken along, was not sold and did not come home: look for it."
            pen.open_task(TaskKind.MISSING, event, words)


def came(pen: Pen, event: Event, about: Stream, what: str, by: str, cents: int) -> None:
    """Money came, or was given back; one event has one such row."""
    pen.insert(selling_models.money, seq=event.seq, about=about, what=what, by=by, cents=cents)
