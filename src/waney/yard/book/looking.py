"""Looking things up: how things stand, as values."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Any

from sqlalchemy import CompoundSelect, Connection, Select, func, literal, select

from waney.drying.known_sides import KnownSides
from waney.pieces.as_counted import AsCounted
from waney.yard.book import models, truth
from waney.yard.book.book import Book
from waney.yard.book.engine import plain_rows, reading
from waney.yard.book.truth import Event, event_of
from waney.yard.names import OF_LOG, Name, nth_code, read_name
from waney.yard.sides import NOT_TOLD, SidesStand

BY_THE_TAPE = 1.03
"""by how much one width may measure more than the same elsewhere: two tapes, swelling, a skew end (common practice, no source)"""

MOST_COUNTED = 1_000
"""tasks that are counted; beyond, there are many"""


@dataclass(frozen=True)
class PieceStands:
    """A piece. Empty, None: not known. measured: None while its sizes are those that were told of it, at the saw or counted."""

    id: str
    name: str
    species: str
    log: str
    day: str
    parent: str
    transform: str
    how: str
    boule_place: int | None
    thickness_m: float | None
    length_m: float | None
    least_width_m: float | None
    most_width_m: float | None
    spot: str
    ended: str
    version: int
    seq: int
    log_name: str
    spot_called: str
    together: str
    together_called: str
    product: str
    mass_kg: float | None
    bought: bool
    figure: str = ""
    measured: AsCounted | None = None
    sides: SidesStand = NOT_TOLD

    @property
    def mean_width_m(self) -> float | None:
        """Over both faces where it was measured as it lies, else of its narrowest and its widest, as far as they are known."""
        if self.measured is not None:
            return self.measured.mean_of_faces_m
        widths = [width for width in (self.least_width_m, self.most_width_m) if width is not None]
        return sum(widths) / len(widths) if widths else None

    @property
    def one_width_m(self) -> float | None:
        """Its width where that is one all along; None of a live edge, and where it is not known."""
        return self.least_width_m if self.least_width_m == self.most_width_m else None

    @property
    def live_edge(self) -> bool:
        """Whether it is wider in one place than in another by more than two tapes differ, so that its edges were not sawn."""
        least, most = self.least_width_m, self.most_width_m
        return least is not None and most is not None and most > BY_THE_TAPE * least

    @property
    def known_sides(self) -> KnownSides:
        """What is known of its edges and ends, for its drying."""
        return self.sides.known(live_edge=self.live_edge)

    @property
    def volume_m3(self) -> float | None:
        """Thickness times the area as it was measured, else times length and the middle of its narrowest and widest; None where
        one of them is not known."""
        if self.thickness_m is not None and self.measured is not None:
            return self.thickness_m * self.measured.area_m2
        if self.thickness_m is None or self.length_m is None or self.mean_width_m is None:
            return None
        return self.thickness_m * self.length_m * self.mean_width_m


@dataclass(frozen=True)
class OpenTask:
    """Something to put right: `event` is what it is about, `other` what that contradicts (None: nothing)."""

    id: str
    kind: str
    about: str
    words: str
    event: Event
    other: Event | None


def version_of(book: Book, stream: str) -> int:
    """The number of the last event of a stream; 0 for one that nothing was written of."""
    with reading(book.engine) as at:
        return _version(at, stream)


def last_event(book: Book) -> int:
    """The number of the last event of the book; it changes with everything that the book hears."""
    with reading(book.engine) as at:
        return int(at.execute(select(truth.book.c.last_seq)).scalar_one())


def next_count(book: Book, device: str) -> int:
    """The number of a device's next command, for a device that does not count itself."""
    e = truth.event
    with reading(book.engine) as at:
        return int(at.execute(select(func.coalesce(func.max(e.c.count), 0)).where(e.c.device == device)).scalar_one()) + 1


def next_free(book: Book, code: str) -> tuple[int, int]:
    """The first number of a code that is free, and the version at which it is."""
    c = models.code
    with reading(book.engine) as at:
        return at.execute(select(c.c.next_number).where(c.c.code == code)).scalar() or 1, _version(at, f"code:{code}")


def next_code(book: Book) -> str:
    """A code that nothing carries yet, for tags printed ahead."""
    with reading(book.engine) as at:
        taken = set(at.execute(select(models.code.c.code)).scalars())
    return next(code for code in map(nth_code, itertools.count()) if code not in taken)


def pieces(book: Book, log: str = "") -> tuple[PieceStands, ...]:
    """Pieces that were not taken back, of one log or all, in the order they came off; one query."""
    p = models.piece
    asked = PIECES.where(p.c.log == log) if log else PIECES
    with reading(book.engine) as at:
        return pieces_of(at, asked.order_by(p.c.seq))


def pieces_of_logs(book: Book, logs: Iterable[str]) -> tuple[PieceStands, ...]:
    """The pieces of some logs, in the order they came off; one query."""
    p = models.piece
    with reading(book.engine) as at:
        return pieces_of(at, PIECES.where(p.c.log.in_(list(logs))).order_by(p.c.seq))


def pieces_by_id(book: Book, ids: Iterable[str]) -> tuple[PieceStands, ...]:
    """These pieces, by name; those taken back are left out."""
    p, wanted = models.piece, list(dict.fromkeys(ids))
    with reading(book.engine) as at:
        return pieces_of(at, PIECES.where(p.c.id.in_(wanted)).order_by(p.c.code, p.c.number)) if wanted else ()


def names_there(book: Book) -> tuple[tuple[str, int, str], ...]:
    """Code, number and id of every piece that is still there, by name; nothing else is read."""
    p = models.piece
    asked = select(p.c.code, p.c.number, p.c.id).where(p.c.taken_back_seq.is_(None), p.c.ended == "")
    with reading(book.engine) as at:
        return tuple((code, number, ident) for code, number, ident in at.execute(asked.order_by(p.c.code, p.c.number)))


def named(book: Book, written: str) -> str | None:
    """The stream of what carries a name: a log or a piece; None for nothing. Raises BadName."""
    name = read_name(written)
    with reading(book.engine) as at:
        if name.number == OF_LOG:
            found, kind = at.execute(select(models.log.c.id).where(models.log.c.code == name.code)).scalar(), "log"
        else:
            p = models.piece
            found, kind = at.execute(select(p.c.id).where(p.c.code == name.code, p.c.number == name.number)).scalar(), "piece"
    return None if found is None else f"{kind}:{found}"


def names_of(book: Book, streams: Iterable[str]) -> dict[str, str]:
    """The names of logs and pieces by their streams; what carries none is left out. Two queries."""
    asked = [stream.partition(":") for stream in streams]
    log, p = models.log, models.piece
    logs_asked = select(log.c.id, log.c.code).where(log.c.id.in_([ident for kind, _, ident in asked if kind == "log"]))
    told = select(p.c.id, p.c.code, p.c.number).where(p.c.id.in_([ident for kind, _, ident in asked if kind == "piece"]))
    with reading(book.engine) as at:
        named_logs = {f"log:{ident}": str(Name(code, OF_LOG)) for ident, code in at.execute(logs_asked)}
        return named_logs | {f"piece:{ident}": str(Name(code, n)) for ident, code, n in at.execute(told)}


def history(book: Book, stream: str) -> tuple[Event, ...]:
    """Everything that counts in a stream, in order."""
    e, t = truth.event, models.touched
    with reading(book.engine) as at:
        told = select(e).join(t, t.c.seq == e.c.seq).where(t.c.stream == stream).order_by(t.c.number)
        return tuple(map(event_of, at.execute(told).mappings()))


def open_tasks(
    book: Book, limit: int | None = None, kinds: Collection[str] = (), but: Collection[str] = ()
) -> tuple[OpenTask, ...]:
    """What is to be put right, oldest first: all, or of some kinds, or all but some; two queries."""
    t = models.task
    asked = select(t).where(t.c.settled_by.is_(None), t.c.kind.not_in(list(but))).order_by(t.c.opened_by, t.c.id).limit(limit)
    asked = asked.where(t.c.kind.in_(list(kinds))) if kinds else asked
    with reading(book.engine) as at:
        rows = at.execute(asked).all()
        some = asked.subquery()
        told = _events(at, select(some.c.seq).union(select(some.c.other_seq)))
    return tuple(OpenTask(r.id, r.kind, r.about, r.words, told[r.seq], told.get(r.other_seq)) for r in rows)


def count_tasks(book: Book, but: Collection[str] = (), most: int = MOST_COUNTED) -> int:
    """How much there is to put right, as far as `most` and one; but: kinds that are not counted."""
    t = models.task
    some = select(t.c.id).where(t.c.settled_by.is_(None), t.c.kind.not_in(list(but))).limit(most + 1).subquery()
    with reading(book.engine) as at:
        return int(at.execute(select(func.count()).select_from(some)).scalar_one())


def settings(book: Book) -> dict[str, str]:
    """What the shop has settled, by what it is; nothing for what nobody settled."""
    s = models.setting
    with reading(book.engine) as at:
        return {row.what: row.text for row in at.execute(select(s.c.what, s.c.text))}


def plan_file(book: Book, plan: str) -> bytes:
    """A plan as it was kept. Raises FileLost."""
    with reading(book.engine) as at:
        name = at.execute(select(models.plan.c.file).where(models.plan.c.id == plan)).scalar_one()
    return book.files.read(name)


def _version(at: Connection, stream: str) -> int:
    return at.execute(select(models.head.c.version).where(models.head.c.stream == stream)).scalar() or 0


PIECES = (
    select(
        models.piece,
        models.log.c.code.label("log_code"),
        models.spot.c.called.label("spot_called"),
        models.together_piece.c.together,
        models.together.c.called.label("together_called"),
        models.head.c.version,
    )
    .join(models.head, models.head.c.stream == literal("piece:").concat(models.piece.c.id))
    .outerjoin(models.log, models.log.c.id == models.piece.c.log)
    .outerjoin(models.spot, models.spot.c.id == models.piece.c.spot)
    .outerjoin(models.together_piece, models.together_piece.c.piece == models.piece.c.id)
    .outerjoin(models.together, models.together.c.id == models.together_piece.c.together)
    .where(models.piece.c.taken_back_seq.is_(None))
)
"""Pieces that were not taken back, with what is asked of each."""


def pieces_of(at: Connection, asked: Select[Any]) -> tuple[PieceStands, ...]:
    """The pieces that a narrowed and ordered query finds."""
    return tuple(map(_piece, plain_rows(at, asked)))


def mates_in(at: Connection, sets: Iterable[str]) -> tuple[PieceStands, ...]:
    """The pieces of some sets, each in its order; of one that is no set any more, none."""
    mate = models.together_piece
    return pieces_of(at, PIECES.where(mate.c.together.in_(list(sets))).order_by(mate.c.together, mate.c.place))


def mates_of(book: Book, sets: Iterable[str]) -> tuple[PieceStands, ...]:
    """The same; one query."""
    wanted = list(sets)
    with reading(book.engine) as at:
        return mates_in(at, wanted) if wanted else ()


_AS_COUNTED = (
    "thickness_m", "length_m", "narrow_face_m", "mean_of_faces_m", "mid_length_m", "most_width_m", "least_width_m", "area_m2"
)  # fmt: skip


def _piece(row: dict[str, Any]) -> PieceStands:
    return PieceStands(
        id=row["id"],
        name=str(Name(row["code"], row["number"])),
        species=row["species"],
        log=row["log"] or "",
        day=row["day"] or "",
        parent=row["parent"] or "",
        transform=row["transform"],
        how=row["how"],
        boule_place=row["boule_place"],
        thickness_m=row["thickness_m"],
        length_m=row["length_m"],
        least_width_m=row["least_width_m"],
        most_width_m=row["most_width_m"],
        spot=row["spot"] or "",
        ended=row["ended"],
        version=row["version"],
        seq=row["seq"],
        log_name=str(Name(row["log_code"], OF_LOG)) if row["log_code"] else "",
        spot_called=row["spot_called"] or "",
        together=row["together"] or "",
        together_called=row["together_called"] or "",
        product=row["product"],
        mass_kg=row["mass_kg"],
        bought=bool(row["bought"]),
        figure=row["figure"],
        measured=None if row["area_m2"] is None else AsCounted(*(row[name] for name in _AS_COUNTED)),
        sides=SidesStand(row["bark"], row["bark_since"], row["ends"], row["ends_since"]),
    )


def _events(at: Connection, sequence: CompoundSelect[Any]) -> dict[int, Event]:
    return {
        row["seq"]: event_of(row) for row in at.execute(select(truth.event).where(truth.event.c.seq.in_(sequence))).mappings()
    }
