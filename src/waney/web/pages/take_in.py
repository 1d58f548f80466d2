"""Take in a tally: text, a file, or pictures of codes from a page that was taken along."""

from __future__ import annotations

from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import Response

from waney.web.forms import Sent
from waney.web.pages.commands import see_who_decides
from waney.web.routes import Router
from waney.web.showing import page, shop_of
from waney.web.tally_codes import codes_in
from waney.yard.frames import joined
from waney.yard.problems import BadCommands
from waney.yard.services.lists import take_in

router = Router()


@router.get("/take-in")
def form(request: Request) -> Response:
    """The ways back."""
    return page(request, "take_in.html", {"taken": None})


@router.post("/take-in")
async def take(sent: Sent) -> Response:
    """Take it in; what was there already is written once. Raises BadCommands, NotAllowed."""
    text = await _list(sent)
    see_who_decides(sent.member, text)
    shop = shop_of(sent.request)
    return page(sent.request, "take_in.html", {"taken": take_in(shop.book, text, shop.now())})


async def _list(sent: Sent) -> str:
    if sent.text("list"):
        return sent.text("list")
    files = [value for value in sent.form.getlist("files") if isinstance(value, UploadFile) and value.filename]
    contents = [await file.read() for file in files]
    if len(contents) == 1 and contents[0].lstrip()[:1] == b"{":
        try:
            return contents[0].decode("utf-8")
        except UnicodeDecodeError:
            raise BadCommands("This file is no text in UTF-8.") from None
    if not contents:
        raise BadCommands("Paste the tally, or choose its file, or pictures of its codes.")
    return joined(code for content in contents for code in codes_in(content))
