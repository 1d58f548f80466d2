"""Loads of the kiln: closed in, looked at, opened for good."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.web.forms import Writing
from waney.web.pages import readings
from waney.web.pages.stacks import listed, named_pieces
from waney.web.showing import page, shop_of
from waney.yard.book.drying_seen import in_load, loads
from waney.yard.problems import NotInBook
from waney.yard.services.stacks import load_kiln, unload_kiln

router = APIRouter()


@router.post("/loads")
async def close_in(sent: Writing) -> Response:
    """A load goes in: whole stacks, single pieces, or both."""
    try:
        pieces = await named_pieces(sent, 0)
        load = load_kiln(sent.hand, sent.text("kiln"), sent.all("stack"), pieces, sent.text("words"))
    except Problem as slip:
        return listed(sent.request, str(slip), {name: sent.text(name) for name in ("kiln", "names", "words")})
    return RedirectResponse(f"/loads/{load.id}", 303)


@router.get("/loads/{load}")
def load(request: Request, load: str) -> Response:
    """What was in it when it went in. Raises NotInBook."""
    book = shop_of(request).book
    found = next((one for one in loads(book) if one.id == load), None)
    if found is None:
        raise NotInBook("There is no such load in the book.")
    mind = [one.sentence for one in cautions("kiln")]
    shown = {"load": found, "pieces": in_load(book, load), "cautions": mind, **readings.shown(book, f"load:{load}")}
    return page(request, "load.html", shown)


@router.post("/loads/{load}/out")
def open_up(load: str, sent: Writing) -> Response:
    """The door was opened for good."""
    unload_kiln(sent.hand, load, sent.text("words"))
    return RedirectResponse(f"/loads/{load}", 303)
