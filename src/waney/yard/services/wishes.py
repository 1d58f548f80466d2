"""Wishes: somebody asks to be told; who asked, when a piece that fits was named, came dry or left a hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from waney.drying.dry_weight import AIR_DRY
from waney.drying.ready import Word, dry_since
from waney.units.moisture import print_mc
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.book import Book
from waney.yard.book.kiln_seen import back_since, read_since_kiln, wanted_of_kilns
from waney.yard.book.looking import PieceStands
from waney.yard.book.selling_seen import WishStands, let_go
from waney.yard.book.stack_seen import wanted_on_stacks
from waney.yard.book.standing_since import came_on
from waney.yard.here import day_here
from waney.yard.problems import NotPossible
from waney.yard.services.hand import Hand
from waney.yard.services.moisture_told import held_by_day, meter_of
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
    news = _news(book, today, {piece.id: piece for one in met for piece in one.pieces})
    told = [WhoAsked(one.wish, _fitting(one.pieces, news)) for one in met]
    return tuple(sorted(told, key=lambda one: one.pieces[0].on, reverse=True))


def _fitting(some: tuple[PieceStands, ...], news: dict[str, tuple[str, str]]) -> tuple[Fits, ...]:
    found = [Fits(piece, why, on) for piece in some for on, why in (news.get(piece.id, ("", "")),)]
    return tuple(sorted(found, key=lambda one: one.on, reverse=True))


def _news(book: Book, today: date, some: Mapping[str, PieceStands]) -> dict[str, tuple[str, str]]:
    """The last thing that made a piece one to tell of, by piece: day, words."""
    since = (today - NEWS_FOR).isoformat()
    named = [(piece, on.isoformat(), "named") for piece, on in came_on(book, some).items() if on.isoformat() >= since]
    free = [(piece, on, "out of a hold") for piece, on in let_go(book, since, today.isoformat()).items()]
    last: dict[str, tuple[str, str]] = {}
    for piece, on, why in sorted([*named, *free, *_home_dry(book, since), *_read_dry(book, since, some)], key=lambda one: one[1]):
        last[piece] = (on, why)
    return last


def _home_dry(book: Book, since: str) -> list[tuple[str, str, str]]:
    """What came back from a kiln lately and was read to be ready."""
    loads = back_since(book, since)
    return [
        (held.piece.id, day_here(held.back_at).isoformat(), "dry")
        for load in loads
        for held in ready_of_load(book, load.id).get(Word.READY, ())
    ]


def _read_dry(book: Book, since: str, some: Mapping[str, PieceStands]) -> Iterator[tuple[str, str, str]]:
    """What was lately read for the first time to be as dry as its stack is to come, else air-dry; eight queries, however many.

    Of a piece of which something was wanted at someone else's kiln that decides, as `_home_dry`.
    """
    read, wanted, meter = read_since_kiln(book, some), wanted_on_stacks(book, some), meter_of(book)
    for ident in sorted(read.keys() - wanted_of_kilns(book, some)):
        days = held_by_day(read[ident], some[ident].species, meter)
        on = dry_since(days, wanted.get(ident, AIR_DRY))
        if on is not None and on.isoformat() >= since:
            first = next(one for one in days if one.day == on)
            yield ident, on.isoformat(), f"dry at {print_mc(first.mc.likely)}"


def leave_wish_for(hand: Hand, who: str, wish: WishLeft, today: str) -> None:
    """A wish of somebody by name, who is written down where nobody is called so yet; wish: its person is still to be told.

    Raises NotPossible for a name that several bear, or for a day that is over.
    """
    if wish.until < today:
        raise NotPossible("That day is over; a wish stands until a day that comes.")
    person = buyer_called(hand.book, who) or add_buyer(hand, who).id
    sizes = (wish.thickness_m, wish.most_thickness_m, wish.width_m, wish.length_m)
    leave_wish(hand, WishLeft(wish.wish, person, wish.until, wish.species, *sizes))
