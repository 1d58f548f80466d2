"""A stock count as a page takes it along: what is looked for, what should not be there, and the tags seen until now."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.figures.json_out import Encoder
from waney.figures.typed_json import Json
from waney.web.access.members import Member
from waney.web.away import words_of
from waney.web.names_along import Run, runs
from waney.web.shop import Shop, writes
from waney.web.showing import Figures
from waney.yard.book.counting_seen import CountStands, count_pieces, seen
from waney.yard.services.counting import NOT_FOUND, Listed, LookedFor, in_full, looked_for

FORMAT = "waney-count/2"
NOT_TOLD = "spot not told"
MOST_ITEMS = 300
"""pieces that a page knows all of; of more it knows the name, where they stand, and whether they are looked for"""


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
class Place:
    """How pieces stand of which the page knows the name. where: what their spot is called."""

    expected: bool
    away: str
    where: str


@dataclass(frozen=True)
class NamesOnly:
    """The pieces beside the items. at: for each, in their order, four hexadecimal digits: which of the places is its."""

    places: tuple[Place, ...]
    names: tuple[Run, ...]
    at: str


@dataclass(frozen=True)
class Rest:
    """What is looked for, and what else a tag may stand on."""

    items: tuple[Item, ...] = ()
    others: NamesOnly = NamesOnly((), (), "")


@dataclass(frozen=True)
class Count:
    """What the page holds. spot: where what was found is put, empty for the whole yard; not_found: the words with which a piece
    is told to be lost; missing: how many were not seen yet; more: where the rest is asked for, empty where it is here."""

    format: str
    device: str
    person: str
    count: str
    ended: bool
    spot: str
    where: str
    not_found: str
    missing: int
    more: str
    items: tuple[Item, ...]
    others: NamesOnly
    seen: tuple[TagRead, ...]


def count_of(shop: Shop, member: Member | None, device: str, count: CountStands, missing: int, whole: bool = False) -> Count:
    """As it stands now; whole: with what is looked for, unless that is told apart because the yard is large."""
    large = count_pieces(shop.book) > MOST_ITEMS
    rest = rest_of(shop, count) if whole and not large else Rest()
    tags = tuple(TagRead(tag.name, tag.piece) for tag in seen(shop.book, count.id))
    where, person = count.spot_called or "The whole yard", member.person if member else ""
    about = (FORMAT, device, person, count.id, count.ended_seq is not None, count.spot, where, NOT_FOUND, missing)
    return Count(*about, f"/api/stock-count/{count.id}/pieces" if large else "", rest.items, rest.others, tags)


def rest_of(shop: Shop, count: CountStands) -> Rest:
    """All of some pieces, first of those that are looked for; of the others the name and how they stand."""
    lines, write = looked_for(shop.book, count, shop.today().isoformat()), writes(shop.settled())
    near = sorted(lines, key=lambda line: (not line.expected, bool(line.away)))[:MOST_ITEMS]
    known = {line.stands.id for line in near}
    items = tuple(
        Item(one.piece.id, one.piece.name, words_of(one.piece, write), one.expected, one.away, one.end, last_words(one))
        for one in in_full(shop.book, near)
    )
    return Rest(items, _names_only([line for line in lines if line.stands.id not in known]))


def _names_only(some: Sequence[LookedFor]) -> NamesOnly:
    """some: by name."""
    places: dict[tuple[bool, str, str], str] = {}
    at = [places.setdefault((each.expected, each.away, each.stands.spot_called), f"{len(places):04x}") for each in some]
    told = tuple(Place(expected, away, where or NOT_TOLD) for expected, away, where in places)
    return NamesOnly(told, runs((each.stands.code, each.stands.number, each.stands.id) for each in some), "".join(at))


def last_words(line: Listed) -> str:
    """Where and when somebody had it before them last."""
    where = line.piece.spot_called or NOT_TOLD
    return f"{where}, {Figures.day(line.last_on)}" if line.last_on else where


def as_json(told: Count | Rest) -> Json:
    """For the page."""
    return Encoder().encode(told, type(told))
