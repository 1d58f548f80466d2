"""One log on every scale."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import Response

from waney.web.asked.kinds import SCALE
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.scale import ScaleAnswer, ScaleAsked
from waney.web.asking import answer_of, ask
from waney.web.pages.log import log_at
from waney.web.pages.plans import scan_inside
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of

router = Router()


@router.get("/logs/{log}/scale")
def scale(request: Request, log: str) -> Response:
    """Volume, scales, weight; how far it is, while they are worked out. Raises NotInBook."""
    shop, found = shop_of(request), log_at(request, log)
    asked = ScaleAsked(found.sheet, scan_inside(shop, log), unit_of(shop.settled()) == "mm")
    job = ask(shop, SCALE, as_bytes(asked))
    content = answer_of(shop, job)
    return page(request, "scale.html", {"log": found, "job": job, "answer": read_back(content, ScaleAnswer) if content else None})
