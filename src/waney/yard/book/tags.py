"""Tags: names that are free to be stapled on, names that stand on something, and what was stapled on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, String, cast, func, select, union

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.known_tags import KnownTags, TagRun
from waney.yard.names import Name, maybe_name
from waney.yard.on_the_wood import on_the_wood


@dataclass(frozen=True)
class Stapled:
    """A tag that a piece got and has still, with the command that told of it; crayon: what it was called before any tag."""

    command: str
    piece: str
    name: str
    crayon: str
    seq: int


def free_names(book: Book, code: str, device: str = "") -> tuple[Name, ...]:
    """The names of a code that were taken in blocks, by one device or any, and never stood on anything; in order."""
    b = models.block
    taken = select(b.c.first, b.c.last).where(b.c.code == code).order_by(b.c.first)
    with reading(book.engine) as at:
        gone = {row.number for row in at.execute(union(_on_pieces(code), _before(code)))}
        blocks = at.execute(taken.where(b.c.device == device) if device else taken).all()
    return tuple(Name(code, n) for first, last in blocks for n in range(first, last + 1) if n not in gone)


def known_tags(book: Book) -> KnownTags:
    """Every name of the book, as runs: those taken in blocks that never stood on anything, and those of pieces. A yard of
    20,000 pieces is some hundreds of runs."""
    b = models.block
    with reading(book.engine) as at:
        before, spans = _numbers(at, _before()), at.execute(_SPANS).all()
        looked_into = [row.code for row in spans if row.last - row.first + 1 != row.names or row.code in before]
        on_pieces = _numbers(at, _on_pieces(*looked_into)) if looked_into else {}
        blocks = at.execute(select(b.c.code, b.c.first, b.c.last).order_by(b.c.code, b.c.first)).all()
    taken = {
        row.code: _runs(row.code, on_pieces[row.code]) if row.code in on_pieces else [TagRun(row.code, row.first, row.last)]
        for row in spans
    }
    gone = taken | {code: _runs(code, {*on_pieces.get(code, ()), *numbers}) for code, numbers in before.items()}
    free = (left for row in blocks for left in _left_of(TagRun(row.code, row.first, row.last), gone.get(row.code, ())))
    return KnownTags(tuple(free), tuple(run for runs in taken.values() for run in runs))


def stapled(book: Book, day: str, log: str = "") -> tuple[Stapled, ...]:
    """Tags that pieces of a day got and are called by still, of one log or of all, in the order of the book. Of a piece that got
    its name otherwise since then there are none."""
    s, p, e = models.stapled, models.piece, truth.event
    told = (s, e.c.command, p.c.code.label("code_now"), p.c.number.label("number_now"))
    asked = select(*told).join(p, p.c.id == s.c.piece).join(e, e.c.seq == s.c.seq)
    asked = asked.where(p.c.day == day, p.c.taken_back_seq.is_(None)).order_by(s.c.seq)
    with reading(book.engine) as at:
        rows = at.execute(asked.where(p.c.log == log) if log else asked).all()
    still = [row for row in rows if row.taken_back_seq is None]
    last = {row.piece: row for row in still}
    named_so = {row.piece for row in last.values() if (row.code, row.number) == (row.code_now, row.number_now)}
    told_of: dict[str, list[tuple[Name, Name | None]]] = {}
    for row in rows:
        told_of.setdefault(row.piece, []).append((Name(row.code, row.number), maybe_name(row.code_before, row.number_before)))
    return tuple(
        Stapled(row.command, row.piece, str(Name(row.code, row.number)), str(on_the_wood(told_of[row.piece]) or ""), row.seq)
        for row in still
        if row.piece in named_so
    )


_SPANS = (
    select(
        models.piece.c.code,
        func.min(models.piece.c.number).label("first"),
        func.max(models.piece.c.number).label("last"),
        func.count().label("names"),
    )
    .where(models.piece.c.code.is_not(None))
    .group_by(models.piece.c.code)
    .order_by(models.piece.c.code)
)
"""From which number to which pieces are called by a code, and how many. Most codes have no gap, and no name of theirs is read."""


def _on_pieces(*codes: str) -> Select[Any]:
    p = models.piece
    return select(p.c.code, p.c.number).where(p.c.code.in_(codes))


def _before(code: str = "") -> Select[Any]:
    """Names of pieces from before a tag: the crayon is on the wood still."""
    s = models.stapled
    asked = select(s.c.code_before.label("code"), s.c.number_before.label("number")).where(s.c.taken_back_seq.is_(None))
    return asked.where(s.c.code_before == code) if code else asked.where(s.c.code_before.is_not(None))


def _numbers(at: Connection, names: Select[Any]) -> dict[str, list[int]]:
    """The numbers of names by their codes. (One row for each code: a row for each of thousands of names takes longer.)"""
    named = names.subquery()
    together = func.aggregate_strings(cast(named.c.number, String), ",")
    rows = at.execute(select(named.c.code, together).group_by(named.c.code))
    return {code: list(map(int, numbers.split(","))) for code, numbers in rows}


def _runs(code: str, numbers: Iterable[int]) -> list[TagRun]:
    """Numbers of a code as runs, in order."""
    told = sorted(numbers)
    ends = [at for at in range(1, len(told)) if told[at] != told[at - 1] + 1]
    return [TagRun(code, told[begin], told[end - 1]) for begin, end in zip([0, *ends], [*ends, len(told)], strict=True)]


def _left_of(block: TagRun, gone: Iterable[TagRun]) -> Iterator[TagRun]:
    """What is left of a block beside runs of its code, which are in order."""
    first = block.first
    for run in gone:
        if run.last < first or run.first > block.last:
            continue
        if run.first > first:
            yield TagRun(block.code, first, run.first - 1)
        first = run.last + 1
    if first <= block.last:
        yield TagRun(block.code, first, block.last)
