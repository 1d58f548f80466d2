"""Other people's logs as they stand: custom jobs with their logs, agreement, shares, bills. Names are looked up at every look."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, func, select

from waney.trade.counted import By, Counted
from waney.trade.way_paid import How
from waney.yard.book import custom_models, models, selling_models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.truth import event
from waney.yard.names import OF_LOG, Name
from waney.yard.problems import NotInBook
from waney.yard.whose import whose


@dataclass(frozen=True)
class LogHeld:
    """A log of a custom job. hours: None while nobody told how long it took."""

    log: str
    name: str
    hours: float | None
    metal_blades: int


@dataclass(frozen=True)
class Anew:
    """What both agreed anew: another rule, its price, and the same wood by the former and by the new one."""

    by: By
    rate_cents: float
    before: float
    after: float


@dataclass(frozen=True)
class BillStands:
    """An invoice as it was printed. command: the one that wrote it."""

    number: int
    on: str
    lines: tuple[tuple[str, int], ...]
    taxes: tuple[tuple[str, int], ...]
    keeps: float
    said: tuple[str, ...]
    command: str

    @property
    def net_cents(self) -> int:
        """Before tax."""
        return sum(cents for _, cents in self.lines)

    @property
    def total_cents(self) -> int:
        """With tax."""
        return self.net_cents + sum(cents for _, cents in self.taxes)


@dataclass(frozen=True)
class CustomStands:
    """A custom job. how: None while nothing is agreed; terms: the sheet as it stood then; scaled: by log and rule; kept: pieces
    that stay with the sawyer; bill: the last one that was not taken back."""

    id: str
    person: str
    called: str
    words: str
    way_m: float
    way_hours: float
    logs: tuple[LogHeld, ...]
    how: How | None
    agreed_on: str
    terms: str
    scaled: dict[str, dict[By, Counted]]
    anew: tuple[Anew, ...]
    kept: frozenset[str]
    bill: BillStands | None
    paid_cents: int
    ended: bool
    seq: int

    @property
    def owed_cents(self) -> int:
        """Still to be paid; nothing while there is no invoice."""
        return 0 if self.bill is None else self.bill.total_cents - self.paid_cents


def customs(book: Book, custom: str = "") -> tuple[CustomStands, ...]:
    """Custom jobs, the newest first; or one. A handful of queries, however many there are."""
    c, p = custom_models.custom, models.person
    asked = select(c, p.c.called).join(p, p.c.id == c.c.person).order_by(c.c.seq.desc())
    with reading(book.engine) as at:
        rows = at.execute(asked.where(c.c.id == custom) if custom else asked).mappings().all()
        held, kept, bills, paid = _logs(at), _kept(at), _bills(at), _paid(at)
    return tuple(_custom(row, held, kept, bills, paid) for row in rows)


def custom_at(book: Book, ident: str) -> CustomStands:
    """The custom job of an id. Raises NotInBook."""
    found = customs(book, ident)
    if not found:
        raise NotInBook("There is no such custom job in the book; look at the list of them.")
    return found[0]


def custom_of_log(book: Book, log: str) -> str:
    """The custom job of a log; empty for the shop's own."""
    held = custom_models.custom_log
    with reading(book.engine) as at:
        return at.execute(select(held.c.custom).where(held.c.log == log)).scalar() or ""


def customers_logs(book: Book) -> frozenset[str]:
    """Logs that are not the shop's."""
    with reading(book.engine) as at:
        return frozenset(at.execute(select(custom_models.custom_log.c.log)).scalars())


def customers_pieces(book: Book) -> frozenset[str]:
    """Pieces that are not the shop's: off a customer's log, or cut out of such a piece, and not the sawyer's share."""
    with reading(book.engine) as at:
        rows = {row.id: row for row in at.execute(_BROUGHT)}
    return frozenset(piece for piece in rows if whose(_line(rows, piece)))


def _brought() -> Select[Any]:
    """What came off customers' logs, and what was cut out of that, however often. Nearly every page asks: made once."""
    p, held, share = models.piece, custom_models.custom_log, custom_models.custom_share
    told = (p.c.parent, func.coalesce(held.c.custom, "").label("custom"), func.coalesce(share.c.custom, "").label("kept"))
    asked = select(p.c.id, *told).outerjoin(held, held.c.log == p.c.log).outerjoin(share, share.c.piece == p.c.id)
    off, cut = select(p.c.id).where(p.c.log.in_(select(held.c.log))).cte("brought", recursive=True), p.alias("cut")
    brought = off.union(select(cut.c.id).join(off, cut.c.parent == off.c.id))
    return asked.where(p.c.id.in_(select(brought.c.id)))


_BROUGHT = _brought()


def _line(rows: Mapping[str, Any], piece: str | None) -> Iterator[tuple[str, str]]:
    """As `whose` asks for it; a piece that has no row is off no customer's log and was cut out of nothing."""
    while piece is not None and piece in rows:
        yield rows[piece].custom, rows[piece].kept
        piece = rows[piece].parent


def _logs(at: Connection) -> dict[str, list[LogHeld]]:
    held, log = custom_models.custom_log, models.log
    asked = select(held, log.c.code).join(log, log.c.id == held.c.log).order_by(log.c.seq)
    found: dict[str, list[LogHeld]] = {}
    for row in at.execute(asked):
        one = LogHeld(row.log, str(Name(row.code, OF_LOG)), row.hours, row.metal_blades)
        found.setdefault(row.custom, []).append(one)
    return found


def _kept(at: Connection) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for row in at.execute(select(custom_models.custom_share)):
        found.setdefault(row.custom, set()).add(row.piece)
    return found


def _bills(at: Connection) -> dict[str, BillStands]:
    b = custom_models.custom_bill
    asked = select(b, event.c.command).join(event, event.c.seq == b.c.seq).where(b.c.taken_back_seq.is_(None)).order_by(b.c.seq)
    return {row.custom: _bill(row) for row in at.execute(asked)}


def _bill(row: Any) -> BillStands:
    lines = tuple((line["what"], line["cents"]) for line in json.loads(row.lines))
    taxes = tuple((tax["name"], tax["cents"]) for tax in json.loads(row.taxes))
    return BillStands(row.number, row.on_date, lines, taxes, row.keeps, tuple(json.loads(row.said)), row.command)


def _paid(at: Connection) -> dict[str, int]:
    m = selling_models.money
    asked = select(m.c.about, func.sum(m.c.cents)).where(m.c.about.like("custom:%")).group_by(m.c.about)
    return {about: int(cents) for about, cents in at.execute(asked)}


def _custom(
    row: Any, held: dict[str, list[LogHeld]], kept: dict[str, set[str]], bills: dict[str, BillStands], paid: dict[str, int]
) -> CustomStands:
    ident = row["id"]
    scaled: dict[str, dict[By, Counted]] = {}
    for one in json.loads(row["scaled"]):
        scaled.setdefault(one["log"], {})[By(one["by"])] = Counted(one["board_feet"], By(one["by"]), one["read"])
    anew = tuple(Anew(By(one["by"]), one["rate_cents"], one["before"], one["after"]) for one in json.loads(row["anew"]))
    return CustomStands(
        ident,
        row["person"],
        row["called"],
        row["words"],
        row["way_m"],
        row["way_hours"],
        tuple(held.get(ident, ())),
        How(row["how"]) if row["how"] else None,
        row["agreed_on"],
        row["terms"],
        scaled,
        anew,
        frozenset(kept.get(ident, ())),
        bills.get(ident),
        paid.get(f"custom:{ident}", 0),
        bool(row["ended"]),
        row["seq"],
    )
