"""How stacks dry: how each stands, what lies on it since when, and all that was read of its pieces."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Connection, Select, Table, func, literal, or_, select, union_all

from waney.yard.acts.drying import ChamberRead
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.looking import PIECES, PieceStands, pieces_of
from waney.yard.problems import NotInBook
from waney.yard.weights import Moment, of_what_is_left

Value = TypeVar("Value")


@dataclass(frozen=True)
class Told(Moment):
    """When, and by which command."""

    command: str


@dataclass(frozen=True)
class WeightTold:
    """A weight [kg]; ends: one end was read after the other; mark_kg: of the weighing scale, None is not told."""

    told: Told
    mass_kg: float
    read_with: str
    ends: bool
    mark_kg: float | None


@dataclass(frozen=True)
class MoistureTold:
    """What a meter said [-], or an oven-dry sample; set_to: the wood it was set to; corrected: put right for wood and
    temperature already."""

    told: Told
    mc: float
    read_by: str
    depth: str
    wood_c: float | None
    set_to: str
    corrected: bool

    @property
    def happened_at(self) -> str:
        """When it was read."""
        return self.told.happened_at


@dataclass(frozen=True)
class SampleTold:
    """A sample board [kg]; dry_kg: nothing while its sections are in the oven."""

    told: Told
    mass_kg: float
    wet_kg: tuple[float, ...]
    dry_kg: tuple[float, ...]
    mark_kg: float | None


@dataclass(frozen=True)
class ProngsTold:
    """A prong test: what was seen, and how many hours after the saw."""

    told: Told
    seen: str
    hours: float | None


@dataclass(frozen=True)
class ReadOf:
    """All that was read of one piece, in the order in which it was recorded."""

    weights: tuple[WeightTold, ...] = ()
    moistures: tuple[MoistureTold, ...] = ()
    sample: SampleTold | None = None
    prongs: tuple[ProngsTold, ...] = ()

    @property
    def weights_now(self) -> tuple[WeightTold, ...]:
        """Weights of the piece as it lies there: since it was cut to a sample board, if it was."""
        cut = None if self.sample is None else self.sample.told
        return tuple(one for one in self.weights if of_what_is_left(one.told, cut))

    @property
    def mass_kg(self) -> float | None:
        """What it weighed last [kg]."""
        return None if self.last_weight is None else self.last_weight.mass_kg

    @property
    def last_weight(self) -> WeightTold | None:
        """The last of them; else the sample board's as it was cut."""
        if self.weights_now:
            return self.weights_now[-1]
        one = self.sample
        return None if one is None else WeightTold(one.told, one.mass_kg, "", False, one.mark_kg)

    def between(self, after: int = 0, before: int | None = None) -> ReadOf:
        """What was told between two events of the book, neither counted in."""

        def within(told: Told) -> bool:
            return told.seq > after and (before is None or told.seq < before)

        return ReadOf(
            tuple(one for one in self.weights if within(one.told)),
            tuple(one for one in self.moistures if within(one.told)),
            self.sample if self.sample and within(self.sample.told) else None,
            tuple(one for one in self.prongs if within(one.told)),
        )


@dataclass(frozen=True)
class OnStack:
    """A piece that lies on a stack. layer: from the bottom, None is not told; first_at: the moment it was laid on its first
    stack; to_weigh: every week; kilned: it has been through the kiln."""

    piece: PieceStands
    layer: int | None
    first_at: str
    to_weigh: bool
    kilned: bool


@dataclass(frozen=True)
class StackStory:
    """A stack as it stands. since: a day; shelter, wanted_mc: empty, None where nobody told; load: the load it is in,
    or empty; chamber: what was read in the one it stands in; wide_m: as told, None: by its layers."""

    id: str
    called: str
    spot: str
    spot_called: str
    built_at: str
    since: str
    shelter: str
    wanted_mc: float | None
    sticker_m: float | None
    apart_m: float | None
    load: str
    lying: tuple[OnStack, ...]
    chamber: ChamberRead | None
    wide_m: float | None


def stack_story(book: Book, stack: str) -> StackStory:
    """One stack with what lies on it, from the bottom; where no layer was told, last. Raises NotInBook."""
    found = _stories(book, _STACKS.where(models.stack.c.id == stack))
    if not found:
        raise NotInBook("There is no such stack in the book.")
    return found[0]


def drying_stacks(book: Book) -> tuple[StackStory, ...]:
    """Every stack that has something on it and is in no kiln, oldest first."""
    return tuple(one for one in _stories(book, _STACKS.order_by(models.stack.c.seq)) if one.lying and not one.load)


@dataclass(frozen=True)
class WeighedStack:
    """A stack of which a piece was weighed. seq: of the last event about it, its pieces or their logs."""

    id: str
    called: str
    seq: int


def stacks_weighed(book: Book, since: str) -> tuple[WeighedStack, ...]:
    """Stacks in no kiln of which a piece was weighed on or after a day (2026-05-04), oldest first."""
    on, p, w, t = models.stack_piece, models.piece, models.weight, models.touched
    weighed = on.join(w, w.c.about == literal("piece:").concat(on.c.piece)).join(_E, _E.c.seq == w.c.seq)
    recent = select(on.c.stack).select_from(weighed).where(_E.c.happened_at >= since, w.c.taken_back_seq.is_(None))
    asked = select(_S.c.id, _S.c.called).outerjoin(_IN, _IN.c.stack == _S.c.id).where(_S.c.id.in_(recent), _IN.c.load.is_(None))
    logs = select(on.c.stack, p.c.log).join(p, p.c.id == on.c.piece).where(p.c.log.is_not(None)).distinct().subquery()
    streams = (
        select(_S.c.id, literal("stack:").concat(_S.c.id).label("stream")),
        select(on.c.stack, literal("piece:").concat(on.c.piece)),
        select(logs.c.stack, literal("log:").concat(logs.c.log)),
    )
    with reading(book.engine) as at:
        rows = at.execute(asked.order_by(_S.c.seq)).all()
        each = union_all(*streams).subquery()
        newest = select(t.c.seq).where(t.c.stream == each.c.stream).order_by(t.c.number.desc()).limit(1).scalar_subquery()
        last = select(each.c.id, func.max(newest)).where(each.c.id.in_([row.id for row in rows])).group_by(each.c.id)
        seqs = {ident: seq for ident, seq in at.execute(last)} if rows else {}
    return tuple(WeighedStack(row.id, row.called, seqs[row.id]) for row in rows)


def to_weigh(book: Book) -> tuple[tuple[str, str], ...]:
    """Pieces that are weighed every week and are in no kiln, each with the moment of its last weight (empty: none)."""
    on, w = models.stack_piece, models.weight
    last = select(w.c.about, func.max(w.c.seq).label("seq")).where(w.c.taken_back_seq.is_(None)).group_by(w.c.about).subquery()
    asked = select(on.c.piece, func.coalesce(_E.c.happened_at, "")).join(models.piece, models.piece.c.id == on.c.piece)
    asked = asked.outerjoin(last, last.c.about == literal("piece:").concat(on.c.piece)).outerjoin(_E, _E.c.seq == last.c.seq)
    asked = asked.outerjoin(_IN, _IN.c.stack == on.c.stack).where(_IN.c.load.is_(None), on.c.to_weigh == 1)
    with reading(book.engine) as at:
        return tuple((row[0], row[1]) for row in at.execute(asked.where(models.piece.c.taken_back_seq.is_(None))))


_S, _E, _SPOT = models.stack, truth.event, models.spot
_IN = (
    select(models.load_stack.c.stack, func.max(models.load.c.id).label("load"))
    .join(models.load, models.load.c.id == models.load_stack.c.load)
    .where(models.load.c.out_seq.is_(None))
    .group_by(models.load_stack.c.stack)
    .subquery()
)
_STACKS = (
    select(_S, _E.c.happened_at, _SPOT.c.called.label("spot_called"), _IN.c.load)
    .join(_E, _E.c.seq == _S.c.seq)
    .outerjoin(_SPOT, _SPOT.c.id == _S.c.spot)
    .outerjoin(_IN, _IN.c.stack == _S.c.id)
)


def _stories(book: Book, asked: Select[Any]) -> tuple[StackStory, ...]:
    with reading(book.engine) as at:
        rows = at.execute(asked).all()
        lying = _lying(at, [row.id for row in rows])
    return tuple(
        StackStory(
            row.id, row.called, row.spot or "", row.spot_called or "", row.happened_at, row.since, row.shelter, row.wanted_mc,
            row.sticker_m, row.apart_m, row.load or "", tuple(lying.get(row.id, ())), _chamber(row.chamber), row.wide_m,
        )
        for row in rows
    )  # fmt: skip


def _chamber(told: str) -> ChamberRead | None:
    return ChamberRead(**json.loads(told)) if told else None


def _lying(at: Connection, stacks: list[str]) -> dict[str, list[OnStack]]:
    """What lies on stacks; four queries, however many."""
    on, p = models.stack_piece, models.piece
    order = (on.c.stack, on.c.layer.is_(None), on.c.layer, on.c.seq, on.c.place)
    some = on.c.stack.in_(stacks)
    pieces = {one.id: one for one in pieces_of(at, PIECES.join(on, on.c.piece == p.c.id).where(some))}
    first, kilned = _first_on_stickers(at, some), _kilned(at, some)
    found: dict[str, list[OnStack]] = {}
    for row in at.execute(select(on).where(some).order_by(*order)):
        if row.piece in pieces:
            one = OnStack(pieces[row.piece], row.layer, first[row.piece], bool(row.to_weigh), row.piece in kilned)
            found.setdefault(row.stack, []).append(one)
    return found


def _first_on_stickers(at: Connection, some: ColumnElement[bool]) -> dict[str, str]:
    """When pieces were laid on a stack for the first time, whichever it was."""
    on, t = models.stack_piece, models.touched
    laid = _E.c.kind.in_(("stack-built", "put-on-stack"))
    asked = select(on.c.piece, func.min(_E.c.seq).label("seq")).join(t, t.c.stream == literal("piece:").concat(on.c.piece))
    first = asked.join(_E, _E.c.seq == t.c.seq).where(some, laid).group_by(on.c.piece).subquery()
    told = at.execute(select(first.c.piece, _E.c.happened_at).join(_E, _E.c.seq == first.c.seq))
    return {row.piece: row.happened_at for row in told}


def _kilned(at: Connection, some: ColumnElement[bool]) -> set[str]:
    on, inside, load = models.stack_piece, models.load_piece, models.load
    asked = select(on.c.piece).join(inside, inside.c.piece == on.c.piece).join(load, load.c.id == inside.c.load)
    return set(at.execute(asked.where(some, or_(load.c.out_seq.is_not(None), inside.c.back_seq.is_not(None)))).scalars())


def wanted_on_stacks(book: Book, pieces: Iterable[str]) -> dict[str, float]:
    """To which moisture [-] the stacks are to come on which pieces lie, by the pieces' ids, as far as it was told."""
    on, s = models.stack_piece, models.stack
    asked = select(on.c.piece, s.c.wanted_mc).join(s, s.c.id == on.c.stack)
    with reading(book.engine) as at:
        rows = at.execute(asked.where(on.c.piece.in_(list(pieces)), s.c.wanted_mc.is_not(None))).all()
    return {row.piece: row.wanted_mc for row in rows}


def read_of(book: Book, pieces: Iterable[str]) -> dict[str, ReadOf]:
    """What was read of pieces, by their ids; four queries, however many. What was never read is left out."""
    idents = list(pieces)
    about = [f"piece:{ident}" for ident in idents]
    with reading(book.engine) as at:
        weights = _by_piece(at, models.weight, about, _weight)
        moistures = _by_piece(at, models.moisture, about, _moisture)
        prongs = _by_piece(at, models.prongs, about, _prongs)
        asked = select(models.sample, _E.c.command, _E.c.happened_at).join(_E, _E.c.seq == models.sample.c.seq)
        samples = {row.piece: _sample(row) for row in at.execute(asked.where(models.sample.c.piece.in_(idents)))}
    return {
        ident: ReadOf(
            tuple(weights.get(ident, ())), tuple(moistures.get(ident, ())), samples.get(ident), tuple(prongs.get(ident, ()))
        )
        for ident in idents
        if ident in {*weights, *moistures, *samples, *prongs}
    }


def _by_piece(at: Connection, table: Table, about: list[str], made: Callable[[Any], Value]) -> dict[str, list[Value]]:
    """Rows of a table that were not taken back, as values, by the piece they are about."""
    asked = select(table, _E.c.command, _E.c.happened_at).join(_E, _E.c.seq == table.c.seq)
    found: dict[str, list[Value]] = {}
    for row in at.execute(asked.where(table.c.about.in_(about), table.c.taken_back_seq.is_(None)).order_by(table.c.seq)):
        found.setdefault(row.about.partition(":")[2], []).append(made(row))
    return found


def _told(row: Any) -> Told:
    return Told(row.seq, row.happened_at, row.command)


def _weight(row: Any) -> WeightTold:
    return WeightTold(_told(row), row.mass_kg, row.read_with, bool(row.ends), row.mark_kg)


def _moisture(row: Any) -> MoistureTold:
    return MoistureTold(_told(row), row.mc, row.read_by, row.depth, row.wood_c, row.set_to, bool(row.corrected))


def _prongs(row: Any) -> ProngsTold:
    return ProngsTold(_told(row), row.seen, row.hours)


def _sample(row: Any) -> SampleTold:
    return SampleTold(_told(row), row.mass_kg, tuple(json.loads(row.wet_kg)), tuple(json.loads(row.dry_kg)), row.mark_kg)
