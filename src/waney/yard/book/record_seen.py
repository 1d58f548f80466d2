"""What the shop's own work says of itself: hours at logs, boards sawn, lost and sold; the newest, so that it is soon read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, func, select, union_all

from waney.trade.costing import What
from waney.yard.acts.logs import LogEnd
from waney.yard.acts.mill import Happened
from waney.yard.acts.pieces import PieceEnd
from waney.yard.book import custom_models, models, selling_models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.logs_seen import LOGS, LogStands, logs_of
from waney.yard.book.looking import PIECES, PieceStands, pieces_of
from waney.yard.here import day_here

MOST_LOGS, MOST_PIECES = 60, 500
"""the newest that are read: enough for a mean, and the shop of today"""
DRIED = ("sold", str(PieceEnd.USED), str(PieceEnd.LOST), str(PieceEnd.BURNT))
"""ends that tell what became of a board"""


@dataclass(frozen=True)
class LogDone:
    """A log that was sawn to its end, with what came off it. hours: of sawing, None where nobody told."""

    log: LogStands
    pieces: tuple[PieceStands, ...]
    hours: float | None


@dataclass(frozen=True)
class PieceGot:
    """A piece that was sold and did not come back."""

    piece: PieceStands
    cents: int


def logs_done(book: Book) -> tuple[LogDone, ...]:
    """The newest logs that were sawn to the end: of the shop, and of customers once their hours were told."""
    log, held = models.log, custom_models.custom_log
    done = (log.c.ended == str(LogEnd.SAWN)) | held.c.hours.is_not(None)
    newest = select(log.c.id).outerjoin(held, held.c.log == log.c.id).where(done).order_by(log.c.seq.desc()).limit(MOST_LOGS)
    with reading(book.engine) as at:
        ids = list(at.execute(newest).scalars())
        if not ids:
            return ()
        stand = logs_of(at, LOGS.where(log.c.id.in_(ids)))
        pieces, hours = _pieces(at, ids), _hours(at, ids)
    return tuple(LogDone(one, tuple(pieces.get(one.id, ())), hours.get(one.id)) for one in stand)


def _pieces(at: Connection, logs: list[str]) -> dict[str, list[PieceStands]]:
    found: dict[str, list[PieceStands]] = {}
    for piece in pieces_of(at, PIECES.where(models.piece.c.log.in_(logs)).order_by(models.piece.c.seq)):
        found.setdefault(piece.log, []).append(piece)
    return found


def _hours(at: Connection, logs: list[str]) -> dict[str, float]:
    """As told for a customer, else all hours that were told of the log."""
    held, s = custom_models.custom_log, selling_models.spent
    mine = s.c.what == str(What.HOURS), s.c.taken_back_seq.is_(None), s.c.about.in_([f"log:{log}" for log in logs])
    told = select(s.c.about, func.sum(s.c.hours)).where(*mine, s.c.hours.is_not(None)).group_by(s.c.about)
    own = {about.removeprefix("log:"): float(hours) for about, hours in at.execute(told)}
    theirs = select(held.c.log, held.c.hours).where(held.c.log.in_(logs), held.c.hours.is_not(None))
    return own | {log: float(hours) for log, hours in at.execute(theirs)}


@dataclass(frozen=True)
class MetalMet:
    """A log that was sawn to its end. sheet: its last; yard_tree: of the tree it came from, None: not told; met: at the mill, or
    by a blade that a customer's log spoilt."""

    log: str
    sheet: str
    yard_tree: bool | None
    met: bool


def metal_met(book: Book) -> tuple[MetalMet, ...]:
    """Of the newest logs that were sawn to the end."""
    log, stem, tree, held, h = models.log, models.stem, models.tree, custom_models.custom_log, models.happening
    newest = (
        select(log.c.id, log.c.sheets)
        .where(log.c.ended == str(LogEnd.SAWN))
        .order_by(log.c.seq.desc())
        .limit(MOST_LOGS)
        .subquery()
    )
    last = (models.sheet.c.log == newest.c.id) & (models.sheet.c.number == newest.c.sheets)
    with reading(book.engine) as at:
        sheets = {ident: text for ident, text in at.execute(select(newest.c.id, models.sheet.c.text).join(models.sheet, last))}
    told = h.c.log.in_(list(sheets)), h.c.what == str(Happened.METAL), h.c.taken_back_seq.is_(None)
    grew = select(log.c.id, tree.c.yard_tree).join(stem, stem.c.id == log.c.stem).join(tree, tree.c.id == stem.c.tree)
    with reading(book.engine) as at:
        met = set(at.execute(select(h.c.log).where(*told)).scalars())
        met |= set(at.execute(select(held.c.log).where(held.c.log.in_(list(sheets)), held.c.metal_blades > 0)).scalars())
        by = {ident: yard_tree for ident, yard_tree in at.execute(grew.where(log.c.id.in_(list(sheets))))}
    kinds = {one: None if by.get(one) is None else bool(by[one]) for one in sheets}
    return tuple(MetalMet(one, sheet, kinds[one], one in met) for one, sheet in sheets.items())


def days_begun(book: Book) -> tuple[tuple[str, str], ...]:
    """When each of the newest sawing days was begun and when the first of it was told from the mill, both by the clock of whoever
    told it; days of which nothing was told leave none."""
    day, p, h, e = models.day, models.piece, models.happening, truth.event
    newest = select(day.c.id, day.c.seq).order_by(day.c.seq.desc()).limit(MOST_LOGS).subquery()
    told = union_all(
        *(
            select(one.c.day, func.min(one.c.seq).label("seq")).where(one.c.taken_back_seq.is_(None)).group_by(one.c.day)
            for one in (p, h)
        )
    ).subquery()
    first = select(told.c.day, func.min(told.c.seq).label("seq")).group_by(told.c.day).subquery()
    begun, cut = e.alias(), e.alias()
    asked = (
        select(begun.c.happened_at, cut.c.happened_at)
        .join(newest, newest.c.seq == begun.c.seq)
        .join(first, first.c.day == newest.c.id)
        .join(cut, cut.c.seq == first.c.seq)
        .order_by(begun.c.seq)
    )
    with reading(book.engine) as at:
        return tuple((start, cut_at) for start, cut_at in at.execute(asked))


def sawn_on(book: Book, logs: Iterable[str]) -> dict[str, str]:
    """The day on which the first piece of each of some logs came off: that of its sawing day, else as whoever told it said."""
    p, e, day = models.piece, truth.event, models.day
    first = select(func.min(p.c.seq).label("seq")).where(p.c.log.in_(list(logs)), p.c.taken_back_seq.is_(None)).group_by(p.c.log)
    some = first.subquery()
    asked = select(p.c.log, day.c.on_date, e.c.happened_at).join(some, some.c.seq == p.c.seq).join(e, e.c.seq == p.c.seq)
    with reading(book.engine) as at:
        rows = at.execute(asked.outerjoin(day, day.c.id == p.c.day)).all()
    return {log: on_date or day_here(happened_at).isoformat() for log, on_date, happened_at in rows}


def boards_ended(book: Book) -> tuple[PieceStands, ...]:
    """The newest boards of a log of which it is known what became of them: sold, used, lost, burnt."""
    p = models.piece
    asked = PIECES.where(p.c.log.is_not(None), p.c.ended.in_(DRIED)).order_by(p.c.ended_seq.desc()).limit(MOST_PIECES)
    with reading(book.engine) as at:
        return pieces_of(at, asked)


def pieces_got(book: Book, woods: Iterable[str] | None = None, most: int = MOST_PIECES) -> tuple[PieceGot, ...]:
    """What pieces got lately: the newest, of all woods or of some as they were typed."""
    part, sale, piece = selling_models.sale_piece, selling_models.sale, models.piece
    there = part.c.gone == 0, part.c.returned_seq.is_(None), part.c.cents > 0
    asked = select(part.c.piece, part.c.cents).join(sale, sale.c.id == part.c.sale).where(*there)
    if woods is not None:
        asked = asked.join(piece, piece.c.id == part.c.piece).where(piece.c.species.in_(list(woods)))
    with reading(book.engine) as at:
        cents = {row.piece: row.cents for row in at.execute(asked.order_by(sale.c.seq.desc()).limit(most))}
        found = pieces_of(at, PIECES.where(piece.c.id.in_(list(cents)))) if cents else ()
    return tuple(PieceGot(one, cents[one.id]) for one in found)
