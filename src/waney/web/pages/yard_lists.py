"""Yard lists: stacks, kiln loads, readings, offered trees, money spent and stock counts, as CSV and as a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from starlette.requests import Request

from waney.papers.listing import Listing
from waney.papers.yard_lists import (
    LoadLine,
    OfferLine,
    ReadingLine,
    SpentLine,
    StackLine,
    TagLine,
    counts_list,
    loads_list,
    offers_list,
    readings_list,
    spent_list,
    stacks_list,
)
from waney.web.forms import own_alone
from waney.web.pages.lists import as_files
from waney.web.routes import Router
from waney.web.shop import currency_of, writes
from waney.web.showing import Figures, session_at, shop_of
from waney.yard.book.around import spots
from waney.yard.book.book import Book
from waney.yard.book.counting_seen import CountStands, counts, seen
from waney.yard.book.drying_seen import LoadStands, Reading, every_reading, loads, stacks
from waney.yard.book.looking import names_of
from waney.yard.book.offered import TreeStands, trees
from waney.yard.book.spent_seen import spent_on
from waney.yard.here import clock_here, day_here

router = Router()
TAKEN_BACK = "taken back in the book"


def _stacks(request: Request) -> Listing:
    shop = shop_of(request)
    called = {spot.id: spot.called for spot in spots(shop.book)}
    rows = [
        StackLine(
            one.called, called.get(one.spot, ""), one.pieces, day_here(one.built_at), one.sticker_m, one.apart_m,
            "in the kiln" if one.load else "stands" if one.pieces else "taken down",
        )
        for one in stacks(shop.book)
    ]  # fmt: skip
    return stacks_list(rows, writes(shop.settled()))


def _loads(request: Request) -> Listing:
    seen_too = session_at(request).sees_own
    return loads_list([_load(one, seen_too) for one in loads(shop_of(request).book)])


def _load(one: LoadStands, sees_own: bool) -> LoadLine:
    state = ("back" if one.out else "at their kiln") if one.whose else "out" if one.out else "in the kiln"
    out = day_here(one.out_at) if one.out and one.out_at else None
    fee = one.fee if sees_own else ""
    return LoadLine(one.kiln, one.whose, one.pieces, day_here(one.in_at), out, state, fee, one.words)


def _readings(request: Request) -> Listing:
    shop = shop_of(request)
    told = every_reading(shop.book)
    names = names_of(shop.book, {about for about, _ in told})
    rows = [_reading(names.get(about, about.partition(":")[0]), one) for about, one in told]
    return readings_list(rows, writes(shop.settled()))


def _reading(name: str, one: Reading) -> ReadingLine:
    clock = clock_here(one.happened_at)
    how = (one.read_by, one.depth, one.wood_c, one.corrected)
    return ReadingLine(date.fromisoformat(clock[:10]), clock[11:], name, one.mc, one.mass_kg, *how)


def _offered(request: Request) -> Listing:
    own_alone(request, "It names where trees stand and what is asked for them; sign in to read it.")
    shop = shop_of(request)
    settled = shop.settled()
    return offers_list([_offer(one) for one in trees(shop.book)], writes(settled), currency_of(settled) or "")


def _offer(one: TreeStands) -> OfferLine:
    return OfferLine(
        Figures.wood(one.species), one.girth_m, one.small_end_m, one.length_m, one.asked_cents, one.where, one.way_m, one.hours,
        one.reply, one.reason, one.money_cents, one.words,
    )  # fmt: skip


def _spent(request: Request) -> Listing:
    own_alone(request, "What went into the wood is the shop's own; sign in to read it.")
    shop = shop_of(request)
    told = spent_on(shop.book)
    names = names_of(shop.book, {one.about for one in told})
    rows = [
        SpentLine(day_here(one.happened_at), names.get(one.about, TAKEN_BACK), one.what, one.cents, one.hours, one.words)
        for one in told
    ]
    return spent_list(rows, currency_of(shop.settled()) or "")


def _counts(request: Request) -> Listing:
    book = shop_of(request).book
    return counts_list([line for one in reversed(counts(book)) for line in _count(book, one)])


def _count(book: Book, one: CountStands) -> Iterator[TagLine]:
    state = "goes on" if one.ended_seq is None else "ended"
    begun, where = day_here(one.begun_at), one.spot_called or "the whole yard"
    tags = seen(book, one.id)
    yield from (TagLine(begun, where, state, tag.name, bool(tag.piece)) for tag in tags)
    if not tags:
        yield TagLine(begun, where, state, "", False)


as_files(router, "/stacks", _stacks)
as_files(router, "/loads", _loads)
as_files(router, "/readings", _readings)
as_files(router, "/offered", _offered)
as_files(router, "/spent", _spent)
as_files(router, "/stock-count", _counts)
