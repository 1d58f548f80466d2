"""Deposits that lie here, and what becomes of one whose hold is over: given back, or kept, as it is said."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.units.money import parse_money
from waney.web.forms import Fields, Sent, own_alone
from waney.web.routes import Router
from waney.web.shop import currency_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.book.looking import pieces_by_id
from waney.yard.problems import NotPossible
from waney.yard.services.deposits import deposits, settle_deposit

router = Router()


@router.get("/deposits")
def lying(request: Request) -> Response:
    """Those of holds that are over first, each with its form; nothing while a buyer looks on."""
    return _shown(request, "", {})


def _shown(request: Request, about: str, wrong: dict[str, str]) -> Response:
    shop = shop_of(request)
    found = deposits(shop.book, shop.today().isoformat()) if session_at(request).sees_own else ()
    over = [one for one in found if one.over]
    shown = {
        "over": [(one, pieces_by_id(shop.book, one.hold.pieces)) for one in over],
        "over_cents": sum(one.cents for one in over),
        "problem": "" if about in [one.hold.id for one in over] else " ".join(wrong.values()),
        "standing": [(one, pieces_by_id(shop.book, one.hold.pieces)) for one in found if not one.over],
        "currency": currency_of(shop.settled()),
        "about": about,
        "wrong": wrong,
    }
    return page(request, "deposits.html", shown, status=422 if wrong else 200)


@router.post("/deposits/{hold}")
def settle(hold: str, sent: Sent) -> Response:
    """So much was given back, the rest is kept. Raises NotSignedIn, NotInBook, NotPossible while own figures are hidden."""
    own_alone(sent.request, "Sign in to write down what becomes of a deposit.")
    shop = shop_of(sent.request)
    fields, currency = Fields(sent), currency_of(shop.settled())
    fields.needed("given_back", "How much is given back? Write 0 where all of it is kept.")
    cents = fields.read("given_back", lambda text: parse_money(text, currency).cents)
    if not fields.wrong and cents is not None:
        try:
            settle_deposit(sent.hand, hold, cents, shop.today().isoformat())
            return RedirectResponse("/deposits", 303)
        except NotPossible as refused:
            fields.wrong["given_back"] = str(refused)
    return _shown(sent.request, hold, fields.wrong)
