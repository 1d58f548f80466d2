"""Stock counts as they stand: which there were, which tags were seen, since when a piece stands where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from sqlalchemy import Select, func, select, union

from waney.yard.book import counting_models, models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.here import day_here

PLACED = (
    *("came-off", "piece-counted", "moved", "stack-built", "put-on-stack", "taken-off-stack", "into-kiln", "out-of-kiln"),
    *("load-handed-over", "load-taken-back", "returned", "lease-closed"),
)
"""acts after which a piece may stand elsewhere than before"""
AT_HAND = (*PLACED, "tag-seen", "weighed", "moisture-read", "tagged", "piece-measured", "prongs-seen", "sample-cut")
"""acts for which somebody had the piece before them"""


@dataclass(frozen=True)
class CountStands:
    """A count of the stock. spot: it and all within it, empty for the whole yard; ended_seq: None while it goes on."""

    id: str
    spot: str
    spot_called: str
    begun_at: str
    ended_seq: int | None
    tags: int


@dataclass(frozen=True)
class Seen:
    """A tag that was seen at a count. piece: empty for one that stood on nothing in the book."""

    name: str
    piece: str
    command: str
    stream: str
    seq: int


@dataclass(frozen=True)
class LastTold:
    """When something was told of a piece last: the number of that event, and its day here by the book's clock."""

    seq: int
    on: str


def counts(book: Book) -> tuple[CountStands, ...]:
    """Every count, the newest first."""
    c, s, e, seen_ = counting_models.stock_count, models.spot, truth.event, counting_models.seen
    tags = select(func.count()).where(seen_.c.count == c.c.id, seen_.c.taken_back_seq.is_(None)).correlate(c).scalar_subquery()
    told = (c.c.id, func.coalesce(c.c.spot, ""), func.coalesce(s.c.called, ""), e.c.recorded_at, c.c.ended_seq, tags)
    asked = select(*told).join(e, e.c.seq == c.c.seq).outerjoin(s, s.c.id == c.c.spot).order_by(c.c.seq.desc())
    with reading(book.engine) as at:
        return tuple(CountStands(*row) for row in at.execute(asked))


def seen(book: Book, count: str) -> tuple[Seen, ...]:
    """The tags that were seen at a count and not taken back, in order."""
    s, e = counting_models.seen, truth.event
    told = (s.c.name, func.coalesce(s.c.piece, ""), e.c.command, e.c.stream, s.c.seq)
    asked = select(*told).join(e, e.c.seq == s.c.seq).where(s.c.count == count, s.c.taken_back_seq.is_(None)).order_by(s.c.seq)
    with reading(book.engine) as at:
        return tuple(Seen(*row) for row in at.execute(asked))


class Standing(NamedTuple):
    """A piece as a count sees it: its name in two parts, where it stands, how it ended (empty: it is there) and with which event
    (0: none)."""

    id: str
    code: str
    number: int
    spot: str
    spot_called: str
    ended: str
    ended_seq: int


def standing(book: Book, pieces: Iterable[str] | None = None) -> tuple[Standing, ...]:
    """Every piece that was not taken back, or some, by name; one query."""
    p = models.piece
    return _standing(book, _STANDING if pieces is None else _STANDING.where(p.c.id.in_(list(pieces))))


def count_pieces(book: Book) -> int:
    """How many pieces were not taken back, ended ones too."""
    with reading(book.engine) as at:
        return int(at.execute(select(func.count()).where(models.piece.c.taken_back_seq.is_(None))).scalar_one())


@dataclass(frozen=True)
class NotSeen:
    """Which pieces a count misses. spots: where it looks, None for everywhere; but: pieces that need not be there; until: what
    was put somewhere after this event was not looked for, None: all is."""

    count: str
    spots: Iterable[str] | None
    but: Iterable[str]
    until: int | None


def not_seen(book: Book, asked: NotSeen, begin: int, most: int) -> tuple[int, tuple[Standing, ...]]:
    """How many pieces stand there without their tag having been seen, and some of them, by name."""
    p, tag = models.piece, counting_models.seen
    seen_ = select(tag.c.piece).where(tag.c.count == asked.count, tag.c.taken_back_seq.is_(None), tag.c.piece.is_not(None))
    later = [] if asked.until is None else [_placed_after(asked.until)]
    others = union(seen_, select(p.c.id).where(p.c.id.in_(list(asked.but))), *later)
    there = [p.c.taken_back_seq.is_(None), p.c.ended == ""]
    there += [] if asked.spots is None else [p.c.spot.in_(list(asked.spots))]
    all_there = select(func.count()).select_from(p).where(*there)
    with reading(
        book.engine
    ) as at:  # those few are counted off: asking each piece whether it is one of them takes ten times as long
        count = at.execute(all_there).scalar_one() - at.execute(all_there.where(p.c.id.in_(others))).scalar_one()
    some = _STANDING.where(*there, p.c.id.not_in(others)).offset(begin).limit(most)
    return count, _standing(book, some) if most else ()


def _standing(book: Book, asked: Select[Any]) -> tuple[Standing, ...]:
    with reading(book.engine) as at:
        return tuple(map(Standing._make, at.execute(asked).all()))


_STANDING = (
    select(
        models.piece.c.id,
        models.piece.c.code,
        models.piece.c.number,
        func.coalesce(models.piece.c.spot, ""),
        func.coalesce(models.spot.c.called, ""),
        models.piece.c.ended,
        func.coalesce(models.piece.c.ended_seq, 0),
    )
    .outerjoin(models.spot, models.spot.c.id == models.piece.c.spot)
    .where(models.piece.c.taken_back_seq.is_(None))
    .order_by(models.piece.c.code, models.piece.c.number)
)


def last_told(book: Book, kinds: Iterable[str], pieces: Iterable[str]) -> dict[str, LastTold]:
    """When an act of some kinds was last told of each of some pieces; by piece."""
    t, e = models.touched, truth.event
    last = select(_PIECE.label("piece"), func.max(e.c.seq).label("seq")).join(e, e.c.seq == t.c.seq)
    last = last.where(t.c.stream.in_([f"piece:{piece}" for piece in pieces]), e.c.kind.in_(list(kinds))).group_by(t.c.stream)
    with reading(book.engine) as at:
        return {row.piece: LastTold(row.seq, day_here(row.recorded_at).isoformat()) for row in at.execute(_with_day(last))}


def placed_since(book: Book, seq: int) -> frozenset[str]:
    """Pieces that were put somewhere after an event."""
    with reading(book.engine) as at:
        return frozenset(at.execute(_placed_after(seq)).scalars())


def _placed_after(seq: int) -> Select[Any]:
    t, e = models.touched, truth.event
    asked = select(_PIECE).join(e, e.c.seq == t.c.seq)
    return asked.where(e.c.seq > seq, e.c.kind.in_(PLACED), t.c.stream.startswith("piece:"))


_PIECE = func.substr(models.touched.c.stream, len("piece:") + 1)


def _with_day(last: Select[Any]) -> Select[Any]:
    found, e = last.subquery(), truth.event
    return select(found.c.piece, found.c.seq, e.c.recorded_at).join(e, e.c.seq == found.c.seq)


def ended_with(book: Book, pieces: Iterable[str]) -> dict[str, str]:
    """With which command pieces that are no more were told to be so; by piece. What was cut up is not among them: its parts are
    there."""
    p, e, part = models.piece, truth.event, models.piece.alias("part")
    cut_up = select(part.c.parent).where(part.c.parent == p.c.id, part.c.taken_back_seq.is_(None)).exists()
    asked = select(p.c.id, e.c.command).join(e, e.c.seq == p.c.ended_seq)
    asked = asked.where(p.c.id.in_(list(pieces)), p.c.ended != "", p.c.ended != "sold", ~cut_up)
    with reading(book.engine) as at:
        return {ident: command for ident, command in at.execute(asked)}
