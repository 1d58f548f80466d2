"""Stock counts as they stand: which there were, which tags were seen, since when a piece stands where it stands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Select, func, literal, select

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


def last_told(book: Book, kinds: Iterable[str]) -> dict[str, LastTold]:
    """When an act of some kinds was last told of each piece; by piece."""
    t, e = models.touched, truth.event
    asked = select(func.substr(t.c.stream, literal(len("piece:") + 1)).label("piece"), func.max(e.c.seq).label("seq"))
    last = (
        asked.join(e, e.c.seq == t.c.seq).where(t.c.stream.startswith("piece:"), e.c.kind.in_(list(kinds))).group_by(t.c.stream)
    )
    with reading(book.engine) as at:
        return {row.piece: LastTold(row.seq, day_here(row.recorded_at).isoformat()) for row in at.execute(_with_day(last))}


def _with_day(last: Select[Any]) -> Select[Any]:
    found, e = last.subquery(), truth.event
    return select(found.c.piece, found.c.seq, e.c.recorded_at).join(e, e.c.seq == found.c.seq)


@dataclass(frozen=True)
class Ending:
    """With which event a piece was told to be no more: its number, its command, its day here by the book's clock."""

    seq: int
    command: str
    on: str


def endings(book: Book) -> dict[str, Ending]:
    """How pieces that are no more were told to be so; by piece."""
    p, e = models.piece, truth.event
    told = (p.c.id, p.c.ended_seq, e.c.command, e.c.recorded_at)
    asked = select(*told).join(e, e.c.seq == p.c.ended_seq).where(p.c.ended != "")
    with reading(book.engine) as at:
        return {row[0]: Ending(row[1], row[2], day_here(row[3]).isoformat()) for row in at.execute(asked)}
