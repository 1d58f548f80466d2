"""Counting the stock by its tags: what should be there, what was seen, and what the two say together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from waney.yard.acts.counts import CountBegun, CountEnded, TagSeen
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.people_places import Moved
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.book.book import Book
from waney.yard.book.counting_seen import (
    AT_HAND,
    PLACED,
    CountStands,
    NotSeen,
    Seen,
    Standing,
    counts,
    ended_with,
    last_told,
    not_seen,
    placed_since,
    seen,
    standing,
)
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.finding import spots_within
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import PieceStands, named, pieces_by_id
from waney.yard.book.selling_seen import promises
from waney.yard.problems import NotInBook
from waney.yard.services.hand import Hand
from waney.yard.streams import parts, stream

NOT_FOUND = "not found at the stock count"
MOST_TOLD = 100
"""of those that were not found so many are named at once"""


class LookedFor(NamedTuple):
    """A piece as a count looks for it. expected: it should be there; away: why it need not be (sold, a customer's, at a kiln),
    empty for one that stands elsewhere."""

    stands: Standing
    expected: bool
    away: str


@dataclass(frozen=True)
class Listed:
    """The same with all that is known of the piece. end: the command that told it to be no more, where that can be taken back;
    last_on: the day when somebody had it before them last."""

    piece: PieceStands
    expected: bool
    away: str
    end: str
    last_on: str


@dataclass(frozen=True)
class Told:
    """What a count came to. missing: how many were not found; not_found: some of them, by name; unknown: tags that stand on
    nothing in the book."""

    counted: tuple[LookedFor, ...]
    missing: int
    not_found: tuple[LookedFor, ...]
    elsewhere: tuple[LookedFor, ...]
    away: tuple[LookedFor, ...]
    unknown: tuple[str, ...]


def count_at(book: Book, ident: str) -> CountStands:
    """A count by its id. Raises NotInBook."""
    found = next((one for one in counts(book) if one.id == ident), None)
    if found is None:
        raise NotInBook("This stock count is not in the book; its address may have been cut off.")
    return found


@dataclass(frozen=True)
class _Elsewhere:
    """Pieces that a count need not find: taken along to be sold, at a kiln, a customer's."""

    along: frozenset[str]
    kilns: frozenset[str]
    theirs: frozenset[str]

    @classmethod
    def of(cls, book: Book, today: str) -> _Elsewhere:
        along = frozenset(piece for piece, promised in promises(book, today).items() if promised.kind == "lease")
        return cls(along, frozenset(at_kilns(book)), customers_pieces(book))

    def why(self, stands: Standing) -> str:
        if stands.ended:
            return stands.ended
        gone = "taken along to be sold" if stands.id in self.along else "at a kiln" if stands.id in self.kilns else ""
        return "a customer's" if stands.id in self.theirs else gone


def looked_for(book: Book, count: CountStands, today: str, pieces: Iterable[str] | None = None) -> tuple[LookedFor, ...]:
    """Every piece, or some, by name. What came to its place after the count had ended was not looked for."""
    return _looked_for(book, count, _Elsewhere.of(book, today), pieces)


def _looked_for(book: Book, count: CountStands, elsewhere: _Elsewhere, pieces: Iterable[str] | None) -> tuple[LookedFor, ...]:
    there = _there(book, count)
    later = placed_since(book, count.ended_seq) if count.ended_seq is not None else frozenset()

    def one(stands: Standing) -> LookedFor:
        why = elsewhere.why(stands)
        return LookedFor(stands, not why and (there is None or stands.spot in there) and stands.id not in later, why)

    return tuple(map(one, standing(book, pieces)))


def _there(book: Book, count: CountStands) -> frozenset[str] | None:
    return spots_within(book, count.spot) if count.spot else None


def in_full(book: Book, some: Sequence[LookedFor]) -> tuple[Listed, ...]:
    """All that is known of some of these, in their order."""
    ids = [each.stands.id for each in some]
    if not ids:
        return ()
    known = {piece.id: piece for piece in pieces_by_id(book, ids)}
    last, ends = last_told(book, AT_HAND, ids), ended_with(book, ids)
    return tuple(
        Listed(known[at], each.expected, each.away, ends.get(at, ""), last[at].on if at in last else "")
        for at, each in zip(ids, some, strict=True)
        if at in known
    )


def told(book: Book, count: CountStands, today: str, begin: int = 0, most: int = MOST_TOLD) -> Told:
    """What was looked for beside what was seen; after the count had ended only what was so then is told.

    begin, most: which of those that were not found are named.
    """
    tags, away_now = seen(book, count.id), _Elsewhere.of(book, today)
    lines = _looked_for(book, count, away_now, {tag.piece for tag in tags if tag.piece})
    but = away_now.along | away_now.kilns | away_now.theirs
    missing, some = not_seen(book, NotSeen(count.id, _there(book, count), but, count.ended_seq), begin, most)
    found = {tag.piece: tag.seq for tag in tags}
    here = [line for line in lines if line.stands.id in found]
    away = [line for line in here if line.away and line.stands.ended_seq < found[line.stands.id]]
    strays = [line for line in here if not line.away and not line.expected]
    placed = last_told(book, PLACED, [line.stands.id for line in strays])
    elsewhere = [line for line in strays if line.stands.id not in placed or placed[line.stands.id].seq <= found[line.stands.id]]
    other = {line.stands.id for line in (*away, *elsewhere)}
    return Told(
        tuple(line for line in here if line.stands.id not in other),
        missing,
        tuple(LookedFor(stands, expected=True, away="") for stands in some),
        tuple(elsewhere),
        tuple(away),
        tuple(dict.fromkeys(tag.name for tag in tags if not tag.piece)),
    )


def begin_count(hand: Hand, spot: str = "") -> str:
    """Begin to look at a spot and all within it, or (empty) at the whole yard. Returns the count's id."""
    ident = hand.new_id()
    hand.write(CountBegun(ident, spot))
    return ident


def see_tag(hand: Hand, count: str, name: str) -> None:
    """A tag is there. Raises BadName."""
    bears = named(hand.book, name) or ""
    hand.write(TagSeen(count, name, parts(bears)[1] if bears.startswith("piece:") else ""))


def take_tag_back(hand: Hand, tag: Seen) -> None:
    """It was a slip."""
    hand.write(TakenBack(tag.command, tag.stream))


def end_count(hand: Hand, count: str) -> None:
    """All of it was looked at."""
    hand.write(CountEnded(count))


def lose(hand: Hand, line: Listed) -> None:
    """What was not found is lost."""
    hand.write(PieceEnded(line.piece.id, PieceEnd.LOST, NOT_FOUND))


def is_here(hand: Hand, line: Listed, spot: str) -> None:
    """What was found is there: an end that was told of it is taken back; spot: where it stands now, empty for not told."""
    about = stream("piece", line.piece.id)
    if line.end:
        hand.write(TakenBack(line.end, about, "found at the stock count"))
    if spot:
        hand.write(Moved(about, spot))
