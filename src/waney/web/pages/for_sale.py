"""A piece for sale: what is asked, who it is promised to, three prices above what it has cost; price, hold, sell, take back.

With its set, or with what it could make one with; and with what to ask where it is sold.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.trade.costing import below_cost
from waney.units.money import parse_money
from waney.web.access.members import Role
from waney.web.asked_of_sale import asked_where_it_is_sold
from waney.web.forms import BadField, Fields, Sent
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of
from waney.web.showing import page, session_at, shop_of
from waney.web.spending import BACK, INTO_A_PIECE, spent_shown, spent_typed
from waney.yard.acts.promises import HoldEnd
from waney.yard.acts.sales import MONEY_COMES_BY, PaidBy, Returned
from waney.yard.book.custom_seen import customers_pieces
from waney.yard.book.looking import PieceStands
from waney.yard.book.selling_seen import Promised, prices_asked, promises, sales
from waney.yard.book.stories import piece_story
from waney.yard.problems import NotPossible

router = Router()
ALONE, WHOLE = "alone", "whole"
KEPT_DAYS = 7
"""a hold, unless another day is chosen"""


@router.get("/pieces/{piece}/sale")
def for_sale(request: Request, piece: str) -> Response:
    """All of it; nothing of our own figures for who has not signed in, or while they are hidden. Raises NotInBook."""
    return _shown(request, piece, {}, {})


def _shown(request: Request, ident: str, wrong: dict[str, str], typed: dict[str, str]) -> Response:
    from waney.papers.cautions import cautions
    from waney.yard.services.for_sale import beside
    from waney.yard.services.nearest import others_like

    shop, story = shop_of(request), piece_story(shop_of(request).book, ident)
    piece, today, session = story.piece, shop.today(), session_at(request)
    promised = promises(shop.book, today.isoformat(), ident).get(ident)
    seen_with = beside(shop.book, story, today.isoformat())
    sold = next(iter(sales(shop.book, sale=promised.ident)), None) if promised and promised.kind == "sale" else None
    shown: dict[str, Any] = {
        "piece": piece,
        "promised": promised if promised is not None and promised.stands else None,
        "ran_out": promised if promised is not None and not promised.stands else None,
        **_held(shop, promised if promised and promised.kind == "hold" and session.sees_own else None),
        "sold": sold,
        "to_buyer": not session.sees_own,
        "until": (today + timedelta(days=KEPT_DAYS)).isoformat(),
        "ways_paid": list(PaidBy),
        "ways_given": MONEY_COMES_BY,
        "decides": session.sees_own and session.member is not None and session.member.role is Role.OWNER,
        "others": others_like(shop.book, ident, today.isoformat()) if promised or piece.ended else (),
        "cautions": [caution.sentence for caution in cautions("sale")],
        "mates": seen_with.mates,
        "going": seen_with.going,
        "near": seen_with.near,
        "left": seen_with.left,
        "wrong": wrong,
        "typed": typed,
        "theirs": ident in customers_pieces(shop.book),
        **spent_shown(request, f"piece:{ident}", INTO_A_PIECE),
        **asked_where_it_is_sold(request, piece, sold.goes_to if sold and session.sees_own else ""),
        **_asked(shop, ident, seen_with.together),
        **(_own(shop, piece, seen_with.together, today) if session.sees_own else {}),
    }
    if session.sees_own:
        price = next((part.cents for part in sold.pieces if part.piece == ident), None) if sold else shown["asked"]
        shown["below"] = below_cost(price, shown["floor"])
    return page(request, "for_sale.html", shown, status=422 if wrong else 200)


def _held(shop: Shop, hold: Promised | None) -> dict[str, object]:
    """What lies here of its deposit, what of that goes with this piece alone, and the other pieces that it keeps."""
    from waney.yard.book.looking import pieces_by_id
    from waney.yard.services.deposits import deposit_of, deposit_part, kept_by

    if hold is None:
        return {"deposit": 0, "deposit_part": 0, "held_too": ()}
    kept = kept_by(shop.book, hold.ident)
    return {
        "deposit": deposit_of(shop.book, hold.ident),
        "deposit_part": deposit_part(shop.book, hold.ident, kept, (hold.piece,)),
        "held_too": pieces_by_id(shop.book, [one for one in kept if one != hold.piece]),
    }


def _asked(shop: Shop, ident: str, together: Sequence[PieceStands]) -> dict[str, object]:
    """What is asked for it, and for all of it and its mates; None where one of them has no price."""
    from waney.yard.services.for_sale import asked_for_all

    asked = prices_asked(shop.book, [ident, *(one.id for one in together)])
    return {"asked": asked.get(ident, (None, ""))[0], "asked_together": asked_for_all(together, asked)}


def _own(shop: Shop, piece: PieceStands, together: Sequence[PieceStands], today: date) -> dict[str, object]:
    """Three prices and the floor, for it and for all that goes together; for each the sentence on why there is none."""
    from waney.yard.services.earning import Yard, floor_of, floors_of, price_ways, set_ways, shelf_prices
    from waney.yard.services.record import such_wood

    own: dict[str, object] = {
        "such_wood": such_wood(shop.book, piece),
        "ways": (),
        "width_rule": "",
        "no_ways": "",
        "floor": None,
        "no_floor": "",
        "all_ways": (),
        "all_floor": None,
    }
    try:
        own["width_rule"] = shelf_prices(shop.settled()).width_rule
        own["ways"] = price_ways(shop.book, piece, today)
        own["all_ways"] = set_ways(shop.book, [together], today)[0] if together else ()
    except Problem as slip:
        own["no_ways"] = str(slip)
    try:
        yard = Yard.around(shop.book, today, piece, *together)
        each = list(floors_of(yard, together).values())
        own["all_floor"] = sum(cents or 0 for cents in each) if each and None not in each else None
        own["floor"] = floor_of(yard, piece)
    except Problem as slip:
        own["no_floor"] = str(slip)
    return own


@router.post("/pieces/{piece}/sale")
def write(piece: str, sent: Sent) -> Response:
    """What was pressed: price, hold, release, sell, back, together, spent. Raises NotAllowed, BadField."""
    fields = Fields(sent)
    known = {"price": _price, "hold": _hold, "release": _release, "sell": _sell, "back": _back, "together": _together}
    known |= {"spent": _spent, BACK: _spent}
    do = known.get(sent.text("do"))
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
        return _shown(sent.request, piece, fields.wrong, sent.typed)
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


def _spent(sent: Sent, fields: Fields, piece: str) -> None:
    sent.decides()
    if piece in customers_pieces(shop_of(sent.request).book):
        raise NotPossible("This piece is a customer's: what goes into it belongs on the invoice of their job.")
    spent_typed(sent, fields, f"piece:{piece}")


def _hold(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import hold_for

    called = _needed(fields, "kept_for", "Who is it kept for? What to call them is enough.")
    deposit = _cents(sent, fields, "deposit") or 0
    some = [one.id for one in _going(sent, piece)]
    by, alone = sent.choice("deposit_by", PaidBy, PaidBy.CASH), sent.text("of_set") == ALONE
    hold_for(sent.hand, some, called, sent.text("until"), deposit, by=by, breaks_set=alone)


def _release(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.deposits import end_hold

    book, given_back = shop_of(sent.request).book, _cents(sent, fields, "given_back") or 0
    promised = promises(book, shop_of(sent.request).today().isoformat(), piece).get(piece)
    if promised is not None and promised.kind == "hold":
        how, seen = HoldEnd.RELEASED if promised.stands else HoldEnd.RAN_OUT, sent.session.sees_own
        end_hold(sent.hand, promised.ident, how, given_back, keeps_rest=seen)


def _sell(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.trade.tax import tax_lines
    from waney.yard.services.selling import parted, sell_to
    from waney.yard.services.settings import shop_taxes

    shop = shop_of(sent.request)
    cents = _cents(sent, fields, "paid")
    if cents is None:
        _needed(fields, "paid", "For how much? Write the price before tax.")
    some = _going(sent, piece)
    parts = parted(cents or 0, some, prices_asked(shop.book, [one.id for one in some]))
    taxes = [(line.words, line.cents) for line in tax_lines([each.cents for each in parts], shop_taxes(shop.settled()))]
    on, paid_by = shop.today().isoformat(), sent.choice("by", PaidBy, PaidBy.CASH)
    alone, goes_to = sent.text("of_set") == ALONE, sent.text("goes_to")
    sell_to(sent.hand, parts, sent.text("buyer"), on, taxes, paid_by, breaks_set=alone, goes_to=goes_to)


def _going(sent: Sent, piece: str) -> tuple[PieceStands, ...]:
    """The piece, or with it all that is left of its set, as it was chosen."""
    story = piece_story(shop_of(sent.request).book, piece)
    return tuple(one for one in story.mates if not one.ended) if sent.text("of_set") == WHOLE else (story.piece,)


def _together(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.for_sale import beside
    from waney.yard.services.pieces import keep_together

    del fields
    shop = shop_of(sent.request)
    going = beside(shop.book, piece_story(shop.book, piece), shop.today().isoformat()).going
    if going is None or {one.id for one in going.pieces} != set(sent.all("piece")):
        raise NotPossible("What goes together is not what it was when this page was made; look again.")
    keep_together(sent.hand, tuple(one.id for one in going.pieces), going.match.words)


def _back(sent: Sent, fields: Fields, piece: str) -> None:
    from waney.yard.services.selling import take_pieces_back

    book = shop_of(sent.request).book
    promised = promises(book, shop_of(sent.request).today().isoformat(), piece).get(piece)
    if promised is not None and promised.kind == "sale":
        take_pieces_back(sent.hand, Returned(promised.ident, (piece,), _cents(sent, fields, "refund") or 0))
