"""Pieces for sale: photos, what is asked, who may still have them; narrowed by wood, size, moisture and set; as a list too."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.label_stock import sold_everywhere
from waney.papers.listing import Listing
from waney.papers.lists import for_sale_list
from waney.prices.shelf import Asked
from waney.units.length import parse_length
from waney.units.moisture import parse_mc
from waney.web.as_sold import sale_line
from waney.web.forms import BadField
from waney.web.loads_asked import moistures_in_words
from waney.web.pages.lists import as_files
from waney.web.pages.papers import USUAL
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of, unit_of, writes
from waney.web.showing import Figures, page, session_at, shop_of
from waney.yard.book.looking import PieceStands
from waney.yard.services.for_sale import (
    Choice,
    OnSale,
    Together,
    asked_for_all,
    chosen,
    going_together,
    on_sale,
    whole_sets,
)
from waney.yard.services.woods import called_wood, known_wood

router = Router()
A_PAGE = 40
MOST_MATCHES = 12
SIZES = ("thinnest", "thickest", "length", "width")
FIELDS = ("wood", *SIZES, "moisture", "set", "log", "free")


@router.get("/for-sale")
def shelf(request: Request) -> Response:
    """Those that fit, a page at a time."""
    shop = shop_of(request)
    settled, every = shop.settled(), on_sale(shop.book, shop.today().isoformat())
    choice, wrong = choice_of(request.query_params, unit_of(settled))
    found = chosen(every, choice)
    begin = _begin(request.query_params.get("from", ""))
    rows, free = found[begin : begin + A_PAGE], [one.piece for one in found if one.free]
    going, sets = going_together(shop.book, free)[:MOST_MATCHES], whole_sets(shop.book, found)[:MOST_MATCHES]
    typed = {name: request.query_params.get(name, "") for name in FIELDS}
    asked = {one.piece.id: (one.cents, "") for one in every}
    shown = {
        "rows": rows,
        "count": len(found),
        "free": len(free),
        "typed": typed,
        "wrong": wrong,
        "woods": sorted({(called_wood(one.piece.species), known_wood(one.piece.species)) for one in every}),
        "together": list(Together),
        "same": urlencode({name: value for name, value in typed.items() if value}),
        "onward": begin + A_PAGE if begin + A_PAGE < len(found) else 0,
        "going": [(one, asked_for_all(one.pieces, asked)) for one in going],
        "sets": sets,
        "moist": lambda one: moistures_in_words(one.moistures),
        "state": state_words,
        "currency": currency_of(settled),
        "stocks": tuple(sold_everywhere()),
        "usual": USUAL[unit_of(settled)],
        **_own(request, shop, rows, [*(one.pieces for one in going), *(one.pieces for one in sets)]),
    }
    return page(request, "shelf.html", shown, status=422 if wrong else 200)


def _begin(text: str) -> int:
    return int(text) if text.isdecimal() and len(text) < 7 else 0


def _own(request: Request, shop: Shop, rows: Sequence[OnSale], sets: Sequence[Sequence[PieceStands]]) -> dict[str, object]:
    """What each has cost, and what the prices sheet says of a set that is kept whole; nothing while a buyer looks on."""
    from waney.yard.services.earning import Yard, floors_of, set_ways

    if not session_at(request).sees_own:
        return {"floors": {}, "ways": {}, "no_ways": ""}
    try:
        pieces = [one.piece for one in rows]
        floors = floors_of(Yard.around(shop.book, shop.today(), *pieces), pieces)
        ways: tuple[tuple[Asked, ...], ...] = set_ways(shop.book, sets, shop.today())
    except Problem as slip:
        return {"floors": {}, "ways": {}, "no_ways": str(slip)}
    return {"floors": floors, "ways": {some[0].id: each for some, each in zip(sets, ways, strict=True)}, "no_ways": ""}


def choice_of(asked: Mapping[str, str], unit: str) -> tuple[Choice, dict[str, str]]:
    """What is asked for, and a sentence for each field that cannot be read."""
    wrong: dict[str, str] = {}
    sizes: dict[str, float | None] = dict.fromkeys((*SIZES, "moisture"))
    for name in sizes:
        text = asked.get(name, "").strip()
        try:
            sizes[name] = None if not text else parse_mc(text) if name == "moisture" else parse_length(text, unit)
        except Problem as slip:
            wrong[name] = str(slip)
    together = Together(asked["set"]) if asked.get("set") in tuple(Together) else Together.EITHER
    thin, thick, length, width, wettest = sizes.values()
    where = (asked.get("log", ""), bool(asked.get("free")))
    return Choice(asked.get("wood", ""), thin, thick, length, width, wettest, together, *where), wrong


def asked_for(request: Request) -> tuple[OnSale, ...]:
    """What a list or a paper of pieces for sale holds: those that fit, or the pieces it names. Raises BadField."""
    shop, named = shop_of(request), request.query_params.getlist("piece")
    choice, wrong = choice_of(request.query_params, unit_of(shop.settled()))
    if wrong:
        raise BadField(" ".join(wrong.values()))
    every = on_sale(shop.book, shop.today().isoformat())
    return tuple(one for one in every if one.piece.id in named) if named else chosen(every, choice)


def state_words(one: OnSale) -> str:
    """Who may still have it, in words that name nobody."""
    if one.away is not None:
        return "in a kiln; not known to be dry"
    if one.promised is None:
        return "free"
    until = Figures.day(one.promised.until) if one.promised.until else ""
    return f"held until {until}" if one.promised.kind == "hold" else f"taken along to be sold, until {until}"


def _listing(request: Request) -> Listing:
    """The same as a list; nothing of our own figures in it. Raises BadField."""
    settled = shop_of(request).settled()
    rows = [sale_line(one, state_words(one), shop_of(request).today()) for one in asked_for(request)]
    return for_sale_list(rows, writes(settled), currency_of(settled) or "")


as_files(router, "/for-sale", _listing)
