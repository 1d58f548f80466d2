"""Stock count: tags are read where nothing reaches the book; what is there, what is not, what should not be."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.away import inside
from waney.web.counting import as_json, count_of, last_words
from waney.web.device import device_of, taken_along
from waney.web.forms import BadField, Sent
from waney.web.routes import Router
from waney.web.showing import page, session_at, shop_of
from waney.web.tag_names import without_mark
from waney.yard.book.around import spots
from waney.yard.book.counting_seen import CountStands, counts, seen
from waney.yard.services.counting import (
    Listed,
    begin_count,
    count_at,
    end_count,
    is_here,
    listed,
    lose,
    see_tag,
    take_tag_back,
    told,
)

router = Router()
LATELY = 12
"""counts that are listed"""


@router.get("/stock-count")
def stock_counts(request: Request) -> Response:
    """Those that there were, and a new one."""
    book = shop_of(request).book
    return page(request, "stock_counts.html", {"counts": counts(book)[:LATELY], "spots": spots(book)})


@router.post("/stock-count")
def begin(sent: Sent) -> Response:
    """A count begins."""
    return RedirectResponse(f"/stock-count/{begin_count(sent.hand, sent.text('spot'))}", 303)


@router.get("/stock-count/{count}")
def stock_count(request: Request, count: str) -> Response:
    """The page; it holds all it needs while the count goes on. Raises NotInBook."""
    return _shown(request, count_at(shop_of(request).book, count), "")


def _shown(request: Request, count: CountStands, wrong: str) -> Response:
    shop, device = shop_of(request), device_of(request)
    holds = count_of(shop, session_at(request).member, device, count)
    shown = {
        "count": count,
        "holds": holds,
        "json": inside(as_json(holds)),
        "told": told(shop.book, count, shop.today().isoformat()),
        "last_words": last_words,
        "wrong": wrong,
    }
    answer = page(request, "stock_count.html", shown, status=422 if wrong else 200)
    goes_on = request.method == "GET" and not holds.ended
    return taken_along(request, answer, device) if goes_on else answer


@router.get("/api/stock-count/{count}")
def count_json(request: Request, count: str) -> Response:
    """The same, for the page's module when it is in reach again. Raises NotInBook."""
    shop = shop_of(request)
    holds = count_of(shop, session_at(request).member, device_of(request), count_at(shop.book, count))
    return JSONResponse(as_json(holds) | {"token": session_at(request).token})


@router.post("/stock-count/{count}")
def write(count: str, sent: Sent) -> Response:
    """What was pressed: seen, back, end, lost, here. Raises NotInBook, BadField."""
    book, do = shop_of(sent.request).book, sent.text("do")
    found = count_at(book, count)
    try:
        if do == "seen":
            see_tag(sent.hand, count, without_mark(sent.text("name")))
        elif do == "back":
            for tag in seen(book, count)[-1:]:
                take_tag_back(sent.hand, tag)
        elif do == "end":
            end_count(sent.hand, count)
        elif do == "lost":
            lose(sent.hand, _line(sent, found))
        elif do == "here":
            is_here(sent.hand, _line(sent, found), found.spot)
        else:
            raise BadField("This form says nothing that can be done here; load the page anew.")
    except BadField:
        raise
    except Problem as refused:
        return _shown(sent.request, found, str(refused))
    return RedirectResponse(f"/stock-count/{count}", 303)


def _line(sent: Sent, count: CountStands) -> Listed:
    shop, piece = shop_of(sent.request), sent.text("piece")
    found = next((line for line in listed(shop.book, count, shop.today().isoformat()) if line.piece.id == piece), None)
    if found is None:
        raise BadField("That piece is not in the book; load the page anew.")
    return found
