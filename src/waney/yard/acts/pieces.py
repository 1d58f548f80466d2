"""Pieces after the saw, or from before the book: counted, tagged, put in order, kept together, gone."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.pieces.as_counted import AsCounted
from waney.yard.acts.base import Decision, Fact, between, filled_lines, hashes, ids, ids_if_any, lines, name_if_any, texts
from waney.yard.acts.mill import sizes_within
from waney.yard.names import CODE, LONGEST_NUMBER, read_name
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id, stream

MOST_EVENTS = 2**53
MOST_AREA_M2 = 100.0
"""a slip of the hand beyond it"""


@dataclass(frozen=True)
class PieceCounted(Fact):
    """A piece found in the shed or bought: no log is known. No name: the book gives one of its code for such wood.

    photo: a file of the book by its SHA-256; it is filed under the piece and bears its id. wet: whether the wood in it is wet.
    """

    piece: str
    species: str
    name: str = ""
    thickness_m: float | None = None
    length_m: float | None = None
    widths_m: tuple[float, ...] = ()
    spot: str = ""
    bought: bool = False
    photo: str = ""
    wet: bool | None = None

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        ids_if_any(spot=self.spot)
        filled_lines(species=self.species)
        name_if_any(self.name)
        sizes_within(self.thickness_m, self.length_m, self.widths_m)
        if self.photo:
            hashes(photo=self.photo)

    def streams(self) -> tuple[Stream, ...]:
        """The piece, and where it stands."""
        return (stream("piece", self.piece), *([stream("spot", self.spot)] if self.spot else []))

    def makes(self) -> Stream:
        """The piece."""
        return stream("piece", self.piece)

    def files(self) -> tuple[str, ...]:
        """Its photo."""
        return (self.photo,) if self.photo else ()


@dataclass(frozen=True)
class Tagged(Fact):
    """A tag was stapled on or written: from now on the piece has this name."""

    piece: str
    name: str

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        read_name(self.name)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class PieceMeasured(Fact):
    """A piece as it lies there: its piece sheet (`waney-piece/1`). photo: the file of the book that it names, or empty."""

    piece: str
    sheet: str
    photo: str = ""

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        texts(sheet=self.sheet)
        if self.photo:
            hashes(photo=self.photo)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)

    def files(self) -> tuple[str, ...]:
        """Its photo."""
        return (self.photo,) if self.photo else ()


@dataclass(frozen=True)
class PieceSized(AsCounted, Fact):
    """What a piece measures by the sheet that event `measured` of the book holds, worked out: it counts from now on."""

    piece: str
    measured: int

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        between(1, MOST_EVENTS, measured=self.measured)
        sizes_within(self.thickness_m, self.length_m, self.widths_m)
        between(0.0, MOST_AREA_M2, area_m2=self.area_m2)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class FigureSeen(Fact):
    """The figure of a piece in the shop's own words; empty: plain, as far as anybody saw. The last word counts."""

    piece: str
    figure: str = ""

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        lines(figure=self.figure)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class RoomTold(Fact):
    """Where a piece will live: a place of the climate tables, and its room as people tell it. Empty: as the shop settled it."""

    piece: str
    place: str = ""
    indoors: str = ""
    highest: str = ""

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        lines(place=self.place, indoors=self.indoors, highest=self.highest)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class NamesExchanged(Fact):
    """Two pieces bear each other's names: from now on each has the name that stands on it. All else stays with the piece."""

    pieces: tuple[str, ...]
    words: str = ""

    def __post_init__(self) -> None:
        _several(self.pieces, "an exchange of names")
        lines(words=self.words)
        if len(self.pieces) != 2:
            raise BadAct("names are exchanged between two pieces; tell three as two exchanges.")

    def streams(self) -> tuple[Stream, ...]:
        """Both pieces."""
        return tuple(stream("piece", each) for each in self.pieces)


def _several(pieces: tuple[str, ...], what: str) -> None:
    for each in pieces:
        checked_id(each, what)
    if len(pieces) < 2 or len(set(pieces)) < len(pieces):
        raise BadAct(f"{what} takes two or more pieces, each once.")


@dataclass(frozen=True)
class BoulePutInOrder(Fact):
    """The order of a boule was found again; the first came off first."""

    log: str
    pieces: tuple[str, ...]
    words: str = ""

    def __post_init__(self) -> None:
        ids(log=self.log)
        _several(self.pieces, "a boule")
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The log and each of its pieces."""
        return (stream("log", self.log), *(stream("piece", each) for each in self.pieces))


@dataclass(frozen=True)
class SetMade(Fact):
    """Pieces that stay together, in this order: a bookmatched pair, the leaves of a door."""

    set: str
    pieces: tuple[str, ...]
    called: str = ""

    def __post_init__(self) -> None:
        ids(set=self.set)
        _several(self.pieces, "a set")
        lines(called=self.called)

    def streams(self) -> tuple[Stream, ...]:
        """The set and each of its pieces."""
        return (self.makes(), *(stream("piece", each) for each in self.pieces))

    def makes(self) -> Stream:
        """The set."""
        return stream("set", self.set)


@dataclass(frozen=True)
class SetTakenApart(Fact):
    """A set is no set any more; its pieces are told too, so that the history of each says it."""

    set: str
    pieces: tuple[str, ...]
    words: str = ""

    def __post_init__(self) -> None:
        ids(set=self.set)
        _several(self.pieces, "a set")
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The set and each of its pieces."""
        return (stream("set", self.set), *(stream("piece", each) for each in self.pieces))


class PieceEnd(StrEnum):
    """How a piece stops being there."""

    LOST = "lost"
    BURNT = "burnt"
    SAWN = "sawn up"
    GIVEN = "given away"
    USED = "used"


@dataclass(frozen=True)
class PieceEnded(Fact):
    """The piece is no more."""

    piece: str
    how: PieceEnd
    words: str = ""

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        lines(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class NamesTaken(Decision):
    """A device takes a block of numbers, from first to last, to give them where there is no signal."""

    code: str
    first: int
    last: int
    device: str

    def __post_init__(self) -> None:
        if not CODE.fullmatch(self.code):
            raise BadAct(f'"{self.code[:60]}" is no code.')
        between(1, 10**LONGEST_NUMBER - 1, first=self.first, last=self.last)
        ids(device=self.device)
        if not 0 <= self.last - self.first < 1000:
            raise BadAct("a block has one to a thousand numbers, in rising order.")

    def streams(self) -> tuple[Stream, ...]:
        """The code."""
        return (stream("code", self.code),)

    def needs(self) -> tuple[str, ...]:
        """Nothing: any code may be taken up."""
        return ()
