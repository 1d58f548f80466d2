"""Quotes of pieces: made for one buyer, listed while they are open, on paper, a sale in one press; our floor is on none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.paper import paper_pdf
from waney.papers.piece_quote import PieceQuote, quote_of_pieces
from waney.trade.local_rules import Question, known_of, state_of
from waney.trade.tax import tax_lines
from waney.units.money import parse_money
from waney.web.as_sold import as_sold_piece
from waney.web.asked_of_sale import rules_for_a_buyer
from waney.web.forms import Fields, Sent, own_alone
from waney.web.loads_asked import moistures_in_words
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of, writes, yard_called
from waney.web.showing import Figures, page, session_at, shop_of
from waney.web.tag_names import names_in, piece_named
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy
from waney.yard.book.drying_seen import last_moistures
from waney.yard.book.kiln_seen import read_since_kiln
from waney.yard.book.looking import PieceStands, pieces_by_id
from waney.yard.book.selling_seen import prices_asked
from waney.yard.book.stack_seen import ReadOf
from waney.yard.problems import NotInBook
from waney.yard.services.quotes import Quote, end_quote, quote_for, quoted, sell_quote
from waney.yard.services.settings import shop_taxes

router = Router()
GOOD_DAYS = 14
"""a quote, unless another day is chosen"""
MOST_CLOSED = 20
FIELDS = ("buyer", "until", "words", "more", "goes_to")
OWN = "Sign in to make quotes and to look at them: they name buyers."


@router.get("/quotes")
def of_all(request: Request) -> Response:
    """Those that are open, then the last that are not; nothing while a buyer looks on."""
    shop, seen = shop_of(request), session_at(request).sees_own
    found = quoted(shop.book, shop.today().isoformat()) if seen else ()
    shown = {
        "open": [one for one in found if one.open],
        "closed": [one for one in found if not one.open][:MOST_CLOSED],
        "currency": currency_of(shop.settled()),
    }
    return page(request, "quotes.html", shown)


@router.get("/quotes/new")
def new(request: Request) -> Response:
    """The form; `?piece=` names what stands in it. Raises NotSignedIn, NotPossible while our own figures are hidden."""
    own_alone(request, OWN)
    asked = request.query_params
    return _making(request, asked.getlist("piece"), dict(asked), {})


def _making(request: Request, pieces: Sequence[str], typed: Mapping[str, str], wrong: Mapping[str, str]) -> Response:
    shop = shop_of(request)
    some = pieces_by_id(shop.book, pieces)
    prices = prices_asked(shop.book, [one.id for one in some])
    asked = {one.id: typed.get(f"cents-{one.id}") or _plain(prices.get(one.id)) for one in some}
    until = (shop.today() + timedelta(days=GOOD_DAYS)).isoformat()
    shown = {
        "pieces": some,
        "asked": asked,
        "typed": {
            "buyer": "",
            "words": "",
            "more": "",
            "goes_to": "",
            "until": until,
            **{name: typed[name] for name in FIELDS if typed.get(name)},
        },
        "keep": bool(typed.get("keep")),
        "alone": bool(typed.get("alone")),
        "wrong": wrong,
        "parted": any(one.together for one in some),
        "below": _below(shop, [(one, _cents(asked[one.id], currency_of(shop.settled()))) for one in some]),
        "currency": currency_of(shop.settled()),
    }
    return page(request, "quote_new.html", shown, status=422 if wrong else 200)


def _below(shop: Shop, some: Sequence[tuple[PieceStands, int | None]]) -> dict[str, int]:
    from waney.yard.services.earning import sold_below_cost

    return sold_below_cost(shop.book, some, shop.today())


def _cents(typed: str, currency: str | None) -> int | None:
    """None for nothing, and for what cannot be read: that is said at the field."""
    try:
        return parse_money(typed, currency).cents if typed else None
    except Problem:
        return None


def _plain(price: tuple[int, str] | None) -> str:
    return "" if price is None else f"{price[0] / 100:.2f}"


@router.post("/quotes")
def make(sent: Sent) -> Response:
    """More pieces are named, or the quote is written. Raises NotAllowed, NotSignedIn, NotPossible."""
    own_alone(sent.request, OWN)
    sent.decides()
    shop, fields, pieces = shop_of(sent.request), Fields(sent), list(sent.all("piece"))
    typed = sent.typed
    if sent.text("more"):
        for name in names_in(sent.text("more")):
            try:
                pieces.append(piece_named(shop.book, name))
            except Problem as slip:
                fields.wrong["more"] = str(slip)
        if not fields.wrong:
            typed = {**typed, "more": ""}
    if len(pieces_by_id(shop.book, pieces)) < len(set(pieces)):
        fields.wrong["do"] = "A piece of this form is not in the book; load the page anew."
    if sent.text("do") == "add" or fields.wrong:
        return _making(sent.request, list(dict.fromkeys(pieces)), typed, fields.wrong)
    some = _priced(fields, pieces, currency_of(shop.settled()))
    known = fields.needed("buyer", "Who is it for? What to call them is enough.")
    if not fields.wrong:
        try:
            alone, keep, goes_to = bool(sent.text("alone")), bool(sent.text("keep")), sent.text("goes_to")
            good = (sent.text("until"), sent.text("words"))
            made = quote_for(sent.hand, some, known, *good, goes_to=goes_to, keep=keep, breaks_set=alone)
            return RedirectResponse(f"/quotes/{made}", 303)
        except Problem as refused:
            fields.wrong["do"] = str(refused)
    return _making(sent.request, list(dict.fromkeys(pieces)), typed, fields.wrong)


def _priced(fields: Fields, pieces: Sequence[str], currency: str | None) -> list[PricedPiece]:
    """Each with its price; a piece without one is noted."""
    some = []
    for piece in dict.fromkeys(pieces):
        cents = fields.read(f"cents-{piece}", lambda text: parse_money(text, currency).cents)
        if cents is not None:
            some.append(PricedPiece(piece, cents))
        elif f"cents-{piece}" not in fields.wrong:
            fields.wrong[f"cents-{piece}"] = "For how much? Write its price before tax."
    if not pieces:
        fields.wrong["more"] = "Name a piece at least."
    return some


@router.get("/quotes/{quote}")
def of_one(request: Request, quote: str) -> Response:
    """One of them. Raises NotInBook."""
    return _shown(request, quote, "")


def _shown(request: Request, ident: str, wrong: str) -> Response:
    shop = shop_of(request)
    one = _quote(shop, ident)
    seen, some = session_at(request).sees_own, one.left if one.open else one.pieces
    shown = {
        "one": one if seen else None,
        "currency": currency_of(shop.settled()),
        "cents": sum(cents for _, cents in some),
        "taxes": _taxes(shop, some) if seen else (),
        "below": _below(shop, one.pieces) if seen else {},
        "ways_paid": list(PaidBy),
        "wrong": wrong,
        "parted": any(piece.together for piece, _ in one.left),
        "quote": ident,
        "rules": _rules(shop, one) if seen and one.quote.goes_to else (),
        "goes_known": known_of(state_of(one.quote.goes_to)),
    }
    return page(request, "quote.html", shown, status=422 if wrong else 200)


def _rules(shop: Shop, one: Quote) -> tuple[Question, ...]:
    """What whoever takes the wood to the place it goes to has to ask, each once."""
    return rules_for_a_buyer(shop.settled(), dict.fromkeys(piece.species for piece, _ in one.pieces), one.quote.goes_to)


def _quote(shop: Shop, ident: str) -> Quote:
    found = next(iter(quoted(shop.book, shop.today().isoformat(), ident)), None)
    if found is None:
        raise NotInBook("There is no such quote in the book.")
    return found


def _taxes(shop: Shop, some: Sequence[tuple[PieceStands, int]]) -> list[tuple[str, int]]:
    return [(line.words, line.cents) for line in tax_lines([cents for _, cents in some], shop_taxes(shop.settled()))]


@router.post("/quotes/{quote}")
def settle(quote: str, sent: Sent) -> Response:
    """It becomes a sale, or nothing comes of it. Raises NotSignedIn, NotPossible, NotInBook."""
    own_alone(sent.request, OWN)
    shop = shop_of(sent.request)
    today, one = shop.today().isoformat(), _quote(shop, quote)
    if sent.text("do") == "over":
        end_quote(sent.hand, quote, today)
        return RedirectResponse("/quotes", 303)
    ticked = [part for part in one.left if part[0].id in sent.all("piece")]
    try:
        by, alone = sent.choice("by", PaidBy, PaidBy.CASH), bool(sent.text("alone"))
        ids = [piece.id for piece, _ in ticked]
        sale = sell_quote(sent.hand, quote, ids, today, _taxes(shop, ticked), by, breaks_set=alone)
    except Problem as refused:
        return _shown(sent.request, quote, str(refused))
    return RedirectResponse(f"/buyers/{one.quote.person}#{sale}", 303)


@router.get("/quotes/{quote}/quote.pdf")
def quote_paper(request: Request, quote: str) -> Response:
    """For its buyer. Raises NotSignedIn, NotPossible while our own figures are hidden, NotInBook."""
    own_alone(request, OWN)
    shop, one = shop_of(request), _quote(shop_of(request), quote)
    settled = shop.settled()
    currency, taxes = currency_of(settled), _taxes(shop, one.pieces)
    read = read_since_kiln(shop.book, [piece.id for piece, _ in one.pieces])
    told = PieceQuote(
        yard_called(settled),
        one.quote.called,
        date.fromisoformat(one.quote.until),
        bool(one.quote.hold),
        tuple(
            (
                as_sold_piece(piece, Figures.money(cents, currency)),
                moistures_in_words(last_moistures(read.get(piece.id, ReadOf()).moistures)) or "not read",
            )
            for piece, cents in one.pieces
        ),
        tuple((words, Figures.money(cents, currency)) for words, cents in taxes),
        Figures.money(one.quote.cents + sum(cents for _, cents in taxes), currency),
        one.quote.words,
    )
    return file(paper_pdf(quote_of_pieces(told, writes(settled), shop.today()), shop.today()), "quote.pdf", PDF)
