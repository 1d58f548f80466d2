"""Parts: a piece becomes several: sawn again, edged, crosscut, ripped. Each part is a piece with a name; the piece is used up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.yard.acts.mill import CameOff, Transform
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.book.applying.promises import in_the_way
from waney.yard.book.book import Book
from waney.yard.book.engine import reading
from waney.yard.book.kiln_seen import at_kiln, in_our_kiln
from waney.yard.book.looking import BY_THE_TAPE, PieceStands
from waney.yard.book.shelf import Database
from waney.yard.book.stories import piece_story
from waney.yard.here import day_here
from waney.yard.problems import BadAct, NotPossible
from waney.yard.services.hand import Hand

MOST_PARTS = 60


@dataclass(frozen=True)
class Part:
    """A new piece. None: as the cut leaves it, where that follows from what it came from; else not known."""

    thickness_m: float | None = None
    width_m: float | None = None
    length_m: float | None = None


def cut_into_parts(hand: Hand, piece: str, how: Transform, parts: Sequence[Part]) -> tuple[str, ...]:
    """Write the parts down, in this order, and that the piece is used up. Returns their ids; the book names them.

    Raises NotInBook, BadAct for parts that cannot come of it, NotPossible for a piece that is gone, promised or at a kiln; then
    nothing is written.
    """
    stands = may_be_cut(hand.book, piece, day_here(hand.now()).isoformat())
    _come_of(stands, how, parts)
    acts = tuple(_came_off(hand, stands, how, part) for part in parts)
    for act in acts:
        hand.write(act)
    hand.write(PieceEnded(piece, PieceEnd.SAWN, str(how)))
    return tuple(act.piece for act in acts)


def may_be_cut(book: Book, piece: str, today: str) -> PieceStands:
    """The piece as it stands. Raises NotInBook; NotPossible where somebody counts on it, or it is not here.

    A customer's piece may be cut: edging it is part of sawing somebody's logs, and its parts are the customer's.
    """
    stands = piece_story(book, piece).piece
    with reading(book.engine) as at:
        other = in_the_way(Database(at), (piece,), today)
    if other is not None and not other.by.startswith("custom:"):
        raise NotPossible(f"{stands.name} {other.words}; it stays whole.")
    away, ours = at_kiln(book, piece), in_our_kiln(book, piece)
    if away is not None:
        since = day_here(away.since)
        raise NotPossible(f"{stands.name} stands at the kiln ({away.whose}) since {since}; take it back before it is cut.")
    if ours:
        raise NotPossible(f"{stands.name} is in the kiln ({ours}); take it out before it is cut.")
    return stands


def _come_of(piece: PieceStands, how: Transform, parts: Sequence[Part]) -> None:
    """None is larger than the whole. Raises BadAct."""
    if not parts:
        raise BadAct("Write down at least one piece that came of it; how many alike is enough.")
    if len(parts) > MOST_PARTS:
        raise BadAct(f"{len(parts)} pieces of one is more than {MOST_PARTS}; cut it in two steps.")
    thick, wide = piece.thickness_m, piece.most_width_m
    if how is Transform.SAWN_AGAIN and thick is not None and wide is not None:  # it may have lain on its edge
        thick = wide = max(thick, wide)
    whole = (("thicker", thick), ("wider", wide), ("longer", piece.length_m))
    for part in parts:
        for (what, had), has in zip(whole, (part.thickness_m, part.width_m, part.length_m), strict=True):
            if had is not None and has is not None and has > had * BY_THE_TAPE:
                raise BadAct(f"A part cannot be {what} than {piece.name} was. Measure again, or leave that size out.")


def _came_off(hand: Hand, piece: PieceStands, how: Transform, part: Part) -> CameOff:
    kept = left_by(piece, how)
    width = part.width_m or kept.width_m
    return CameOff(
        hand.new_id(),
        log=piece.log,
        parent=piece.id,
        species=piece.species,
        thickness_m=part.thickness_m or kept.thickness_m,
        length_m=part.length_m or kept.length_m,
        widths_m=(width,) if width else (),
        spot=piece.spot,
        transform=how,
    )


def left_by(piece: PieceStands, how: Transform) -> Part:
    """What a cut surely leaves as it was. Sawn again, a piece may lie on its edge: only its length is sure."""
    if how is Transform.SAWN_AGAIN:
        return Part(length_m=piece.length_m)
    if how is Transform.CROSSCUT:
        return Part(piece.thickness_m, piece.one_width_m)
    return Part(piece.thickness_m, length_m=piece.length_m)
