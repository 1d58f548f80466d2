"""Device: the browser that looks, as a writer in the book with an id of its own, so that what it sends later is known."""

from __future__ import annotations

from uuid import UUID

from starlette.requests import Request
from starlette.responses import Response

from waney.web.showing import shop_of

DEVICE = "waney-device"
ONE_YEAR_S = 365 * 24 * 3600


def device_of(request: Request) -> str:
    """The id of the browser that looks, its own from the first page on."""
    try:
        return str(UUID(request.cookies.get(DEVICE, "")))
    except ValueError:
        return shop_of(request).new_id()


def known_again(request: Request, answer: Response, device: str) -> Response:
    """The browser keeps its id."""
    answer.set_cookie(DEVICE, device, max_age=ONE_YEAR_S, httponly=True, samesite="lax", secure=shop_of(request).secure)
    return answer


def taken_along(request: Request, answer: Response, device: str) -> Response:
    """A page that works without a signal: the browser keeps its id, and the page."""
    known_again(request, answer, device)
    answer.headers["Waney-Keep"] = "yes"
    return answer
