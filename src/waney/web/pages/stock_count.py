"""Stock count: tags are read where nothing reaches the book; what is there, what is not, what should not be."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.away import inside
from waney.web.counting import as_json, count_of, last_words, rest_of
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
    in_full,
    is_here,
    looked_for,
    lose,
    see_tag,
    take_tag_back,
    told,
)

router = Router()
LATELY = 12
"""counts that are listed"""
A_PAGE = 100
"""lines of each list that a page shows"""


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
    begin, ended = _begin(request.query_params.get("from", "")), count.ended_seq is not None
    found = told(shop.book, count, shop.today().isoformat(), begin, A_PAGE)
    holds = count_of(shop, session_at(request).member, device, count, found.missing, whole=not ended)
    apart = {"away": found.away, "elsewhere": found.elsewhere, "counted": found.counted}
    lists = {"missing": found.not_found} | {name: some[begin : begin + A_PAGE] for name, some in apart.items()}
    full = {line.piece.id: line for line in in_full(shop.book, [line for some in lists.values() for line in some])}
    shown = {
        "count": count,
        "holds": holds,
        "json": "" if ended else inside(as_json(holds)),
        "told": found,
        "lists": {name: [full[line.stands.id] for line in some if line.stands.id in full] for name, some in lists.items()},
        "begin": begin,
        "most": A_PAGE,
        "longest": max(found.missing, *map(len, apart.values())),
        "last_words": last_words,
        "wrong": wrong,
    }
    answer = page(request, "stock_count.html", shown, status=422 if wrong else 200)
    goes_on = request.method == "GET" and not ended
    return taken_along(request, answer, device) if goes_on else answer


def _begin(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 7 else 0


@router.get("/api/stock-count/{count}/pieces")
def pieces_looked_for(request: Request, count: str) -> Response:
    """What the page of a large yard asks for when it is there: what is looked for. Raises NotInBook."""
    shop = shop_of(request)
    answer = JSONResponse(as_json(rest_of(shop, count_at(shop.book, count))))
    return taken_along(request, answer, device_of(request))


@router.get("/api/stock-count/{count}")
def count_json(request: Request, count: str) -> Response:
    """How it stands now, for a page that has what is looked for already. Raises NotInBook."""
    shop = shop_of(request)
    stands = count_at(shop.book, count)
    missing = told(shop.book, stands, shop.today().isoformat(), most=0).missing
    holds = count_of(shop, session_at(request).member, device_of(request), stands, missing)
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
    shop, ident = shop_of(sent.request), sent.text("piece")
    found = in_full(shop.book, looked_for(shop.book, count, shop.today().isoformat(), [ident])) if ident else ()
    if not found:
        raise BadField("That piece is not in the book; load the page anew.")
    return found[0]
