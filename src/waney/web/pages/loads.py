"""Loads of our own kiln: closed in, opened for good."""

from __future__ import annotations

from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.forms import Sent
from waney.web.pages.stacks import listed, named_pieces
from waney.web.routes import Router
from waney.yard.services.stacks import load_kiln, unload_kiln

router = Router()


@router.post("/loads")
async def close_in(sent: Sent) -> Response:
    """A load goes in: whole stacks, single pieces, or both."""
    try:
        pieces = await named_pieces(sent, 0)
        load = load_kiln(sent.hand, sent.text("kiln"), sent.all("stack"), pieces, sent.text("words"))
    except Problem as slip:
        return listed(sent.request, str(slip), {name: sent.text(name) for name in ("kiln", "names", "words")})
    return RedirectResponse(f"/loads/{load.id}", 303)


@router.post("/loads/{load}/out")
def open_up(load: str, sent: Sent) -> Response:
    """The door was opened for good."""
    unload_kiln(sent.hand, load, sent.text("words"))
    return RedirectResponse(f"/loads/{load}", 303)
