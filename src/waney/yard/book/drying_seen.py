"""Stacks, loads and readings as they stand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol, TypeVar

from sqlalchemy import func, select

from waney.yard.acts.stacks import Depth
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.looking import PIECES, PieceStands, pieces_of


@dataclass(frozen=True)
class StackStands:
    """A stack. pieces: how many lie on it (those taken back do not count); load: the load it is in at present, or empty."""

    id: str
    called: str
    spot: str
    sticker_m: float | None
    apart_m: float | None
    pieces: int
    built_at: str
    load: str


@dataclass(frozen=True)
class LoadStands:
    """A load of the kiln, when it went in, and whether it is out, all of it. whose: who has it; empty, our own kiln."""

    id: str
    kiln: str
    words: str
    pieces: int
    in_at: str
    out: bool
    whose: str
    fee: str
    seq: int
    out_seq: int | None
    out_at: str


@dataclass(frozen=True)
class Reading:
    """A moisture reading (mc: fraction of oven-dry mass) or a weight [kg]; the other is None."""

    seq: int
    happened_at: str
    mc: float | None
    mass_kg: float | None
    read_by: str
    depth: str
    wood_c: float | None
    corrected: bool


def stacks(book: Book) -> tuple[StackStands, ...]:
    """Every stack with something on it, or never yet; oldest first."""
    s, on, e, load, held = models.stack, models.stack_piece, truth.event, models.load, models.load_stack
    there = on.join(models.piece, models.piece.c.id == on.c.piece)
    counted = select(on.c.stack, func.count().label("n")).select_from(there).where(models.piece.c.taken_back_seq.is_(None))
    lying = counted.group_by(on.c.stack).subquery()
    inside = select(held.c.stack, func.max(load.c.id).label("load")).join(load, load.c.id == held.c.load)
    now = inside.where(load.c.out_seq.is_(None)).group_by(held.c.stack).subquery()
    told = (s.c.id, s.c.called, func.coalesce(s.c.spot, ""), s.c.sticker_m, s.c.apart_m, func.coalesce(lying.c.n, 0))
    asked = select(*told, e.c.recorded_at, func.coalesce(now.c.load, "")).join(e, e.c.seq == s.c.seq)
    joined = asked.outerjoin(lying, lying.c.stack == s.c.id).outerjoin(now, now.c.stack == s.c.id)
    with reading(book.engine) as at:
        return tuple(StackStands(*row) for row in at.execute(joined.order_by(s.c.seq)))


def on_stack(book: Book, stack: str) -> tuple[tuple[int | None, PieceStands], ...]:
    """What lies on a stack with its layer, from the bottom; where no layer was told, last."""
    on = models.stack_piece
    order = (on.c.layer.is_(None), on.c.layer, on.c.seq, on.c.place)
    with reading(book.engine) as at:
        asked = PIECES.join(on, on.c.piece == models.piece.c.id).where(on.c.stack == stack).order_by(*order)
        layers = at.execute(select(on.c.layer).join(models.piece, models.piece.c.id == on.c.piece).where(
            on.c.stack == stack, models.piece.c.taken_back_seq.is_(None)).order_by(*order)).scalars()  # fmt: skip
        return tuple(zip(layers, pieces_of(at, asked), strict=True))


def loads(book: Book) -> tuple[LoadStands, ...]:
    """Loads of the kiln, newest first."""
    load, inside, e, p = models.load, models.load_piece, truth.event, models.piece
    gone = truth.event.alias("gone")
    there = select(func.count()).select_from(inside.join(p, p.c.id == inside.c.piece))
    count = there.where(inside.c.load == load.c.id, p.c.taken_back_seq.is_(None)).scalar_subquery()
    told = (load.c.id, load.c.kiln, load.c.words, count, e.c.happened_at, load.c.out_seq.is_not(None))
    asked = select(*told, load.c.whose, load.c.fee, load.c.seq, load.c.out_seq, func.coalesce(gone.c.happened_at, ""))
    asked = asked.join(e, e.c.seq == load.c.seq).outerjoin(gone, gone.c.seq == load.c.out_seq)
    with reading(book.engine) as at:
        return tuple(LoadStands(*row) for row in at.execute(asked.order_by(load.c.seq.desc())))


def readings(book: Book, about: str) -> tuple[Reading, ...]:
    """Moisture and weights of a piece, stack, load or log, as they were recorded."""
    return _read(book, about).get(about, ())


class OfDepth(Protocol):
    """A reading that may be of a depth, and of moisture; read_by what, when."""

    @property
    def happened_at(self) -> str: ...  # noqa: D102

    @property
    def read_by(self) -> str: ...  # noqa: D102

    @property
    def depth(self) -> str: ...  # noqa: D102

    @property
    def mc(self) -> float | None: ...  # noqa: D102


Read = TypeVar("Read", bound=OfDepth)


def last_moistures(told: Iterable[Read]) -> tuple[Read, ...]:
    """The last moisture of each depth, as the depths are listed."""
    last = {one.depth: one for one in told if one.mc is not None}
    return tuple(last[depth] for depth in Depth if depth in last)


def every_reading(book: Book) -> tuple[tuple[str, Reading], ...]:
    """All of them with what was read (a stream), in the order of the book."""
    told = _read(book, None)
    return tuple(sorted(((about, one) for about, each in told.items() for one in each), key=lambda one: (one[1].seq, one[0])))


def _read(book: Book, wanted: str | None) -> dict[str, tuple[Reading, ...]]:
    m, w, e = models.moisture, models.weight, truth.event
    wet = select(m, e.c.happened_at).join(e, e.c.seq == m.c.seq).where(m.c.taken_back_seq.is_(None))
    heavy = select(w, e.c.happened_at).join(e, e.c.seq == w.c.seq).where(w.c.taken_back_seq.is_(None))
    if wanted is not None:
        wet, heavy = wet.where(m.c.about == wanted), heavy.where(w.c.about == wanted)
    told: dict[str, list[Reading]] = {}
    with reading(book.engine) as at:
        for r in at.execute(wet):
            one = Reading(r.seq, r.happened_at, r.mc, None, r.read_by, r.depth, r.wood_c, bool(r.corrected))
            told.setdefault(r.about, []).append(one)
        for r in at.execute(heavy):
            one = Reading(r.seq, r.happened_at, None, r.mass_kg, r.read_with or "scales", "", None, True)
            told.setdefault(r.about, []).append(one)
    return {what: tuple(sorted(each, key=lambda one: one.seq)) for what, each in told.items()}
