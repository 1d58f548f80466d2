"""Tags: names that are free to be stapled on, names that stand on something, and what was stapled on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sqlalchemy import Connection, select

from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.known_tags import KnownTags, TagRun
from waney.yard.names import Name

Numbers = dict[str, set[int]]
"""numbers by their code"""


@dataclass(frozen=True)
class Stapled:
    """A tag that a piece got and has still, with the command that told of it; before: what the piece was called until then."""

    command: str
    piece: str
    name: str
    before: str
    seq: int


def free_names(book: Book, code: str, device: str = "") -> tuple[Name, ...]:
    """The names of a code that were taken in blocks, by one device or any, and never stood on anything; in order."""
    b = models.block
    taken = select(b.c.first, b.c.last).where(b.c.code == code).order_by(b.c.first)
    with reading(book.engine) as at:
        used, before = _on_pieces(at, code), _before(at, code)
        blocks = at.execute(taken.where(b.c.device == device) if device else taken).all()
    gone = used[code] | before[code]
    return tuple(Name(code, n) for first, last in blocks for n in range(first, last + 1) if n not in gone)


def known_tags(book: Book) -> KnownTags:
    """Every name of the book, as runs: those taken in blocks that never stood on anything, and those of pieces. A yard of
    20,000 pieces is some hundreds of runs."""
    b = models.block
    with reading(book.engine) as at:
        used, before = _on_pieces(at), _before(at)
        blocks = at.execute(select(b.c.code, b.c.first, b.c.last).order_by(b.c.code, b.c.first)).all()
    free = (
        TagRun(code, run.first, run.last)
        for code, first, last in blocks
        for run in _runs(code, (n for n in range(first, last + 1) if n not in used[code] and n not in before[code]))
    )
    return KnownTags(tuple(free), tuple(run for code in sorted(used) for run in _runs(code, sorted(used[code]))))


def stapled(book: Book, day: str, log: str = "") -> tuple[Stapled, ...]:
    """Tags that pieces of a day got and are called by still, of one log or of all, in the order of the book. Of a piece that got
    its name otherwise since then there are none."""
    s, p, e = models.stapled, models.piece, truth.event
    told = (s, e.c.command, p.c.code.label("code_now"), p.c.number.label("number_now"))
    asked = select(*told).join(p, p.c.id == s.c.piece).join(e, e.c.seq == s.c.seq)
    asked = asked.where(p.c.day == day, s.c.taken_back_seq.is_(None), p.c.taken_back_seq.is_(None)).order_by(s.c.seq)
    with reading(book.engine) as at:
        rows = at.execute(asked.where(p.c.log == log) if log else asked).all()
    last = {row.piece: row for row in rows}
    named_so = {row.piece for row in last.values() if (row.code, row.number) == (row.code_now, row.number_now)}
    return tuple(
        Stapled(row.command, row.piece, str(Name(row.code, row.number)), _name(row.code_before, row.number_before), row.seq)
        for row in rows
        if row.piece in named_so
    )


def _name(code: str | None, number: int | None) -> str:
    return "" if code is None or number is None else str(Name(code, number))


def _on_pieces(at: Connection, code: str = "") -> Numbers:
    p = models.piece
    asked = select(p.c.code, p.c.number)
    return _by_code(at.execute(asked.where(p.c.code == code) if code else asked.where(p.c.code.is_not(None))).all())


def _before(at: Connection, code: str = "") -> Numbers:
    """Names of pieces from before a tag: the crayon is on the wood still."""
    s = models.stapled
    asked = select(s.c.code_before, s.c.number_before).where(s.c.taken_back_seq.is_(None))
    return _by_code(at.execute(asked.where(s.c.code_before == code) if code else asked.where(s.c.code_before.is_not(None))).all())


def _by_code(rows: Iterable[tuple[str, int]]) -> Numbers:
    found: Numbers = defaultdict(set)
    for code, number in rows:
        found[code].add(number)
    return found


def _runs(code: str, numbers: Iterable[int]) -> Iterator[TagRun]:
    """Numbers in order, as runs."""
    first = last = None
    for n in numbers:
        if first is None or last is None or n != last + 1:
            if first is not None and last is not None:
                yield TagRun(code, first, last)
            first = n
        last = n
    if first is not None and last is not None:
        yield TagRun(code, first, last)
