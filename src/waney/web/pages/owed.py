"""What buyers still owe, sale by sale, and money that came for it."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.units.money import parse_money
from waney.web.forms import Fields, Sent, own_alone
from waney.web.routes import Router
from waney.web.shop import currency_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.sales import MONEY_COMES_BY, PaidBy
from waney.yard.book.looking import pieces_by_id
from waney.yard.book.selling_seen import SaleStands, sales
from waney.yard.problems import NotInBook, NotPossible

router = Router()


@router.get("/owed")
def owed(request: Request) -> Response:
    """The newest sale first; nothing while a buyer looks on."""
    return _shown(request, "", {})


def _shown(request: Request, about: str, wrong: dict[str, str]) -> Response:
    shop, seen = shop_of(request), session_at(request).sees_own
    open_sales = [sale for sale in sales(shop.book) if sale.owed_cents > 0][::-1] if seen else []
    names = {one.id: one for one in pieces_by_id(shop.book, [part.piece for sale in open_sales for part in sale.pieces])}
    shown = {
        "sales": [(sale, [names[part.piece] for part in sale.pieces if part.piece in names]) for sale in open_sales],
        "owed_cents": sum(sale.owed_cents for sale in open_sales),
        "currency": currency_of(shop.settled()),
        "ways": MONEY_COMES_BY,
        "about": about,
        "wrong": wrong,
    }
    return page(request, "owed.html", shown, status=422 if wrong else 200)


@router.post("/sales/{sale}/paid")
def money_came(sale: str, sent: Sent) -> Response:
    """Money came for a sale. Raises NotSignedIn, NotPossible, NotInBook."""
    from waney.yard.services.selling import pay

    own_alone(sent.request, "Sign in to write down money that came.")
    shop, fields = shop_of(sent.request), Fields(sent)
    stands = _sale(sent, sale)
    currency = currency_of(shop.settled())
    fields.needed("amount", "How much came?")
    cents = fields.read("amount", lambda text: parse_money(text, currency).cents)
    if cents is not None and not 0 < cents <= stands.owed_cents:
        fields.wrong["amount"] = "Write what came: something, and no more than is owed."
    if fields.wrong or cents is None:
        return _shown(sent.request, sale, fields.wrong)
    try:
        pay(sent.hand, f"sale:{sale}", cents, sent.choice("by", PaidBy, PaidBy.CASH))
    except NotPossible as refused:
        return _shown(sent.request, sale, {"amount": str(refused)})
    return RedirectResponse("/owed", 303)


def _sale(sent: Sent, ident: str) -> SaleStands:
    found = next(iter(sales(shop_of(sent.request).book, sale=ident)), None)
    if found is None:
        raise NotInBook("There is no such sale in the book.")
    return found
