"""Promised lists: holds, quotes, wishes and custom jobs as CSV and as a spreadsheet, for who may see our own figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from starlette.requests import Request

from waney.papers.listing import Listing
from waney.papers.promised_lists import (
    HoldLine,
    JobLine,
    QuoteLine,
    WishLine,
    holds_list,
    jobs_list,
    quotes_list,
    wishes_list,
)
from waney.web.forms import own_alone
from waney.web.pages.custom import next_step
from waney.web.pages.lists import as_files
from waney.web.routes import Router
from waney.web.shop import currency_of, writes
from waney.web.showing import Figures, shop_of
from waney.yard.book.custom_seen import CustomStands, customs
from waney.yard.book.looking import pieces_by_id
from waney.yard.book.selling_seen import HoldStands, holds, wishes
from waney.yard.here import day_here
from waney.yard.services.quotes import Quote, quoted

router = Router()
NAMES = "It names buyers and customers; sign in to read it."
TAKEN_BACK = "taken back in the book"


def _holds(request: Request) -> Listing:
    own_alone(request, NAMES)
    shop = shop_of(request)
    told, today = holds(shop.book), shop.today().isoformat()
    names = {piece.id: piece.name for piece in pieces_by_id(shop.book, (piece for hold in told for piece in hold.pieces))}
    rows = [line for hold in told for line in _held(hold, names, today)]
    return holds_list(rows, currency_of(shop.settled()) or "")


def _held(hold: HoldStands, names: Mapping[str, str], today: str) -> Iterator[HoldLine]:
    state = hold.ended or ("somebody else came first" if hold.lost_to else "stands" if hold.until >= today else "its day is over")
    deposit: int | None = hold.deposit_cents
    for piece in hold.pieces:
        yield HoldLine(names.get(piece, TAKEN_BACK), hold.called, date.fromisoformat(hold.until), deposit, state)
        deposit = None


def _quotes(request: Request) -> Listing:
    own_alone(request, NAMES)
    shop = shop_of(request)
    rows = [line for one in quoted(shop.book, shop.today().isoformat()) for line in _quoted(one)]
    return quotes_list(rows, currency_of(shop.settled()) or "")


def _quoted(one: Quote) -> Iterator[QuoteLine]:
    quote = one.quote
    on, until = day_here(quote.on), date.fromisoformat(quote.until)
    state = quote.ended or ("its day is over" if not one.runs else "open, kept for them" if quote.hold else "open")
    for piece, cents in one.pieces:
        yield QuoteLine(on, piece.name, quote.called, cents, until, state, piece in one.taken, quote.goes_to)


def _wishes(request: Request) -> Listing:
    from waney.yard.services.wishes import who_asked  # loads what says when wood is dry

    own_alone(request, NAMES)
    shop = shop_of(request)
    met = {one.wish.id: tuple(fit.piece.name for fit in one.pieces) for one in who_asked(shop.book, shop.today())}
    rows = [
        WishLine(
            wish.called, Figures.wood(wish.species) if wish.species else "", wish.thickness_m, wish.most_thickness_m,
            wish.width_m, wish.length_m, date.fromisoformat(wish.until), met.get(wish.id, ()),
        )
        for wish in wishes(shop.book, shop.today().isoformat())
    ]  # fmt: skip
    return wishes_list(rows, writes(shop.settled()))


def _jobs(request: Request) -> Listing:
    own_alone(request, NAMES)
    shop = shop_of(request)
    settled = shop.settled()
    return jobs_list([_job(one) for one in customs(shop.book)], writes(settled), currency_of(settled) or "")


def _job(one: CustomStands) -> JobLine:
    told = [log.hours for log in one.logs if log.hours is not None]
    agreed = date.fromisoformat(one.agreed_on) if one.agreed_on else None
    billed = None if one.bill is None else one.bill.total_cents
    logs, how = tuple(log.name for log in one.logs), str(one.how or "")
    money = (billed, one.paid_cents, one.owed_cents)
    hours = sum(told) if told else None
    return JobLine(one.called, logs, one.way_m, one.way_hours, how, agreed, hours, *money, next_step(one)[0])


as_files(router, "/holds", _holds)
as_files(router, "/quotes", _quotes)
as_files(router, "/wishes", _wishes)
as_files(router, "/custom", _jobs)
