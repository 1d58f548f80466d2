"""Spots: where wood stands."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.forms import Sent
from waney.web.routes import Router
from waney.web.showing import page, shop_of
from waney.yard.book.around import spots as all_spots
from waney.yard.services.pieces import name_spot

router = Router()


@router.get("/spots")
def spots(request: Request) -> Response:
    """Every spot with what stands there."""
    return page(request, "spots.html", {"spots": all_spots(shop_of(request).book)})


@router.post("/spots")
def name(sent: Sent) -> Response:
    """A new spot. Raises BadAct."""
    name_spot(sent.hand, sent.text("called"), sent.text("within"))
    return RedirectResponse("/spots", 303)
