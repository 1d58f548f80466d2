"""Selling as it stands: prices, promises, holds, leases, sales, money, wishes. Names of people are looked up at every look."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, Table, func, select

from waney.trade.shares import shares
from waney.yard.book import models, selling_models, truth
from waney.yard.book.book import Book
from waney.yard.book.deposits_seen import gone_of
from waney.yard.book.engine import reading
from waney.yard.here import day_here
from waney.yard.streams import parts


@dataclass(frozen=True)
class Promised:
    """Who a piece is promised to. kind: hold, lease, sale; called: the person, empty for nobody named; until: a day, or empty.

    stands: False for a hold that ran out by the day that was asked for.
    """

    piece: str
    kind: str
    ident: str
    person: str
    called: str
    until: str
    stands: bool


@dataclass(frozen=True)
class AskedInVain:
    """A hold that came second: who asked (called), for which pieces, who was first (empty: a lease, or the wood is no more)."""

    hold: str
    person: str
    called: str
    pieces: tuple[str, ...]
    lost_to: str
    first_called: str
    seq: int


@dataclass(frozen=True)
class HoldStands:
    """A hold. lost_to, ended: empty while it stands. version: of its stream."""

    id: str
    person: str
    called: str
    pieces: tuple[str, ...]
    until: str
    deposit_cents: int
    lost_to: str
    ended: str


@dataclass(frozen=True)
class PieceSold:
    """One piece of a sale. gone: it was not there to be sold; returned: it came back."""

    piece: str
    cents: int
    gone: bool
    returned: bool


@dataclass(frozen=True)
class SaleStands:
    """A sale with its money. paid_cents: payments and what went into it of the deposit of its hold, less refunds;
    paid_by: how money came; goes_to: the state or country, empty: not told.
    """

    id: str
    person: str
    called: str
    on: str
    pieces: tuple[PieceSold, ...]
    taxes: tuple[tuple[str, int], ...]
    hold: str
    lease: str
    pieces_cents: int
    tax_cents: int
    paid_cents: int
    words: str
    seq: int
    paid_by: tuple[str, ...]
    goes_to: str

    @property
    def back_cents(self) -> int:
        """Price of the pieces that came back, with their part of the taxes."""
        back = (part for part in self.pieces if part.returned)
        return sum(part.cents + sum(cents for _, cents in self.taxes_of(part.piece)) for part in back)

    @property
    def with_tax_cents(self) -> int:
        """What all pieces came to, with tax, before anything came back."""
        return self.pieces_cents + self.tax_cents

    @property
    def owed_cents(self) -> int:
        """Still to be paid for what did not come back; below zero: more was paid than that."""
        return self.with_tax_cents - self.back_cents - self.paid_cents

    def taxes_of(self, piece: str) -> tuple[tuple[str, int], ...]:
        """The part of each tax line that goes with one of its pieces, by price; where all were free, by the piece."""
        prices = {part.piece: float(part.cents) for part in self.pieces}
        weights = prices if any(prices.values()) else dict.fromkeys(prices, 1.0)
        return tuple((name, shares(cents, weights)[piece]) for name, cents in self.taxes)


@dataclass(frozen=True)
class LeaseStands:
    """A lease. home: by piece; None: nobody said. taken_at: a moment by the book's clock."""

    id: str
    device: str
    until: str
    words: str
    closed: bool
    home: tuple[tuple[str, bool | None], ...]
    seq: int
    taken_at: str

    def pieces(self) -> tuple[str, ...]:
        """What was taken along."""
        return tuple(piece for piece, _ in self.home)


@dataclass(frozen=True)
class WishStands:
    """A wish that is not ended."""

    id: str
    person: str
    called: str
    until: str
    species: str
    thickness_m: float | None
    most_thickness_m: float | None
    width_m: float | None
    length_m: float | None


def promises(book: Book, today: str, piece: str = "") -> dict[str, Promised]:
    """Promises by piece, or that of one; five queries."""
    p = selling_models.promise
    with reading(book.engine) as at:
        rows = at.execute(select(p).where(p.c.piece == piece) if piece else select(p)).all()
        some = [parts(row.by)[1] for row in rows] if piece else None
        known = {kind: _rows(at, table, some) for kind, table in _BY.items()}
        called = called_here(at)
    return {row.piece: _promised(row, known, called, today) for row in rows}


def pieces_promised_by(book: Book, by: str) -> tuple[str, ...]:
    """The pieces that a hold, a lease or a sale has (its stream), in their order."""
    p = selling_models.promise
    with reading(book.engine) as at:
        return tuple(at.execute(select(p.c.piece).where(p.c.by == by).order_by(p.c.piece)).scalars())


_BY = {"hold": selling_models.hold, "lease": selling_models.lease, "sale": selling_models.sale}


def _promised(row: Any, known: dict[str, dict[str, Any]], called: dict[str, str], today: str) -> Promised:
    kind, ident = parts(row.by)
    by = known[kind][ident]
    person = getattr(by, "person", None) or ""
    until = getattr(by, "until", "")
    return Promised(row.piece, kind, ident, person, called.get(person, ""), until, kind != "hold" or until >= today)


def _rows(at: Connection, table: Table, some: Sequence[str] | None = None) -> dict[str, Any]:
    asked = select(table) if some is None else select(table).where(table.c.id.in_(some))
    return {row.id: row for row in at.execute(asked)}


def called_here(at: Connection) -> dict[str, str]:
    """What people are called, by their ids."""
    return {row.id: row.called for row in at.execute(select(models.person.c.id, models.person.c.called))}


def _pieces(at: Connection, table: Table, of: str) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for row in at.execute(select(table.c[of], table.c.piece).order_by(table.c.piece)):
        found[row[0]] = (*found.get(row[0], ()), row[1])
    return found


def woods_here(book: Book) -> tuple[str, ...]:
    """The woods of all pieces, as they were typed."""
    with reading(book.engine) as at:
        return tuple(at.execute(select(models.piece.c.species).distinct()).scalars())


@dataclass(frozen=True)
class HereSize:
    """A piece in the yard by its id and sizes [m], its narrowest width; None: not known."""

    id: str
    thickness_m: float | None
    width_m: float | None
    length_m: float | None


def here_of_woods(book: Book, woods: Iterable[str]) -> tuple[HereSize, ...]:
    """Pieces of some woods that are not gone and stand in no kiln, our own neither."""
    p, held, load = models.piece, models.load_piece, models.load
    away = select(held.c.piece).join(load, load.c.id == held.c.load).where(load.c.out_seq.is_(None), held.c.back_seq.is_(None))
    some = select(p.c.id, p.c.thickness_m, p.c.least_width_m, p.c.length_m).where(
        p.c.species.in_(list(woods)), p.c.ended == "", p.c.taken_back_seq.is_(None), p.c.id.not_in(away)
    )
    with reading(book.engine) as at:
        return tuple(HereSize(*row) for row in at.execute(some))


def holds(book: Book) -> tuple[HoldStands, ...]:
    """Every hold, oldest first."""
    h = selling_models.hold
    with reading(book.engine) as at:
        called, pieces = called_here(at), _pieces(at, selling_models.hold_piece, "hold")
        rows = at.execute(select(h).order_by(h.c.seq)).all()
    return tuple(
        HoldStands(r.id, r.person, called[r.person], pieces.get(r.id, ()), r.until, r.deposit_cents, r.lost_to, r.ended)
        for r in rows
    )


def asked_in_vain(book: Book) -> tuple[AskedInVain, ...]:
    """Holds that came second and are not ended: whom to tell, by name, and who was first."""
    h = selling_models.hold
    with reading(book.engine) as at:
        rows = at.execute(select(h).where(h.c.lost_to != "", h.c.ended == "").order_by(h.c.seq)).all()
        if not rows:
            return ()
        called, pieces = called_here(at), _pieces(at, selling_models.hold_piece, "hold")
        first = {f"{kind}:{ident}": row for kind, table in _BY.items() for ident, row in _rows(at, table).items()}

    def name_of(lost_to: str) -> str:
        return called.get(getattr(first.get(lost_to), "person", None) or "", "")

    return tuple(
        AskedInVain(r.id, r.person, called[r.person], pieces.get(r.id, ()), r.lost_to, name_of(r.lost_to), r.seq) for r in rows
    )


def sales(
    book: Book, person: str = "", sale: str = "", lease: str = "", pieces: Iterable[str] | None = None
) -> tuple[SaleStands, ...]:
    """Sales in the order of the book: all, one person's, one, those on a lease, or those of some pieces."""
    s, p, m = selling_models.sale, selling_models.sale_piece, selling_models.money
    asked = select(s).order_by(s.c.seq)
    asked = asked if pieces is None else asked.where(s.c.id.in_(select(p.c.sale).where(p.c.piece.in_(list(pieces)))))
    asked = asked.where(s.c.person == person) if person else asked
    asked = asked.where(s.c.id == sale) if sale else asked
    asked = asked.where(s.c.lease == lease) if lease else asked
    with reading(book.engine) as at:
        rows = at.execute(asked).all()
        few = pieces is not None or bool(person or sale or lease)
        streams = [*(f"sale:{row.id}" for row in rows), *(f"hold:{row.hold}" for row in rows if row.hold)]
        called, money = called_here(at), _money(at, streams if few else None)
        gone = gone_of(at) if any(row.hold for row in rows) else {}
        ways = select(m.c.about, m.c.by).where(m.c.by != "").order_by(m.c.seq)
        how: dict[str, list[str]] = {}
        for row in at.execute(ways.where(m.c.about.in_(streams)) if few else ways):
            how.setdefault(row.about, []).append(row.by)
        parts_of: dict[str, list[PieceSold]] = {}
        for row in at.execute(_of(p, [row.id for row in rows])):
            one = PieceSold(row.piece, row.cents, bool(row.gone), row.returned_seq is not None)
            parts_of.setdefault(row.sale, []).append(one)
    return tuple(_sale(row, tuple(parts_of[row.id]), called, _came(row, money, gone), _how(row, how)) for row in rows)


def _money(at: Connection, about: Sequence[str] | None) -> dict[str, int]:
    """What came for sales and holds by their streams, all or some [cents]."""
    m = selling_models.money
    asked = select(m.c.about, func.sum(m.c.cents)).group_by(m.c.about)
    return {row[0]: int(row[1]) for row in at.execute(asked if about is None else asked.where(m.c.about.in_(about)))}


def _came(row: Any, money: dict[str, int], gone: dict[str, int]) -> int:
    """For a sale, with what of the deposit of its hold went into it: all that was left, unless it is said."""
    if row.hold is None or row.deposit_cents is not None:
        return money.get(f"sale:{row.id}", 0) + (row.deposit_cents or 0)
    return money.get(f"sale:{row.id}", 0) + money.get(f"hold:{row.hold}", 0) - gone.get(row.hold, 0)


def _of(table: Table, sales: list[str]) -> Select[Any]:
    return select(table).where(table.c.sale.in_(sales)).order_by(table.c.sale, table.c.piece)


def _how(row: Any, how: dict[str, list[str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys([*how.get(f"hold:{row.hold}", ()), *how.get(f"sale:{row.id}", ())]))


def _sale(row: Any, pieces: tuple[PieceSold, ...], called: dict[str, str], came: int, how: tuple[str, ...]) -> SaleStands:
    taxes = tuple((tax["name"], tax["cents"]) for tax in json.loads(row.taxes))
    links = (row.hold or "", row.lease or "")
    sums = (row.pieces_cents, row.tax_cents, came)
    return SaleStands(
        row.id, row.person or "", called.get(row.person or "", ""), row.on_date, pieces, taxes, *links, *sums, row.words, row.seq,
        how, row.goes_to,
    )  # fmt: skip


def leases(book: Book) -> tuple[LeaseStands, ...]:
    """Leases, the newest first."""
    le, p = selling_models.lease, selling_models.lease_piece
    with reading(book.engine) as at:
        home: dict[str, list[tuple[str, bool | None]]] = {}
        for row in at.execute(select(p).order_by(p.c.lease, p.c.piece)):
            home.setdefault(row.lease, []).append((row.piece, None if row.home is None else bool(row.home)))
        e = truth.event
        rows = at.execute(select(le, e.c.recorded_at).join(e, e.c.seq == le.c.seq).order_by(le.c.seq.desc())).all()
    return tuple(
        LeaseStands(r.id, r.device, r.until, r.words, r.closed_seq is not None, tuple(home.get(r.id, ())), r.seq, r.recorded_at)
        for r in rows
    )


def asked_from(book: Book, device: str, since: int) -> tuple[HoldStands, ...]:
    """Holds that a device asked for out of reach after event `since`, oldest first, granted or not."""
    e = truth.event
    asked = select(e.c.stream).where(e.c.device == device, e.c.kind == "hold-asked", e.c.seq > since)
    with reading(book.engine) as at:
        wanted = set(at.execute(asked).scalars())
    return tuple(hold for hold in holds(book) if f"hold:{hold.id}" in wanted) if wanted else ()


def money_by_way(book: Book, some: Iterable[str]) -> dict[str, int]:
    """What came for some sales by the way it was paid, and what was given back (the empty way) [cents]."""
    m = selling_models.money
    about = [f"sale:{sale}" for sale in some]
    with reading(book.engine) as at:
        rows = at.execute(select(m.c.by, func.sum(m.c.cents)).where(m.c.about.in_(about)).group_by(m.c.by).order_by(m.c.by))
        return {row[0]: int(row[1]) for row in rows}


def let_go(book: Book, since: str, today: str) -> dict[str, str]:
    """The day on which pieces last left a hold without a sale, or on which it ran out, since a day; by piece."""
    h, p, e = selling_models.hold, selling_models.hold_piece, truth.event
    asked = select(p.c.piece, func.max(e.c.recorded_at)).join(h, h.c.id == p.c.hold).join(e, e.c.seq == h.c.ended_seq)
    asked = asked.where(h.c.ended.not_in(["", "sold"]), h.c.lost_to == "", e.c.recorded_at >= since).group_by(p.c.piece)
    ran_out = select(p.c.piece, func.max(h.c.until)).join(h, h.c.id == p.c.hold)
    ran_out = ran_out.where(h.c.ended == "", h.c.lost_to == "", h.c.until >= since, h.c.until < today).group_by(p.c.piece)
    with reading(book.engine) as at:
        found = [(piece, day_here(when).isoformat()) for piece, when in at.execute(asked)]
        found += [(piece, day) for piece, day in at.execute(ran_out)]
    return {piece: day for piece, day in sorted(found, key=lambda one: one[1])}


def prices_asked(book: Book, pieces: Iterable[str] | None = None) -> dict[str, tuple[int, str]]:
    """What is asked, by piece: cents, and how it came about."""
    a = selling_models.asked
    asked = select(a) if pieces is None else select(a).where(a.c.piece.in_(list(pieces)))
    with reading(book.engine) as at:
        return {row.piece: (row.cents, row.way) for row in at.execute(asked)}


def wishes(book: Book, today: str) -> tuple[WishStands, ...]:
    """Wishes that stand on a day, oldest first."""
    w, p = selling_models.wish, models.person
    sizes = (w.c.thickness_m, w.c.most_thickness_m, w.c.width_m, w.c.length_m)
    asked = select(w.c.id, w.c.person, p.c.called, w.c.until, w.c.species, *sizes).join(p, p.c.id == w.c.person)
    with reading(book.engine) as at:
        rows = at.execute(asked.where(w.c.ended == "", w.c.until >= today).order_by(w.c.seq)).all()
    return tuple(WishStands(*row) for row in rows)


def money_taken(book: Book) -> int:
    """All money that came from buyers, less what was given back [cents]."""
    with reading(book.engine) as at:
        return int(at.execute(select(func.coalesce(func.sum(selling_models.money.c.cents), 0))).scalar_one())
