"""Photos in a heap, kept without their place: one that shows a tag files itself, the rest are offered beside the day's record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from waney.figures.problem import Problem
from waney.yard.acts.people_places import PhotoTaken
from waney.yard.book.book import Book
from waney.yard.book.looking import named
from waney.yard.book.stories import Told, told_on
from waney.yard.here import day_here
from waney.yard.services.hand import Hand
from waney.yard.services.pictures import picture

NEAR = timedelta(minutes=20)
"""a photo is offered beside what was told so near in time (common practice, no source)"""
MOST_OFFERS = 5


@dataclass(frozen=True)
class Heaped:
    """What became of a photo. about: the stream it filed itself under; offers: what was told near its time, nearest first.

    sentence: why it was not kept, or why it did not file itself.
    """

    called: str
    photo: str
    about: str
    taken_at: str
    offers: tuple[Told, ...] = ()
    sentence: str = ""


def take_photos(hand: Hand, photos: Sequence[tuple[str, bytes]], zone: tzinfo, wet: bool | None = None) -> tuple[Heaped, ...]:
    """Keep photos, each by what it is called and its content; one that is none stops none of the others.

    zone: of the camera's clock where a photo does not say; wet: whether the wood in them is. Raises BookFull, BookBusy.
    """
    return tuple(_take(hand, called, content, zone, wet) for called, content in photos)


def _take(hand: Hand, called: str, content: bytes, zone: tzinfo, wet: bool | None) -> Heaped:
    try:
        seen = picture(content, zone)
    except Problem as why:
        return Heaped(called, "", "", "", sentence=str(why))
    streams = [each for each in (named(hand.book, str(tag)) for tag in seen.tags) if each is not None]
    about = streams[0] if len(streams) == 1 else ""
    ident, file = hand.new_id(), hand.book.files.keep(seen.content)
    hand.write(PhotoTaken(ident, file, about, seen.taken_at, wet=wet))
    sentence = "" if about else _why(len(seen.tags), len(streams))
    return Heaped(called, ident, about, seen.taken_at, () if about else offers(hand.book, seen.taken_at), sentence)


def _why(tags: int, known: int) -> str:
    if known > 1:
        return "It shows more than one tag; say which it is about."
    return "Its tag stands on nothing in the book yet." if tags else ""


def offers(book: Book, taken_at: str) -> tuple[Told, ...]:
    """What was told of the sawing day near the time of a photo, nearest first; nothing for a photo without a time."""
    if not taken_at:
        return ()
    when = datetime.fromisoformat(taken_at)
    near = [
        (abs(datetime.fromisoformat(told.event.happened_at) - when), told) for told in told_on(book, day_here(when).isoformat())
    ]
    nearest = sorted((each for each in near if each[0] <= NEAR), key=lambda each: (each[0], each[1].event.seq))
    return tuple(told for _, told in nearest[:MOST_OFFERS])
