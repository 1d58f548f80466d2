"""Pieces for sale as a buyer may know them: what is asked, who may still have them, how dry they are; and what goes together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from waney.pieces.matching import Match, Sawn, matches
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import Reading, last_moistures, readings_of
from waney.yard.book.kiln_seen import AtKiln, at_kilns
from waney.yard.book.looking import PieceStands, pieces_by_id, pieces_of_logs, pieces_together
from waney.yard.book.selling_seen import Promised, prices_asked, promises
from waney.yard.book.stories import Photo, PieceStory, photos_by
from waney.yard.services.selling import free_pieces
from waney.yard.services.woods import known_wood

SLACK_M = 1e-6


class Together(StrEnum):
    """Whether a piece belongs to a set."""

    EITHER = "in a set or not"
    SET = "in a set"
    ALONE = "by itself"


@dataclass(frozen=True)
class OnSale:
    """A piece for which something is asked. promised: None while it is free; away: it stands at someone else's kiln;
    moistures: the last of each depth; photo: the last of the dry piece, else the last."""

    piece: PieceStands
    cents: int
    promised: Promised | None
    away: AtKiln | None
    moistures: tuple[Reading, ...]
    photo: Photo | None

    @property
    def free(self) -> bool:
        """Whether it can be bought today."""
        return self.promised is None and self.away is None

    @property
    def wettest(self) -> float | None:
        """The highest of its last moistures [-]; None: nothing was read."""
        return max((one.mc for one in self.moistures if one.mc is not None), default=None)


@dataclass(frozen=True)
class Choice:
    """What a buyer asks for; empty or None narrows nothing. Sizes [m] at least, most_thickness_m and wettest [-] at most."""

    wood: str = ""
    thickness_m: float | None = None
    most_thickness_m: float | None = None
    length_m: float | None = None
    width_m: float | None = None
    wettest: float | None = None
    together: Together = Together.EITHER
    log: str = ""
    free: bool = False


def on_sale(book: Book, today: str) -> tuple[OnSale, ...]:
    """Everything that is there and has a price, by name."""
    asked = prices_asked(book)
    there = [piece for piece in pieces_by_id(book, asked) if not piece.ended]
    streams = [f"piece:{piece.id}" for piece in there]
    read, photos, away = readings_of(book, streams), photos_by(book, streams), at_kilns(book)
    taken = {piece: promised for piece, promised in promises(book, today).items() if promised.stands}
    return tuple(
        OnSale(
            piece,
            asked[piece.id][0],
            taken.get(piece.id),
            away.get(piece.id),
            last_moistures(read.get(stream, ())),
            best_photo(photos.get(stream, ())),
        )
        for piece, stream in zip(there, streams, strict=True)
    )


def best_photo(photos: Sequence[Photo]) -> Photo | None:
    """The last photo of the dry piece, else the last."""
    dry = [photo for photo in photos if photo.wet is False]
    return next(reversed(dry or list(photos)), None)


def chosen(some: Iterable[OnSale], choice: Choice) -> tuple[OnSale, ...]:
    """Those that fit what is asked for; a size or a moisture that is asked for and not known does not fit."""
    return tuple(one for one in some if _fits(one, choice))


def _fits(one: OnSale, choice: Choice) -> bool:
    piece = one.piece
    least = (
        (choice.thickness_m, piece.thickness_m), (choice.length_m, piece.length_m), (choice.width_m, piece.least_width_m),
    )  # fmt: skip
    most = ((choice.most_thickness_m, piece.thickness_m), (choice.wettest, one.wettest))
    big = all(want is None or (have is not None and have >= want - SLACK_M) for want, have in least)
    small = all(want is None or (have is not None and have <= want + SLACK_M) for want, have in most)
    kept = {Together.EITHER: True, Together.SET: bool(piece.together), Together.ALONE: not piece.together}[choice.together]
    which = choice.wood in ("", known_wood(piece.species)) and choice.log in ("", piece.log)
    return big and small and kept and which and (one.free or not choice.free)


@dataclass(frozen=True)
class Going:
    """Pieces that go together and are not a set yet, with why."""

    match: Match
    pieces: tuple[PieceStands, ...]


def going_together(book: Book, some: Iterable[PieceStands]) -> tuple[Going, ...]:
    """What of these could be sold as a pair or a set; pieces of a set, without a log or without a size are left out."""
    single = {piece.name: piece for piece in some if not piece.together and not piece.ended}
    rank = _ranks(pieces_of_logs(book, {piece.log for piece in single.values() if piece.log}))
    sawn = [found for piece in single.values() if (found := _sawn(piece, rank.get(piece.id))) is not None]
    return tuple(Going(match, tuple(single[name] for name in match.names)) for match in matches(sawn))


def goes_with(book: Book, piece: PieceStands, today: str) -> Going | None:
    """What else of its log a piece could be sold with: what is there, free, and in no set."""
    if not piece.log or piece.together:
        return None
    away = at_kilns(book)
    of_log = [one for one in free_pieces(book, today, piece.log) if one.id not in away]
    return next((going for going in going_together(book, of_log) if piece.id in [one.id for one in going.pieces]), None)


@dataclass(frozen=True)
class WholeSet:
    """A set of which something is for sale: all that is left of it. cents: what is asked for all, None: one has no price."""

    pieces: tuple[PieceStands, ...]
    cents: int | None


def whole_sets(book: Book, some: Iterable[OnSale]) -> tuple[WholeSet, ...]:
    """The sets that these pieces belong to, by name; a set of which one piece is left is none."""
    asked = prices_asked(book)
    left = (pieces_together(book, together) for together in dict.fromkeys(one.piece.together for one in some) if together)
    return tuple(_whole(pieces, asked) for pieces in left if len(pieces) > 1)


def _whole(pieces: tuple[PieceStands, ...], asked: Mapping[str, tuple[int, str]]) -> WholeSet:
    return WholeSet(pieces, asked_for_all(pieces, asked))


def asked_for_all(pieces: Sequence[PieceStands], asked: Mapping[str, tuple[int, str]]) -> int | None:
    """What is asked for all of these; None where one of them has no price, and for none. asked: as `prices_asked` gives it."""
    known = [asked[piece.id][0] for piece in pieces if piece.id in asked]
    return sum(known) if known and len(known) == len(pieces) else None


def left_of_log(book: Book, log: str, today: str, without: Iterable[str] = ()) -> tuple[PieceStands, ...]:
    """What is still there of a log and promised to nobody."""
    gone = set(without)
    return tuple(one for one in free_pieces(book, today, log) if one.id not in gone) if log else ()


@dataclass(frozen=True)
class Beside:
    """What a piece is seen with. mates: what is left of its set, itself too, none where that is all; going: what it could make a
    set with; left: what else is left of its log."""

    piece: str
    mates: tuple[PieceStands, ...]
    going: Going | None
    left: tuple[PieceStands, ...]

    @property
    def together(self) -> tuple[PieceStands, ...]:
        """What would be sold as a whole."""
        return self.mates or (self.going.pieces if self.going else ())

    @property
    def near(self) -> tuple[PieceStands, ...]:
        """The others that it could make a set with."""
        return tuple(one for one in self.going.pieces if one.id != self.piece) if self.going else ()


def beside(book: Book, story: PieceStory, today: str) -> Beside:
    """Its set, or what it could make one with, and what else is left of its log."""
    piece, mates = story.piece, tuple(one for one in story.mates if not one.ended)
    found = Beside(piece.id, mates if len(mates) > 1 else (), None if piece.ended else goes_with(book, piece, today), ())
    left = left_of_log(book, piece.log, today, {piece.id, *(one.id for one in found.together)})
    return replace(found, left=left)


def _ranks(some: Iterable[PieceStands]) -> dict[str, int]:
    """Where each lies in the boule of its log; what is gone keeps its place."""
    rank: dict[str, int] = {}
    count: dict[str, int] = {}
    for piece in sorted((one for one in some if one.boule_place is not None), key=lambda one: (one.boule_place or 0, one.seq)):
        rank[piece.id] = count[piece.log] = count.get(piece.log, 0) + 1
    return rank


def _sawn(piece: PieceStands, place: int | None) -> Sawn | None:
    if piece.thickness_m is None or piece.length_m is None or piece.least_width_m is None or piece.most_width_m is None:
        return None
    width = (piece.least_width_m + piece.most_width_m) / 2.0
    return Sawn(piece.name, piece.log, place, piece.thickness_m, width, piece.length_m)
