"""Whether a decision may be written: what was read still stands, and the book allows it."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from datetime import datetime

from sqlalchemy import Connection, func, select

from waney.trade.way_paid import How
from waney.yard.acts.base import Decision
from waney.yard.acts.custom import CustomAgreed, CustomAgreedAnew, CustomBilled, CustomShared
from waney.yard.acts.logs import PlanChosen
from waney.yard.acts.mending import TaskSettled
from waney.yard.acts.pieces import NamesTaken, PieceEnd
from waney.yard.acts.promises import Held, LeaseTaken, PricedPiece, Quoted
from waney.yard.acts.sales import KilnShared, Sold
from waney.yard.book import custom_models, models, selling_models, truth
from waney.yard.book.applying.custom import owner_of
from waney.yard.book.applying.deposits import lies_in
from waney.yard.book.applying.promises import called, in_the_way, parted_from
from waney.yard.book.shelf import Database, Shelf
from waney.yard.commands import Command, Read
from waney.yard.here import day_here
from waney.yard.problems import NotInBook, NotPossible, Since, Stale


def allow(at: Connection, command: Command, now: datetime) -> None:
    """Raises Stale, NotInBook, NotPossible for a decision that must not be written; facts always may."""
    if not isinstance(command.act, Decision):
        return
    for read in command.read:
        _still_as_read(at, command.device, read)
    for needed in command.act.needs():
        if at.execute(select(models.head.c.made).where(models.head.c.stream == needed)).scalar() != 1:
            raise NotInBook(f"{needed} is not in the book; send first what made it.")
    _possible(at, command.act, day_here(now).isoformat())


def _still_as_read(at: Connection, device: str, read: Read) -> None:
    """Every event beyond the version read is the sender's own, up to the command it names."""
    e, t = truth.event, models.touched
    if read.after and at.execute(select(e.c.seq).where(e.c.device == device, e.c.count == read.after)).first() is None:
        raise NotInBook(f"Your command {read.after}, after which this was decided, is not in the book; send it first.")
    now = at.execute(select(func.coalesce(func.max(t.c.number), 0)).where(t.c.stream == read.stream)).scalar_one()
    if read.version > now:
        raise NotInBook(f"{read.stream} stands at number {now}; there is no number {read.version}. Look again, then decide.")
    told = (e.c.device, e.c.count.label("sent"), e.c.kind, e.c.person, e.c.recorded_at, t.c.number.label("place"))
    beyond = select(*told).join(t, t.c.seq == e.c.seq)
    beyond = beyond.where(t.c.stream == read.stream, t.c.number > read.version).order_by(t.c.number)
    rows = [row for row in at.execute(beyond) if row.device != device or row.sent > read.after]
    if rows:
        since = tuple(Since(read.stream, row.place, row.kind, row.person, row.recorded_at) for row in rows)
        raise Stale(read.stream, read.version, now, since)


def _possible(at: Connection, act: Decision, today: str) -> None:
    """What this kind of decision asks of the book."""
    if isinstance(act, PlanChosen):
        if at.execute(select(models.plan.c.log).where(models.plan.c.id == act.plan)).scalar() != act.log:
            raise NotPossible("This plan was made for another log; choose one of this log's plans.")
    elif isinstance(act, NamesTaken):
        free = at.execute(select(models.code.c.next_number).where(models.code.c.code == act.code)).scalar() or 1
        if act.first < free:
            raise NotPossible(f"Numbers of {act.code} are free from {free} on; take a block that begins there.")
    elif isinstance(act, TaskSettled):
        row = at.execute(select(models.task.c.settled_by).where(models.task.c.id == act.task)).first()
        if row is None or row.settled_by is not None:
            raise NotPossible(f"{act.task} is no open task; look at the list again.")
    elif isinstance(act, Quoted | Held | LeaseTaken | Sold):
        can_be_promised(Database(at), act, today)
    elif isinstance(act, CustomAgreed | CustomAgreedAnew | CustomShared | CustomBilled):
        _custom_possible(Database(at), act, today)
    elif isinstance(act, KilnShared):
        _kiln_can_be_shared(Database(at), act)


def _kiln_can_be_shared(shelf: Shelf, act: KilnShared) -> None:
    """Once, among pieces of the load that are the shop's own."""
    if any(row["taken_back_seq"] is None for row in shelf.find(selling_models.spent, load=act.load)):
        raise NotPossible("What this load cost stands in the costs of its pieces already; take it out first, then write it anew.")
    for each in act.pieces:
        row = shelf.get(models.load_piece, act.load, each.piece)
        if row is None or row["owner"] or owner_of(shelf, each.piece):
            raise NotPossible(f"{called(shelf, each.piece)} is not the shop's own; tell whose it is, then part the bill anew.")


def _custom_possible(shelf: Shelf, act: CustomAgreed | CustomAgreedAnew | CustomShared | CustomBilled, today: str) -> None:
    """What is billed is settled; before it is agreed there is nothing to bill, to share, to agree anew."""
    if any(row["taken_back_seq"] is None for row in shelf.find(custom_models.custom_bill, custom=act.custom)):
        raise NotPossible("This custom job is billed; take the invoice back first, then put it right.")
    row = shelf.get(custom_models.custom, act.custom)
    assert row is not None, "what is needed was looked for"
    logs = {each["log"] for each in shelf.find(custom_models.custom_log, custom=act.custom)}
    if isinstance(act, CustomAgreed):
        if {one.log for one in act.scaled} != logs:
            raise NotPossible("The logs of this custom job are others by now; look at its quote again.")
        if act.how is not How.SHARES:
            _can_go_to_the_customer(shelf, act.custom, (), today)
    elif not row["how"]:
        raise NotPossible("Nothing is agreed for this custom job yet; choose one way of the quote first.")
    elif isinstance(act, CustomAgreedAnew) and row["how"] != How.BOARD_FOOT:
        raise NotPossible(f"It is paid {row['how']}, so no rule counts its board feet; agree on another way instead.")
    elif isinstance(act, CustomShared):
        _can_be_shared(shelf, act, row["how"], logs, today)


def _can_be_shared(shelf: Shelf, act: CustomShared, how: str, logs: set[str], today: str) -> None:
    if how != How.SHARES:
        raise NotPossible(f"It is paid {how}, so no piece stays with the sawyer.")
    for piece in act.pieces:
        row = shelf.get(models.piece, piece)
        if row is None or row["log"] not in logs:
            raise NotPossible(f"{called(shelf, piece)} came off no log of this custom job.")
    _can_go_to_the_customer(shelf, act.custom, act.pieces, today)


def _can_go_to_the_customer(shelf: Shelf, custom: str, kept: Collection[str], today: str) -> None:
    """Everything that stayed with the sawyer until now, and shall no longer; of a piece that was cut up, its parts."""
    before = [str(each["piece"]) for each in shelf.find(custom_models.custom_share, custom=custom)]
    other = in_the_way(shelf, (left for piece in sorted(before) for left in _left_of(shelf, piece, kept)), today)
    if other is not None:
        raise NotPossible(f"{called(shelf, other.piece)} {other.words}, so it can no longer go to the customer.")


def _left_of(shelf: Shelf, piece: str, kept: Collection[str]) -> Iterator[str]:
    row = shelf.get(models.piece, piece)
    if piece in kept or row is None or row["taken_back_seq"] is not None:
        return
    if row["ended"] != PieceEnd.SAWN:
        yield piece
    for part in shelf.find(models.piece, parent=piece):
        yield from _left_of(shelf, str(part["id"]), kept)


def can_be_promised(shelf: Shelf, act: Quoted | Held | LeaseTaken | Sold, today: str) -> None:
    """A piece is promised once; a quote promises nothing, but what is sold or no more cannot be quoted. Raises NotPossible."""
    pieces = _pieces_of(act)
    mine = {f"hold:{act.hold}"} if isinstance(act, Sold) and act.hold else set()
    other = in_the_way(shelf, pieces, today, mine)
    if other is not None and not (isinstance(act, Quoted) and other.by.startswith(("hold:", "lease:"))):
        raise NotPossible(f"{called(shelf, other.piece)} {other.words}; look again, then offer another.")
    if isinstance(act, Sold) and act.hold:
        _settles_its_hold(shelf, act)
    if isinstance(act, Sold) and act.quote:
        _settles_its_quote(shelf, act)
    mates = parted_from(shelf, pieces) if isinstance(act, Held | Sold) and not act.breaks_set else []
    if mates:
        kept = ", ".join(called(shelf, mate) for mate in mates)
        raise NotPossible(f"This is part of a set; the rest of it is {kept}. Take all of it, or say that the set may be broken.")


def _settles_its_hold(shelf: Shelf, act: Sold) -> None:
    row = shelf.get(selling_models.hold, act.hold)
    assert row is not None, "what is needed was looked for"
    if row["ended"] or row["lost_to"]:
        raise NotPossible(f"The hold does not stand ({row['ended'] or 'it came second'}); sell without it.")
    if row["person"] != act.person:
        raise NotPossible("The hold is for somebody else than the buyer.")
    if act.deposit_cents and act.deposit_cents > lies_in(shelf, act.hold):
        raise NotPossible("Less of the deposit is left than goes into this sale; look again.")


def _settles_its_quote(shelf: Shelf, act: Sold) -> None:
    row = shelf.get(selling_models.quote, act.quote)
    assert row is not None, "what is needed was looked for"
    if row["ended"]:
        raise NotPossible(f"Nothing can be sold by this quote any more ({row['ended']}); make a new one.")
    if row["person"] != act.person:
        raise NotPossible("The quote is for somebody else than the buyer.")
    if not {each.piece for each in act.pieces} <= {
        each["piece"] for each in shelf.find(selling_models.quote_piece, quote=act.quote)
    }:
        raise NotPossible("A piece of this sale does not stand in its quote.")


def _pieces_of(act: Quoted | Held | LeaseTaken | Sold) -> tuple[str, ...]:
    return tuple(each.piece if isinstance(each, PricedPiece) else each for each in act.pieces)
