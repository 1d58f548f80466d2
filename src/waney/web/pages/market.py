"""Market day: pieces are taken along, sold where nothing reaches the book, and come home; what the day came to."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from waney.figures.problem import Problem
from waney.units.money import parse_money
from waney.web.away import inside
from waney.web.device import device_of, known_again, taken_along
from waney.web.forms import BadField, Fields, NotSignedIn, Sent
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of
from waney.web.showing import page, session_at, shop_of
from waney.web.tag_names import names_in, piece_named, without_mark
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy
from waney.yard.book.around import spots
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.book.selling_seen import LeaseStands, leases, prices_asked
from waney.yard.problems import BadName, NotInBook

router = Router()
A_PAGE = 100
LATELY = 5
"""selling days that are listed"""


@router.get("/market")
def market(request: Request) -> Response:
    """With a lease, the page that is taken along; without, what to take."""
    device = device_of(request)
    lease = _open(shop_of(request), device)
    if lease is None:
        typed = {"names": "", "where": "", "until": shop_of(request).today().isoformat()}
        return known_again(request, _choosing(request, typed, {}, (), ()), device)
    return taken_along(request, _selling(request, lease, {}), device)


def _open(shop: Shop, device: str) -> LeaseStands | None:
    from waney.yard.services.market import open_lease

    return open_lease(shop.book, device)


def _choosing(
    request: Request, typed: dict[str, str], wrong: dict[str, str], chosen: tuple[str, ...], stays: tuple[str, ...]
) -> Response:
    """chosen: pieces that stay ticked, those that are not on this page too."""
    shop, asked = shop_of(request), request.query_params
    found = find_pieces(shop.book, Wanted(words=asked.get("words", "").strip()), A_PAGE)
    shown = {
        "found": found,
        "prices": prices_asked(shop.book, [piece.id for piece in found.rows]),
        "currency": currency_of(shop.settled()),
        "spots": spots(shop.book),
        "typed": typed,
        "beyond": [piece for piece in chosen if piece not in {row.id for row in found.rows}],
        "words": asked.get("words", ""),
        "chosen": chosen,
        "stays": stays,
        "wrong": wrong,
        "lately": leases(shop.book)[:LATELY],
    }
    return page(request, "market_take.html", shown, status=422 if wrong or stays else 200)


def _selling(request: Request, lease: LeaseStands, wrong: dict[str, str], status: int = 200) -> Response:
    from waney.web.market_day import as_json, market_of
    from waney.yard.services.market import market_day

    shop = shop_of(request)
    told = market_day(shop.book, lease)
    holds = market_of(shop, session_at(request).member, device_of(request), told)
    shown = {
        "holds": holds,
        "json": inside(as_json(holds)),
        "told": told,
        "currency": currency_of(shop.settled()),
        "wrong": wrong,
    }
    return page(request, "market.html", shown, status=status)


@router.get("/api/market")
def market_json(request: Request) -> Response:
    """The lease that a page holds as it stands now, for the page's module when it is in reach again: buyers' names are in it.

    Raises NotSignedIn, NotInBook.
    """
    from waney.web.market_day import as_json, news_of
    from waney.yard.services.market import lease_called, market_day

    session = session_at(request)
    if session.member is None:
        raise NotSignedIn("Sign in again to go on selling; nothing is lost.")
    book = shop_of(request).book
    told = market_day(book, lease_called(book, request.query_params.get("lease", "")))
    holds = news_of(shop_of(request), session.member, device_of(request), told)
    return JSONResponse(as_json(holds) | {"token": session.token})


@router.get("/api/market/{lease}/others")
def others(request: Request, lease: str) -> Response:
    """What the page of a large yard asks for when it is there: what is not along. Raises NotInBook."""
    from waney.web.market_day import as_json, rest_of
    from waney.yard.services.market import lease_called

    shop = shop_of(request)
    answer = JSONResponse(as_json(rest_of(shop, lease_called(shop.book, lease))))
    return taken_along(request, answer, device_of(request))


@router.post("/market")
def write(sent: Sent) -> Response:
    """What was pressed: take, rest, sell, ask, close. Raises BadField."""
    do = sent.text("do")
    lease = _open(shop_of(sent.request), device_of(sent.request))
    if do in ("take", "rest", "nothing") and lease is not None:
        return RedirectResponse("/market", 303)  # the button was pressed twice
    if do in ("take", "rest"):
        return _take(sent, rest=do == "rest")
    if do == "nothing":
        return _go(sent, ())
    acts = {"sell": _sell, "ask": _ask, "close": _close}
    if lease is None or do not in acts:
        raise BadField("Nothing is taken along with this browser; load the page anew.")
    fields = Fields(sent)
    try:
        acts[do](sent, fields, lease)
    except Problem as refused:
        fields.wrong.setdefault("do", str(refused))
    if fields.wrong:
        return _selling(sent.request, lease, fields.wrong, 422)
    return RedirectResponse(f"/market/{lease.id}" if do == "close" else "/market", 303)


def _take(sent: Sent, *, rest: bool) -> Response:
    from waney.yard.services.market import stays_here

    shop, wrong = shop_of(sent.request), dict[str, str]()
    some = _chosen(sent, shop, wrong)
    typed = {"names": sent.text("names") if wrong else "", "where": sent.text("where"), "until": sent.text("until")}
    stays = stays_here(shop.book, some, shop.today().isoformat())
    free = tuple(piece for piece in some if piece not in stays)
    if not (wrong or free):
        wrong["names"] = "None of these can be taken along." if some else "Choose pieces, write their names, or choose a spot."
    if not sent.text("until"):
        wrong["until"] = "Until when? Nobody else can sell them before that day is over."
    if wrong or (stays and not rest):
        return _choosing(sent.request, typed, wrong, some, tuple(stays.values()))
    try:
        return _go(sent, free)
    except Problem as refused:
        return _choosing(sent.request, typed, {"names": str(refused)}, some, ())


def _go(sent: Sent, some: Sequence[str]) -> Response:
    """The day begins; without a piece this browser can only ask. Raises NotPossible, BadField."""
    from waney.yard.services.selling import take_along

    device = device_of(sent.request)
    until = sent.text("until") or shop_of(sent.request).today().isoformat()
    take_along(sent.hand, some, until, sent.text("where"), device)
    return known_again(sent.request, RedirectResponse("/market", 303), device)


def _chosen(sent: Sent, shop: Shop, wrong: dict[str, str]) -> tuple[str, ...]:
    """Pieces that were ticked, named, or that stand on a spot, each once."""
    found = dict.fromkeys(sent.all("piece"))
    for name in names_in(sent.text("names")):
        try:
            found[piece_named(shop.book, name)] = None
        except (BadName, NotInBook) as slip:
            wrong["names"] = str(slip)
    if sent.text("spot"):
        there = find_pieces(shop.book, Wanted(spot=sent.text("spot")), limit=500)
        found |= dict.fromkeys(piece.id for piece in there.rows)
    return tuple(found)


def _sell(sent: Sent, fields: Fields, lease: LeaseStands) -> None:
    from waney.trade.tax import tax_lines
    from waney.yard.services.market import sell_away
    from waney.yard.services.selling import new_sale
    from waney.yard.services.settings import shop_taxes

    shop = shop_of(sent.request)
    price = fields.read("paid", lambda text: parse_money(text, currency_of(shop.settled())))
    if price is None:
        fields.wrong.setdefault("paid", "For how much? Write the price agreed, before tax.")
        return
    if sent.text("piece") not in lease.pieces():
        raise BadField("That piece is not with you; it can only be asked for.")
    taxes = [(line.words, line.cents) for line in tax_lines([price.cents], shop_taxes(shop.settled()))]
    some, on = [PricedPiece(sent.text("piece"), price.cents)], shop.today().isoformat()
    sale = new_sale(sent.hand, some, on, "", taxes, sent.choice("by", PaidBy, PaidBy.CASH))
    sell_away(sent.hand, sale, sent.text("buyer"), lease.id)


def _ask(sent: Sent, fields: Fields, lease: LeaseStands) -> None:
    """Without the page's module the book is in reach: it answers at once."""
    from waney.yard.services.selling import hold_for

    who = fields.needed("kept_for", "Who is it kept for? What to call them is enough.")
    piece = piece_named(shop_of(sent.request).book, without_mark(sent.text("name"))) if who else ""
    if piece in lease.pieces():
        raise BadField("That piece is with you: sell it, or lay it aside.")
    if piece:
        hold_for(sent.hand, [piece], who, sent.text("until"), 0)


def _close(sent: Sent, fields: Fields, lease: LeaseStands) -> None:
    from waney.yard.services.selling import come_home

    del fields
    come_home(sent.hand, lease.id, [piece for piece in sent.all("home") if piece in lease.pieces()])


@router.get("/market/{lease}")
def day(request: Request, lease: str) -> Response:
    """What a selling day came to. Raises NotInBook."""
    from waney.yard.services.amends import paid_for_gone
    from waney.yard.services.market import lease_called, market_day

    shop = shop_of(request)
    told = market_day(shop.book, lease_called(shop.book, lease))
    mine = {sale.id for sale in told.sold}
    shown = {
        "told": told,
        "gone": [one for one in paid_for_gone(shop.book, shop.today().isoformat()) if one.sale.id in mine],
        "currency": currency_of(shop.settled()),
        "mine": told.lease.device == device_of(request),
    }
    return page(request, "market_day.html", shown)


@router.post("/market/{lease}")
def end(lease: str, sent: Sent) -> Response:
    """Ended at the desk, where its phone is lost; what it sends later is written all the same. Raises NotInBook."""
    from waney.yard.services.market import lease_called
    from waney.yard.services.selling import come_home

    found = lease_called(shop_of(sent.request).book, lease)
    come_home(sent.hand, found.id, [piece for piece in sent.all("home") if piece in found.pieces()])
    return RedirectResponse(f"/market/{lease}", 303)


@router.post("/gone/{sale}/{piece}")
def amends(sale: str, piece: str, sent: Sent) -> Response:
    """What was paid for and is gone: another is taken instead, or the money goes back. Raises NotInBook, NotPossible."""
    from waney.yard.services.amends import give_another, give_back, gone_one

    shop = shop_of(sent.request)
    today = shop.today().isoformat()
    gone = gone_one(shop.book, sale, piece, today)
    if sent.text("instead"):
        give_another(sent.hand, gone, sent.text("instead"), today)
    else:
        give_back(sent.hand, gone, gone.due_cents)
    return RedirectResponse("/", 303)
