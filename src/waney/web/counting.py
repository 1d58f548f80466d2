"""A stock count as a page takes it along: every piece with whether it should be there, and the tags seen until now."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from waney.figures.typed_json import Encoder, Json
from waney.web.access.members import Member
from waney.web.away import words_of
from waney.web.shop import Shop, writes
from waney.web.showing import Figures
from waney.yard.book.counting_seen import CountStands, seen
from waney.yard.services.counting import NOT_FOUND, Listed, listed

FORMAT = "waney-count/1"
ENDED_FOR = timedelta(days=400)
"""so long a page that is taken along knows what was sold, lost or burnt (ours); the book knows it for ever"""


@dataclass(frozen=True)
class Item:
    """A piece. expected: it should be there; away: why it need not be; end: the command that says it is no more; last: where and
    when somebody had it before them last, in words."""

    piece: str
    name: str
    words: str
    expected: bool
    away: str
    end: str
    last: str


@dataclass(frozen=True)
class TagRead:
    """A tag that the book knows was seen. piece: empty for none that is in the book."""

    name: str
    piece: str


@dataclass(frozen=True)
class Count:
    """What the page holds. spot: where what was found is put, empty for the whole yard; not_found: the words with which a piece
    is told to be lost."""

    format: str
    device: str
    person: str
    count: str
    ended: bool
    spot: str
    where: str
    not_found: str
    items: tuple[Item, ...]
    seen: tuple[TagRead, ...]


def count_of(shop: Shop, member: Member | None, device: str, count: CountStands) -> Count:
    """All of it, as it stands now."""
    write = writes(shop.settled())
    since, read = (shop.today() - ENDED_FOR).isoformat(), seen(shop.book, count.id)
    found = {tag.piece for tag in read}
    every = listed(shop.book, count, shop.today().isoformat())
    lines = [line for line in every if not line.piece.ended or line.ended_on >= since or line.piece.id in found]
    items = tuple(
        Item(line.piece.id, line.piece.name, words_of(line.piece, write), line.expected, line.away, line.end, last_words(line))
        for line in lines
    )
    tags = tuple(TagRead(tag.name, tag.piece) for tag in read)
    where = count.spot_called or "The whole yard"
    person = member.person if member else ""
    return Count(
        FORMAT, device, person, count.id, count.ended_seq is not None, count.spot, where, NOT_FOUND, items, tags
    )  # fmt: skip


def last_words(line: Listed) -> str:
    """Where and when somebody had it before them last."""
    where = line.piece.spot_called or "spot not told"
    return f"{where}, {Figures.day(line.last_on)}" if line.last_on else where


def as_json(count: Count) -> Json:
    """For the page."""
    return Encoder().encode(count, Count)
