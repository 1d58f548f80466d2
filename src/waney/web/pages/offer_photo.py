"""Sizes read off an offer's photo: something of known length is tapped in it, and the wood; or both are measured on a print."""

from __future__ import annotations

from asyncio import to_thread
from collections.abc import Mapping
from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.forms import BadField, Sent, photo, wet_of
from waney.web.photo_form import FIELDS, before_of, kept_as, tapped_of
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.book.files import name_of
from waney.yard.book.offered import stems_of, tree_at
from waney.yard.book.stories import photos_of
from waney.yard.services.pieces import keep_photo

if TYPE_CHECKING:
    from waney.logs.off_photo import Sizes

router = Router()


@router.get("/offered/{tree}/photo")
def offer_photo(request: Request, tree: str) -> Response:
    """The photo to tap on; `?photo=` is the one that is shown. Raises NotInBook."""
    return _shown(request, tree, request.query_params.get("photo", ""), {}, "")


def _shown(request: Request, ident: str, chosen: str, answers: Mapping[str, str], wrong: str) -> Response:
    from waney.logs.off_photo import Lies, View
    from waney.pieces.photo.target import LONG_ROW_M

    shop = shop_of(request)
    found = tree_at(shop.book, ident)
    files = [one.file for one in photos_of(shop.book, f"tree:{ident}")]
    chosen = chosen if chosen in files else (files[-1] if files else "")
    told = answers or before_of(found.taps, chosen)
    shown = {
        "tree": found,
        "photos": files,
        "chosen": chosen,
        "typed": {name: told.get(name, "") for name in (*FIELDS, "taps", "wet")},
        "views": list(View),
        "lies": list(Lies),
        "row_m": LONG_ROW_M,
        "came": bool(stems_of(shop.book, ident)),
        "wrong": wrong,
    }
    return page(request, "offer_photo.html", shown, status=422 if wrong else 200)


@router.post("/offered/{tree}/photo")
async def read(tree: str, sent: Sent) -> Response:
    """It was read: the sizes are written down, the offer is answered anew. Raises NotInBook."""
    from waney.yard.services.offer_read import read_offer_off_photo

    shop = shop_of(sent.request)
    found = tree_at(shop.book, tree)
    answers = {name: sent.text(name) for name in (*FIELDS, "taps", "wet")}
    kept = sent.text("kept")
    try:
        picture = await photo(sent)
        if picture is not None:  # kept even where no size comes of it, so that nobody chooses and taps it twice
            kept = name_of(picture.content)
            keep_photo(sent.hand, picture.content, f"tree:{tree}", picture.taken_at, wet_of(sent))
        elif kept and kept not in [one.file for one in photos_of(shop.book, f"tree:{tree}")]:
            raise BadField("That photo is none of this offer's; choose it above and tap it.")
        sizes = await to_thread(_sizes, answers, unit_of(shop.settled()))
        read_offer_off_photo(sent.hand, found.id, sizes, kept_as(kept, answers, answers["taps"]))
    except Problem as slip:
        return _shown(sent.request, tree, kept, answers, str(slip))
    return RedirectResponse(f"/offered/{tree}", 303)


def _sizes(answers: Mapping[str, str], unit: str) -> Sizes:
    """Raises BadTaps, NotReadable."""
    from waney.figures.scenarios import Scenarios
    from waney.logs.off_photo import sizes_off

    return sizes_off(tapped_of(answers, answers["taps"], unit), Scenarios(seed=1))
