"""Counting the stock by its tags: what should be there, what was seen, and what the two say together."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from waney.yard.acts.counts import CountBegun, CountEnded, TagSeen
from waney.yard.acts.mending import TakenBack
from waney.yard.acts.people_places import Moved
from waney.yard.acts.pieces import PieceEnd, PieceEnded
from waney.yard.book.book import Book
from waney.yard.book.counting_seen import AT_HAND, PLACED, CountStands, Ending, LastTold, Seen, counts, endings, last_told, seen
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.finding import spots_within
from waney.yard.book.kiln_seen import at_kilns
from waney.yard.book.looking import PieceStands, named, pieces
from waney.yard.book.selling_seen import Promised, promises
from waney.yard.problems import NotInBook
from waney.yard.services.hand import Hand
from waney.yard.streams import parts, stream

NOT_FOUND = "not found at the stock count"
NEVER = LastTold(0, "")
STANDS = Ending(0, "", "")


@dataclass(frozen=True)
class Listed:
    """A piece as a count looks for it. expected: it should be there; away: why it need not be (sold, a customer's, at a kiln),
    empty for one that stands elsewhere; end: the command that told it to be no more, where that can be taken back.

    last_on, ended_on: days; placed_seq, ended_seq: the event that put it where it stands, and the one that ended it, 0 for none.
    """

    piece: PieceStands
    expected: bool
    away: str
    end: str
    last_on: str
    ended_on: str
    placed_seq: int
    ended_seq: int


@dataclass(frozen=True)
class Told:
    """What a count came to. unknown: tags that stand on nothing in the book."""

    counted: tuple[Listed, ...]
    missing: tuple[Listed, ...]
    elsewhere: tuple[Listed, ...]
    away: tuple[Listed, ...]
    unknown: tuple[str, ...]


def count_at(book: Book, ident: str) -> CountStands:
    """A count by its id. Raises NotInBook."""
    found = next((one for one in counts(book) if one.id == ident), None)
    if found is None:
        raise NotInBook("This stock count is not in the book; its address may have been cut off.")
    return found


def listed(book: Book, count: CountStands, today: str) -> tuple[Listed, ...]:
    """Every piece, by name. What came to its place after the count had ended was not looked for."""
    there = spots_within(book, count.spot) if count.spot else None
    last, placed, ended = last_told(book, AT_HAND), last_told(book, PLACED), endings(book)
    taken, kilns, theirs = promises(book, today), at_kilns(book), customers_pieces(book)
    every = pieces(book)
    cut_up = {piece.parent for piece in every if piece.parent}

    def one(piece: PieceStands) -> Listed:
        away = "a customer's" if piece.id in theirs and not piece.ended else _away(piece, taken.get(piece.id), kilns)
        here = there is None or piece.spot in there
        came, end = placed.get(piece.id, NEVER).seq, ended.get(piece.id, STANDS)
        before = count.ended_seq is None or came < count.ended_seq
        undo = end.command if piece.ended != "sold" and piece.id not in cut_up else ""
        return Listed(piece, not away and here and before, away, undo, last.get(piece.id, NEVER).on, end.on, came, end.seq)

    return tuple(sorted(map(one, every), key=lambda line: line.piece.name))


def _away(piece: PieceStands, promised: Promised | None, kilns: Collection[str]) -> str:
    if piece.ended:
        return piece.ended
    if promised is not None and promised.kind == "lease":
        return "taken along to be sold"
    return "at a kiln" if piece.id in kilns else ""


def told(book: Book, count: CountStands, today: str) -> Told:
    """What was listed beside what was seen; after the count had ended only what was so then is told."""
    lines, tags = listed(book, count, today), seen(book, count.id)
    found = {tag.piece: tag.seq for tag in tags}
    here = [line for line in lines if line.piece.id in found]
    away = [line for line in here if line.away and line.ended_seq < found[line.piece.id]]
    moved = {line.piece.id for line in here if line.placed_seq > found[line.piece.id]}
    elsewhere = [line for line in here if not line.away and not line.expected and line.piece.id not in moved]
    other = {line.piece.id for line in (*away, *elsewhere)}
    return Told(
        tuple(line for line in here if line.piece.id not in other),
        tuple(line for line in lines if line.expected and line.piece.id not in found),
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
