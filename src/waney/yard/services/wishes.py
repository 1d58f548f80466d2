"""Wishes: somebody asks to be told; who asked, when a piece that fits was named, came dry or left a hold."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from waney.drying.ready import Word
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.book import Book
from waney.yard.book.kiln_seen import back_since
from waney.yard.book.looking import PieceStands
from waney.yard.book.selling_seen import WishStands, let_go
from waney.yard.book.standing_since import came_on
from waney.yard.here import day_here
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.ready import ready_of_load
from waney.yard.services.selling import add_buyer, buyer_called, leave_wish, wishes_met

NEWS_FOR = timedelta(weeks=4)
"""so long it is said why a piece fits now (ours)"""


@dataclass(frozen=True)
class Fits:
    """A free piece that somebody wished for. why, on: what made it so lately; empty for one that has long been there."""

    piece: PieceStands
    why: str
    on: str


@dataclass(frozen=True)
class WhoAsked:
    """A wish, and what fits it: the newest news first."""

    wish: WishStands
    pieces: tuple[Fits, ...]

    @property
    def news(self) -> tuple[Fits, ...]:
        """Those that became so lately."""
        return tuple(one for one in self.pieces if one.why)


def who_asked(book: Book, today: date) -> tuple[WhoAsked, ...]:
    """Wishes that stand today and can be met; those with the newest news first."""
    met = wishes_met(book, today.isoformat())
    if not met:
        return ()
    news = _news(book, today, {piece.id for one in met for piece in one.pieces})
    told = [WhoAsked(one.wish, _fitting(one.pieces, news)) for one in met]
    return tuple(sorted(told, key=lambda one: one.pieces[0].on, reverse=True))


def _fitting(some: tuple[PieceStands, ...], news: dict[str, tuple[str, str]]) -> tuple[Fits, ...]:
    found = [Fits(piece, why, on) for piece in some for on, why in (news.get(piece.id, ("", "")),)]
    return tuple(sorted(found, key=lambda one: one.on, reverse=True))


def _news(book: Book, today: date, some: set[str]) -> dict[str, tuple[str, str]]:
    """The last thing that made a piece one to tell of, by piece: day, words."""
    since = (today - NEWS_FOR).isoformat()
    named = [(piece, on.isoformat(), "named") for piece, on in came_on(book, some).items() if on.isoformat() >= since]
    free = [(piece, on, "out of a hold") for piece, on in let_go(book, since, today.isoformat()).items()]
    last: dict[str, tuple[str, str]] = {}
    for piece, on, why in sorted([*named, *free, *_dry(book, since)], key=lambda one: one[1]):
        last[piece] = (on, why)
    return last


def _dry(book: Book, since: str) -> list[tuple[str, str, str]]:
    """What came back from a kiln lately and was read to be ready."""
    loads = back_since(book, since)
    return [
        (held.piece.id, day_here(held.back_at).isoformat(), "dry")
        for load in loads
        for held in ready_of_load(book, load.id).get(Word.READY, ())
    ]


def leave_wish_for(hand: Hand, who: str, wish: WishLeft, today: str) -> None:
    """A wish of somebody by name, who is written down where nobody is called so yet; wish: its person is still to be told.

    Raises NotPossible for a name that several bear, or for a day that is over.
    """
    if wish.until < today:
        raise NotPossible("That day is over; a wish stands until a day that comes.")
    person = buyer_called(hand.book, who) or add_buyer(hand, who).id
    sizes = (wish.thickness_m, wish.most_thickness_m, wish.width_m, wish.length_m)
    leave_wish(hand, WishLeft(wish.wish, person, wish.until, wish.species, *sizes))
