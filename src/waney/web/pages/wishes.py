"""Wishes: who would like to be told of a piece, and what fits."""

from __future__ import annotations

from datetime import timedelta

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.forms import Fields, Sent
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.wishes import WishLeft
from waney.yard.book.selling_seen import wishes as standing

router = Router()
STANDS_DAYS = 180
"""a wish, unless another day is chosen"""
TYPED = ("who", "species", "thickness", "most_thickness", "width", "length", "until")


@router.get("/wishes")
def wishes(request: Request) -> Response:
    """Those that stand."""
    until = (shop_of(request).today() + timedelta(days=STANDS_DAYS)).isoformat()
    return _shown(request, {**dict.fromkeys(TYPED, ""), "until": until}, {})


def _shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    from waney.yard.services.wishes import who_asked

    shop = shop_of(request)
    met = {one.wish.id: one.pieces for one in who_asked(shop.book, shop.today())}
    stand = standing(shop.book, shop.today().isoformat())
    shown = {"wishes": [(wish, met.get(wish.id, ())) for wish in stand], "typed": typed, "wrong": wrong}
    return page(request, "wishes.html", shown, status=422 if wrong else 200)


@router.post("/wishes")
def leave(sent: Sent) -> Response:
    """A wish is left."""
    from waney.yard.services.wishes import leave_wish_for

    shop, fields = shop_of(sent.request), Fields(sent)
    unit = unit_of(shop.settled())
    who = fields.needed("who", "Who asks? What to call them is enough.")
    until = fields.needed("until", "Until when? A wish runs out with its day.")
    thick, most, width, length = (fields.length(name, unit) for name in ("thickness", "most_thickness", "width", "length"))
    if thick is not None and most is not None and most < thick:
        fields.wrong["most_thickness"] = "At most is less than at least; nothing could fit."
    if not fields.wrong:
        try:
            blank = sent.hand.new_id()
            wish = WishLeft(blank, blank, until, sent.text("species"), thick, most, width, length)
            leave_wish_for(sent.hand, who, wish, shop.today().isoformat())
        except Problem as refused:
            fields.wrong["until" if "day" in str(refused) or "date" in str(refused) else "who"] = str(refused)
    if fields.wrong:
        return _shown(sent.request, {name: sent.text(name) for name in TYPED}, fields.wrong)
    return RedirectResponse("/wishes", 303)


@router.post("/wishes/{wish}")
def end(wish: str, sent: Sent) -> Response:
    """It was met, or is no more."""
    from waney.yard.services.selling import end_wish

    end_wish(sent.hand, wish)
    return RedirectResponse("/wishes", 303)
