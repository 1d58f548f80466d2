"""Finding pieces among many: words, sizes and places, a page at a time."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from sqlalchemy import ColumnElement, Connection, Select, and_, func, literal, or_, select

from waney.wood.names import plain
from waney.wood.species import words_for
from waney.yard.book import models
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.looking import PIECES, PieceStands, pieces_of
from waney.yard.names import LETTERS, LIKE
from waney.yard.problems import BookProblem

MOST_WORDS = 8
"""what is typed beyond these narrows nothing"""
MOST_ROWS = 500
BESIDE_LETTERS = str.maketrans("", "", "-'.")
"""what may stand in a name of a wood"""
LEAST_LETTERS = 3
"""shorter words are letters of names on the wood, not the beginning of a name of it"""


class State(StrEnum):
    """Which pieces are looked through."""

    IN_YARD = "in the yard"
    ENDED = "no more"
    ALL = "all"


class Order(StrEnum):
    """What comes first."""

    NEWEST = "newest first"
    NAME = "by name"


@dataclass(frozen=True)
class Wanted:
    """What is looked for; what is empty or None narrows nothing.

    words: each must stand in the name, the species, the spot or a note of a piece, or begin a word of another name that the
    tables have of its wood, the botanical one too. thinnest_m, thickest_m, length_m, width_m: at least, at most, at least, at
    least (the narrowest place counts). spot: that one and all within it. together: a set.
    """

    words: str = ""
    species: str = ""
    thinnest_m: float | None = None
    thickest_m: float | None = None
    length_m: float | None = None
    width_m: float | None = None
    state: State = State.IN_YARD
    spot: str = ""
    log: str = ""
    together: str = ""
    order: Order = Order.NEWEST


@dataclass(frozen=True)
class Page:
    """Some rows, how many there are in all, and what to ask for the next page with (empty: this was the last)."""

    rows: tuple[PieceStands, ...]
    count: int
    after: str


def find_pieces(book: Book, wanted: Wanted, limit: int = 50, after: str = "") -> Page:
    """A page of pieces; after: what the page before said. Raises BookProblem for what no page said."""
    limit = max(1, min(limit, MOST_ROWS))
    p = models.piece
    with reading(book.engine) as at:
        asked = and_(p.c.taken_back_seq.is_(None), *_narrowed(at, wanted))
        count = int(at.execute(select(func.count()).select_from(p).where(asked)).scalar_one())
        rows = pieces_of(at, _ordered(PIECES.where(asked), wanted.order, after).limit(limit + 1))
    more = len(rows) > limit
    return Page(rows[:limit], count, _after(rows[limit - 1], wanted.order) if more else "")


def _ordered(asked: Select[Any], order: Order, after: str) -> Select[Any]:
    p = models.piece
    if order is Order.NEWEST:
        beyond = asked.where(p.c.seq < _whole(after)) if after else asked
        return beyond.order_by(p.c.seq.desc())
    code, _, number = after.partition("-")
    past = or_(p.c.code > code, and_(p.c.code == code, p.c.number > _whole(number))) if after else None
    return (asked if past is None else asked.where(past)).order_by(p.c.code, p.c.number)


def _whole(text: str) -> int:
    if not text.isdecimal() or len(text) > 15:
        raise BookProblem(f'"{text[:30]}" is no place in the list; begin at its first page.')
    return int(text)


def _after(last: PieceStands, order: Order) -> str:
    return str(last.seq) if order is Order.NEWEST else last.name.rpartition("-")[0]


def _narrowed(at: Connection, wanted: Wanted) -> list[ColumnElement[bool]]:
    p, w = models.piece, wanted
    bounds = (
        (w.thinnest_m, p.c.thickness_m, ">="), (w.thickest_m, p.c.thickness_m, "<="),
        (w.length_m, p.c.length_m, ">="), (w.width_m, p.c.least_width_m, ">="),
    )  # fmt: skip
    sizes = [column.op(how, is_comparison=True)(bound) for bound, column, how in bounds if bound is not None]
    links = [column == value for value, column in ((w.species, p.c.species), (w.log, p.c.log)) if value]
    mates = select(models.together_piece.c.piece).where(models.together_piece.c.together == w.together)
    places = [p.c.id.in_(mates)] if w.together else []
    spots = [p.c.spot.in_(within(at, w.spot))] if w.spot else []
    words = [_has(at, word) for word in dict.fromkeys(w.words.split()[:MOST_WORDS])]
    return [*_state(w.state), *links, *sizes, *places, *spots, *words]


def _state(state: State) -> list[ColumnElement[bool]]:
    ended = models.piece.c.ended
    return {State.IN_YARD: [ended == ""], State.ENDED: [ended != ""], State.ALL: []}[state]


def spots_within(book: Book, spot: str) -> frozenset[str]:
    """A spot and all that lie within it."""
    with reading(book.engine) as at:
        return frozenset(within(at, spot))


def within(at: Connection, spot: str) -> list[str]:
    """A spot and all that lie within it, however deep."""
    inner: dict[str, list[str]] = {}
    for ident, outer in at.execute(select(models.spot.c.id, models.spot.c.within)):
        inner.setdefault(outer or "", []).append(ident)
    found = [spot]
    for each in found:
        found += [ident for ident in inner.get(each, ()) if ident not in found]
    return found


def _has(at: Connection, word: str) -> ColumnElement[bool]:
    """A word stands in a name, a species, a spot or a note. Species and spots are few: they are looked through here."""
    folded, p = word.casefold(), models.piece
    ways: list[ColumnElement[bool]] = [*_names(word), p.c.id.in_(_noted(folded))]
    species = at.execute(select(p.c.species).distinct()).scalars()
    some = [each for each in species if folded in each.casefold() or _goes_by(each, word)]
    spots = [row.id for row in at.execute(select(models.spot.c.id, models.spot.c.called)) if folded in row.called.casefold()]
    return or_(*ways, *([p.c.species.in_(some)] if some else []), *([p.c.spot.in_(spots)] if spots else []))


def _goes_by(species: str, word: str) -> bool:
    """Whether a word, or each part of one with a hyphen, begins a word of any name of the wood."""
    parts = plain(word).split()
    told = word.translate(BESIDE_LETTERS).isalpha() and all(len(part) >= LEAST_LETTERS for part in parts)
    return bool(parts) and told and all(any(each.startswith(part) for each in words_for(species)) for part in parts)


def _names(word: str) -> list[ColumnElement[bool]]:
    """Names that begin with what was written: a code, a code and a number, a whole name; or a number alone."""
    written, p = word.replace("-", "").upper(), models.piece
    if written.isascii() and written.isdecimal():
        return [p.c.number == int(written)] if len(written) < 10 else []
    digits = any(each in "0123456789" for each in written)
    if not written or not (digits or all(each in LETTERS for each in written)):
        return []
    return [p.c.label.startswith(written.translate(LIKE), autoescape=True)]


def _noted(folded: str) -> Select[Any]:
    """Pieces of which a note says it."""
    n = models.note
    told = n.c.folded.contains(folded, autoescape=True)
    pieces = and_(n.c.about.startswith("piece:"), n.c.taken_back_seq.is_(None), told)
    return select(func.substr(n.c.about, literal(len("piece:") + 1))).where(pieces)
