"""Who has our wood: pieces that stand at someone else's kiln, how they were handed over, what was told when they came back."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, Select, func, or_, select

from waney.yard.acts.kilns import Treated
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import LoadStands, loads
from waney.yard.book.engine import reading
from waney.yard.book.looking import PIECES, PieceStands, pieces_of
from waney.yard.book.stack_seen import ReadOf, read_of
from waney.yard.here import day_here
from waney.yard.problems import NotInBook

_LOAD, _IN, _E = models.load, models.load_piece, truth.event


@dataclass(frozen=True)
class AtKiln:
    """A piece stands at someone else's kiln: its load, what the kiln is called, whose it is, and since when."""

    piece: str
    load: str
    kiln: str
    whose: str
    since: str

    @property
    def sentence(self) -> str:
        """Why it cannot be sold as dry."""
        since = day_here(self.since)
        return f"It stands at the kiln ({self.whose}) since {since} and was not taken back: it is not known to be dry."


@dataclass(frozen=True)
class PieceInLoad:
    """A piece as it was handed over and, where it is back, as it came. seq: of its coming back, None: it is still there."""

    piece: PieceStands
    owner: str
    cracks: str
    stain: str
    metal: str
    shell_mc: float | None
    core_mc: float | None
    hottest_c: float | None
    heat_treat: bool
    back_seq: int | None
    back_at: str
    damage: str


@dataclass(frozen=True)
class Back:
    """What was told when pieces of a load were taken back; None, empty: not told. record: of the core, minutes and °C."""

    seq: int
    happened_at: str
    days: float | None
    treated: Treated
    core_c: float | None
    core_min: float | None
    fee_cents: int | None
    currency: str
    words: str
    record: tuple[tuple[float, float], ...]


def at_kilns(book: Book) -> Mapping[str, AtKiln]:
    """Every piece that was handed over and not taken back, by its id."""
    with reading(book.engine) as at:
        return {row.piece: AtKiln(*row) for row in at.execute(_away())}


def at_kiln(book: Book, piece: str) -> AtKiln | None:
    """Where one piece stands, if it was handed over and not taken back: as long as it does it cannot be sold as dry."""
    with reading(book.engine) as at:
        row = at.execute(_away().where(_IN.c.piece == piece)).first()
    return None if row is None else AtKiln(*row)


def in_our_kiln(book: Book, piece: str) -> str:
    """What our own kiln is called, while a piece is in it; else empty."""
    asked = select(_LOAD.c.kiln).join(_IN, _IN.c.load == _LOAD.c.id).where(_IN.c.piece == piece, _IN.c.back_seq.is_(None))
    with reading(book.engine) as at:
        return at.execute(asked.where(_LOAD.c.whose == "", _LOAD.c.out_seq.is_(None))).scalar() or ""


def _away() -> Select[Any]:
    told = select(_IN.c.piece, _LOAD.c.id, _LOAD.c.kiln, _LOAD.c.whose, _E.c.happened_at)
    joined = told.join(_LOAD, _LOAD.c.id == _IN.c.load).join(_E, _E.c.seq == _LOAD.c.seq)
    return joined.where(_LOAD.c.whose != "", _IN.c.back_seq.is_(None))


def wanted_of_kilns(book: Book, pieces: Iterable[str]) -> set[str]:
    """Those of some pieces that were handed over to someone else's kiln with a moisture that was wanted of them."""
    wanted = or_(_IN.c.shell_mc.is_not(None), _IN.c.core_mc.is_not(None))
    asked = select(_IN.c.piece).join(_LOAD, _LOAD.c.id == _IN.c.load).where(_LOAD.c.whose != "", wanted)
    with reading(book.engine) as at:
        return set(at.execute(asked.where(_IN.c.piece.in_(list(pieces)))).scalars())


def read_since_kiln(book: Book, pieces: Iterable[str], before: int | None = None) -> dict[str, ReadOf]:
    """What was read of pieces since they came out of a kiln last, ours or someone else's, if they were in one: what was read
    before says nothing of a piece any more. By their ids, without those that were not read; five queries, however many.
    before: as the book stood before that event."""
    idents, home = list(pieces), func.coalesce(_IN.c.back_seq, _LOAD.c.out_seq)
    asked = select(_IN.c.piece, func.max(home)).join(_LOAD, _LOAD.c.id == _IN.c.load).group_by(_IN.c.piece)
    asked = asked.where(_IN.c.piece.in_(idents), home.is_not(None) if before is None else home < before)
    with reading(book.engine) as at:
        rows = at.execute(asked)
        out: dict[str, int] = {row[0]: row[1] for row in rows}
    cut = {ident: read.between(out.get(ident, 0), before) for ident, read in read_of(book, idents).items()}
    return {ident: read for ident, read in cut.items() if read != ReadOf()}


def pieces_in(book: Book, load: str, piece: str = "") -> tuple[PieceInLoad, ...]:
    """The pieces of a load by name, or one of them, with what is wanted and what came of it. Raises NotInBook."""
    with reading(book.engine) as at:
        if at.execute(select(_LOAD.c.id).where(_LOAD.c.id == load)).first() is None:
            raise NotInBook("There is no such load in the book.")
        order = (models.piece.c.code, models.piece.c.number)
        asked = PIECES.join(_IN, _IN.c.piece == models.piece.c.id).where(_IN.c.load == load).order_by(*order)
        asked = asked.where(_IN.c.piece == piece) if piece else asked
        told = _told(at, load)
        return tuple(PieceInLoad(piece, **told[piece.id]) for piece in pieces_of(at, asked))


_ASKED = ("owner", "cracks", "stain", "metal", "shell_mc", "core_mc", "hottest_c", "heat_treat", "back_seq", "damage")


def _told(at: Connection, load: str) -> dict[str, dict[str, Any]]:
    asked = select(_IN, _E.c.happened_at.label("back_at")).outerjoin(_E, _E.c.seq == _IN.c.back_seq).where(_IN.c.load == load)
    rows = at.execute(asked).mappings()
    return {
        row["piece"]: {name: row[name] for name in _ASKED}
        | {"heat_treat": bool(row["heat_treat"]), "back_at": row["back_at"] or ""}
        for row in rows
    }


def backs(book: Book, load: str) -> tuple[Back, ...]:
    """Each time pieces of a load were taken back, oldest first."""
    return _backs(book, _back().where(models.load_back.c.load == load))


def backs_of(book: Book, piece: str) -> tuple[Back, ...]:
    """Each time one piece came back, or left our own kiln early, oldest first."""
    return _backs(book, _back().join(_IN, _IN.c.back_seq == models.load_back.c.seq).where(_IN.c.piece == piece))


def _back() -> Select[Any]:
    b = models.load_back
    told = (b.c.days, b.c.treated, b.c.core_c, b.c.core_min, b.c.fee_cents, b.c.currency, b.c.words, b.c.record)
    return select(b.c.seq, _E.c.happened_at, *told).join(_E, _E.c.seq == b.c.seq).order_by(b.c.seq)


def _backs(book: Book, asked: Select[Any]) -> tuple[Back, ...]:
    with reading(book.engine) as at:
        return tuple(Back(**{**row, **_read(row)}) for row in at.execute(asked).mappings())


def _read(row: Any) -> dict[str, Any]:
    return {
        "treated": Treated(row["treated"]),
        "record": tuple((minutes, core_c) for minutes, core_c in json.loads(row["record"])),
    }


def last_return(book: Book, piece: str) -> tuple[str, PieceInLoad] | None:
    """The load from which a piece came back last, and how; None for one that never did, or that stands at a kiln now."""
    asked = select(_IN.c.load).join(_LOAD, _LOAD.c.id == _IN.c.load)
    with reading(book.engine) as at:
        found = at.execute(asked.where(_IN.c.piece == piece, _LOAD.c.whose != "").order_by(_LOAD.c.seq.desc()).limit(1)).scalar()
    if found is None:
        return None
    held = next(iter(pieces_in(book, found, piece)), None)
    return None if held is None or held.back_seq is None else (found, held)


def back_since(book: Book, since: str) -> tuple[LoadStands, ...]:
    """Loads of which something came back from someone else's kiln on or after a day (2026-05-04), newest first."""
    b = models.load_back
    asked = select(b.c.load).join(_E, _E.c.seq == b.c.seq).where(_E.c.happened_at >= since)
    with reading(book.engine) as at:
        wanted = set(at.execute(asked).scalars())
    return tuple(one for one in loads(book) if one.id in wanted and one.whose) if wanted else ()
