"""Bind a tag: which name is on it (a photo, or the characters typed), and which piece it was stapled on."""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.forms import BadField, Sent, upload
from waney.web.routes import Router
from waney.web.showing import page, shop_of
from waney.yard.book.finding import Wanted, find_pieces
from waney.yard.book.looking import named, names_of
from waney.yard.book.tags import known_tags
from waney.yard.known_tags import meant
from waney.yard.names import Name
from waney.yard.services.pictures import names_seen
from waney.yard.services.pieces import tag_piece

router = Router()
SHOWN = 30
NONE_SEEN = "No tag can be read on this photo; take it nearer and square on, or type the name."


@router.get("/tags/bind")
def bind(request: Request) -> Response:
    """Which tag; then which piece."""
    return _shown(request, request.query_params.get("name", ""), "")


def _shown(request: Request, written: str, problem: str) -> Response:
    book, words = shop_of(request).book, request.query_params.get("words", "")
    name: Name | None = None
    try:
        name = meant(known_tags(book), written) if written else None
    except Problem as slip:
        problem = str(slip)
    stands = named(book, str(name)) if name else None
    shown = {
        "name": str(name) if name else "",
        "written": written,
        "stands": stands,
        "stands_called": names_of(book, [stands]).get(stands, "") if stands else "",
        "address": f"/{stands.replace(':', 's/')}" if stands else "",
        "found": find_pieces(book, Wanted(words), SHOWN) if name and not stands else None,
        "words": words,
        "problem": problem,
    }
    return page(request, "binding.html", shown, status=422 if problem else 200)


@router.post("/tags/read")
async def read(sent: Sent) -> Response:
    """Which name is on the tag."""
    try:
        name = sent.text("name") or str(await on_photo(sent, "tag") or "")
    except Problem as slip:
        return _shown(sent.request, "", str(slip))
    return RedirectResponse(f"/tags/bind?{urlencode({'name': name})}", 303)


@router.post("/tags/bind")
def staple(sent: Sent) -> Response:
    """It was stapled on this piece. Raises BadName."""
    said = tag_piece(sent.hand, sent.text("piece"), sent.text("name")).sentence
    if said:  # somebody was quicker with it
        return _shown(sent.request, "", said)
    return RedirectResponse(f"/pieces/{sent.text('piece')}", 303)


async def on_photo(sent: Sent, field: str) -> Name | None:
    """The name on the one tag that a photo shows; None where no photo was sent. Raises BadPicture, BadField."""
    content = await upload(sent.form.get(field))
    if content is None:
        return None
    seen = names_seen(content)
    if not seen:
        raise BadField(NONE_SEEN)
    if len(seen) > 1:
        names = ", ".join(str(one.name) for one in seen)
        raise BadField(f"The photo shows more than one tag: {names}. Type the one that is meant.")
    return seen[0].name
