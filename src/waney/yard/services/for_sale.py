"""Pieces for sale as a buyer may know them: what is asked, who may still have them, how dry they are; and what goes together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from waney.pieces.matching import Match, Sawn, matches
from waney.trade.wish import Wish, fits
from waney.yard.book.book import Book
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.drying_seen import last_moistures
from waney.yard.book.kiln_seen import AtKiln, at_kilns, read_since_kiln
from waney.yard.book.looking import PieceStands, mates_of, pieces_by_id, pieces_of_logs
from waney.yard.book.selling_seen import Promised, prices_asked, promises
from waney.yard.book.stack_seen import MoistureTold, ReadOf
from waney.yard.book.stories import Photo, PieceStory, photos_by
from waney.yard.services.selling import free_pieces, sized

SLACK = 1e-6
"""of a moisture, against what was rounded away [-]"""


class Together(StrEnum):
    """Whether a piece belongs to a set."""

    EITHER = "in a set or not"
    SET = "in a set"
    ALONE = "by itself"


@dataclass(frozen=True)
class OnSale:
    """A piece for which something is asked. promised: None while it is free; away: it stands at someone else's kiln;
    moistures: the last of each depth, since a kiln if it was in one; photo: the last of the dry piece, else the last."""

    piece: PieceStands
    cents: int
    promised: Promised | None
    away: AtKiln | None
    moistures: tuple[MoistureTold, ...]
    photo: Photo | None

    @property
    def free(self) -> bool:
        """Whether it can be bought today."""
        return self.promised is None and self.away is None

    @property
    def wettest(self) -> float | None:
        """The highest of its last moistures [-]; None: nothing was read."""
        return max((one.mc for one in self.moistures), default=None)


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
    """Everything of the shop's own that is there and has a price, by name."""
    asked, theirs = prices_asked(book), customers_pieces(book)
    there = [piece for piece in pieces_by_id(book, asked) if not piece.ended and piece.id not in theirs]
    streams = [f"piece:{piece.id}" for piece in there]
    read, photos, away = read_since_kiln(book, [one.id for one in there]), photos_by(book, streams), at_kilns(book)
    taken = {piece: promised for piece, promised in promises(book, today).items() if promised.stands}
    return tuple(
        OnSale(
            piece,
            asked[piece.id][0],
            taken.get(piece.id),
            away.get(piece.id),
            last_moistures(read.get(piece.id, ReadOf()).moistures),
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
    asked = Wish(choice.wood, choice.thickness_m, choice.most_thickness_m, choice.width_m, choice.length_m)
    dry = choice.wettest is None or (one.wettest is not None and one.wettest <= choice.wettest + SLACK)
    kept = {Together.EITHER: True, Together.SET: bool(piece.together), Together.ALONE: not piece.together}[choice.together]
    return fits(asked, sized(piece)) and dry and kept and choice.log in ("", piece.log) and (one.free or not choice.free)


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


@dataclass(frozen=True)
class WholeSet:
    """A set of which something is for sale: all that is left of it. cents: what is asked for all, None: one has no price."""

    pieces: tuple[PieceStands, ...]
    cents: int | None


def whole_sets(book: Book, some: Iterable[OnSale]) -> tuple[WholeSet, ...]:
    """The sets that these pieces belong to, by name; a set of which one piece is left is none."""
    sets = dict.fromkeys(one.piece.together for one in some if one.piece.together)
    left = [mate for mate in mates_of(book, sets) if not mate.ended]
    asked = prices_asked(book, [mate.id for mate in left])
    each = (tuple(mate for mate in left if mate.together == together) for together in sets)
    return tuple(_whole(pieces, asked) for pieces in each if len(pieces) > 1)


def _whole(pieces: tuple[PieceStands, ...], asked: Mapping[str, tuple[int, str]]) -> WholeSet:
    return WholeSet(pieces, asked_for_all(pieces, asked))


def asked_for_all(pieces: Sequence[PieceStands], asked: Mapping[str, tuple[int, str]]) -> int | None:
    """What is asked for all of these; None where one of them has no price, and for none. asked: as `prices_asked` gives it."""
    known = [asked[piece.id][0] for piece in pieces if piece.id in asked]
    return sum(known) if known and len(known) == len(pieces) else None


def left_of_logs(book: Book, logs: Iterable[str], today: str) -> Mapping[str, Sequence[PieceStands]]:
    """What is still there of some logs and promised to nobody, by log."""
    found: dict[str, list[PieceStands]] = {log: [] for log in logs}
    for one in free_pieces(book, today, found) if found else ():
        found[one.log].append(one)
    return found


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
    """Its set, or what it could make one with, and what else is left of its log: what is there and promised to nobody."""
    piece, mates = story.piece, tuple(one for one in story.mates if not one.ended)
    free = free_pieces(book, today, [piece.log]) if piece.log else ()
    with_it = (one for one in going_together(book, free) if piece.id in [each.id for each in one.pieces])
    going = None if piece.ended or piece.together else next(with_it, None)
    found = Beside(piece.id, mates if len(mates) > 1 else (), going, ())
    apart = {piece.id, *(one.id for one in found.together)}
    return replace(found, left=tuple(one for one in free if one.id not in apart))


def _ranks(some: Iterable[PieceStands]) -> dict[str, int]:
    """Where each lies in the boule of its log; what is gone keeps its place."""
    rank: dict[str, int] = {}
    count: dict[str, int] = {}
    for piece in sorted((one for one in some if one.boule_place is not None), key=lambda one: (one.boule_place or 0, one.seq)):
        rank[piece.id] = count[piece.log] = count.get(piece.log, 0) + 1
    return rank


def _sawn(piece: PieceStands, place: int | None) -> Sawn | None:
    width = piece.mean_width_m
    if piece.thickness_m is None or piece.length_m is None or width is None or None in (piece.least_width_m, piece.most_width_m):
        return None
    return Sawn(piece.name, piece.log, place, piece.thickness_m, width, piece.length_m)
