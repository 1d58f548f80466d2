"""A piece for sale: what is asked, who it is promised to, three prices above what it has cost; price, hold, sell, take back."""

from __future__ import annotations

from datetime import date, timedelta

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.units.money import parse_money
from waney.web.access.members import Role
from waney.web.forms import BadField, Fields, Sent
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.promises import PricedPiece
from waney.yard.acts.sales import PaidBy, Returned
from waney.yard.book.looking import PieceStands
from waney.yard.book.selling_seen import promises, sales
from waney.yard.book.stories import piece_story

router = Router()
KEPT_DAYS = 7
"""a hold, unless another day is chosen"""


@router.get("/pieces/{piece}/sale")
def for_sale(request: Request, piece: str) -> Response:
    """All of it; ?for=buyer: nothing of our own figures. Raises NotInBook."""
    return _shown(request, piece, {})


def _shown(request: Request, ident: str, wrong: dict[str, str], status: int = 200) -> Response:
    from waney.papers.cautions import cautions
    from waney.yard.services.nearest import others_like

    shop, piece = shop_of(request), piece_story(shop_of(request).book, ident).piece
    today = shop.today()
    promised = promises(shop.book, today.isoformat(), ident).get(ident)
    member = session_at(request).member
    to_buyer = member is None or request.query_params.get("for") == "buyer"
    shown = {
        "piece": piece,
        "promised": promised if promised is not None and promised.stands else None,
        "sold": next(iter(sales(shop.book, sale=promised.ident)), None) if promised and promised.kind == "sale" else None,
        "to_buyer": to_buyer,
        "currency": currency_of(shop.settled()),
        "until": (today + timedelta(days=KEPT_DAYS)).isoformat(),
        "ways_paid": list(PaidBy),
        "decides": member is not None and member.role is Role.OWNER,
        "others": others_like(shop.book, ident, today.isoformat()) if promised or piece.ended else (),
        "cautions": [caution.sentence for caution in cautions("sale")],
        "wrong": wrong,
        **_asked(shop, ident),
        **({} if to_buyer else _own(shop, piece, today)),
    }
    return page(request, "for_sale.html", shown, status=status)


def _asked(shop: Shop, ident: str) -> dict[str, object]:
    from waney.yard.book.selling_seen import prices_asked

    cents, way = prices_asked(shop.book, [ident]).get(ident, (None, ""))
    return {"asked": cents, "way": way}


def _own(shop: Shop, piece: PieceStands, today: date) -> dict[str, object]:
    """Three prices, and the floor; for each the sentence on why there is none."""
    from waney.yard.services.earning import Yard, floor_of, price_ways

    own: dict[str, object] = {"ways": (), "no_ways": "", "floor": None, "no_floor": ""}
    try:
        own["ways"] = price_ways(shop.book, piece, today)
    except Problem as slip:
        own["no_ways"] = str(slip)
    try:
        own["floor"] = floor_of(Yard.around(shop.book, today, piece), piece)
    except Problem as slip:
        own["no_floor"] = str(slip)
    return own


@router.post("/pieces/{piece}/sale")
def write(piece: str, sent: Sent) -> Response:
    """What was pressed: price, hold, release, sell, back. Raises NotAllowed, BadField."""
    fields = Fields(sent)
    do = {"price": _price, "hold": _hold, "release": _release, "sell": _sell, "back": _back}.get(sent.text("do"))
    if do is None:
        raise BadField("This form says nothing that can be done here; load the page anew.")
    try:
        do(sent, fields, piece)
    except BadField:
        raise
    except Problem as refused:
        if not fields.wrong:
            fields.wrong["do"] = str(refused)
    if fields.wrong:
        return _shown(sent.request, piece, fields.wrong, 422)
    return RedirectResponse(f"/pieces/{piece}/sale", 303)


class _Missing(Problem):
    """A field is needed; its sentence stands at the field."""


def _cents(sent: Sent, fields: Fields, name: str) -> int | None:
    """Money that was typed; None where nothing was. Raises _Missing for what cannot be read."""
    currency = currency_of(shop_of(sent.request).settled())
    found = fields.read(name, lambda text: parse_money(text, currency))
    if name in fields.wrong:
        raise _Missing(fields.wrong[name])
    return None if found is None else found.cents


def _needed(fields: Fields, name: str, sentence: str) -> str:
    text = fields.needed(name, sentence)
    if not text:
        raise _Missing(sentence)
    return text


def _price(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import price_piece

    sent.decides()
    price_piece(sent.hand, piece, _cents(sent, fields, "asked"), "typed")


def _hold(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import hold_for

    called = _needed(fields, "kept_for", "Who is it kept for? What to call them is enough.")
    deposit = _cents(sent, fields, "deposit") or 0
    hold_for(sent.hand, [piece], called, sent.text("until"), deposit, breaks_set=bool(sent.text("breaks")))


def _release(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import end_hold

    del fields
    book = shop_of(sent.request).book
    promised = promises(book, shop_of(sent.request).today().isoformat(), piece).get(piece)
    if promised is not None and promised.kind == "hold":
        end_hold(sent.hand, promised.ident)


def _sell(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.trade.tax import tax_lines
    from waney.yard.services.earning import shop_terms
    from waney.yard.services.selling import sell_to

    shop = shop_of(sent.request)
    cents = _cents(sent, fields, "paid")
    if cents is None:
        _needed(fields, "paid", "For how much? Write the price before tax.")
    parts = [PricedPiece(piece, cents or 0)]
    taxes = [(line.words, line.cents) for line in tax_lines([cents or 0], shop_terms(shop.settled()).taxes)]
    on, paid_by = shop.today().isoformat(), sent.choice("by", PaidBy, PaidBy.CASH)
    sell_to(sent.hand, parts, sent.text("buyer"), on, taxes, paid_by, breaks_set=bool(sent.text("breaks")))


def _back(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import take_pieces_back

    book = shop_of(sent.request).book
    promised = promises(book, shop_of(sent.request).today().isoformat(), piece).get(piece)
    if promised is not None and promised.kind == "sale":
        take_pieces_back(sent.hand, Returned(promised.ident, (piece,), _cents(sent, fields, "refund") or 0))
