"""The weighing round: the week's pieces in walking order, a big keypad, and no signal needed; as a plain form too."""

from __future__ import annotations

import json

from starlette.requests import Request
from starlette.responses import JSONResponse, RedirectResponse, Response

from waney.web.device import device_of, taken_along
from waney.web.forms import BadField, Fields, Sent
from waney.web.routes import Router
from waney.web.showing import page, session_at, shop_of
from waney.web.walking import Round, WeighIt, as_json, round_of
from waney.web.weighing import questions, typed
from waney.yard.acts.people_places import Scales
from waney.yard.services.mill import take_back
from waney.yard.services.pieces import tell_of_piece

router = Router()


@router.get("/round")
def walk(request: Request) -> Response:
    """The page; it holds all it needs, and says so to the worker that keeps it."""
    return _shown(request, {}, {}, ())


def _shown(request: Request, typed_: dict[str, str], wrong: dict[str, str], asked: tuple[str, ...]) -> Response:
    device = device_of(request)
    holds = round_of(shop_of(request), session_at(request).member, device)
    shown = {
        "holds": holds,
        "json": json.dumps(as_json(holds)).replace("<", "\\u003c"),
        "typed": typed_,
        "wrong": wrong,
        "asked": asked,
        "scales": list(Scales),
    }
    answer = page(request, "round.html", shown, status=422 if wrong else 200)
    return taken_along(request, answer, device) if request.method == "GET" else answer


@router.get("/api/round")
def round_json(request: Request) -> Response:
    """The same, for the page's module when it is in reach again."""
    holds = round_of(shop_of(request), session_at(request).member, device_of(request))
    return JSONResponse(as_json(holds) | {"token": session_at(request).token})


@router.post("/round")
def weigh(sent: Sent) -> Response:
    """One weight, from a page without its module; or the last one taken back. Raises BadField, BadAct."""
    shop = shop_of(sent.request)
    holds = round_of(shop, session_at(sent.request).member, device_of(sent.request))
    item = _item(holds, sent.text("piece"))
    if sent.text("do") == "back":
        take_back(sent.hand, item.command, f"piece:{item.piece}")
        return RedirectResponse("/round", 303)
    fields = Fields(sent)
    act = typed(fields, shop, item.piece)
    asked = () if act is None or sent.text("sure") else questions(act, item.known, shop)
    if act is None or fields.wrong or asked:
        return _shown(sent.request, _typed(sent), fields.wrong, asked)
    tell_of_piece(sent.hand, (act,))
    return RedirectResponse("/round", 303)


def _item(holds: Round, piece: str) -> WeighIt:
    found = next((one for one in holds.items if one.piece == piece), None)
    if found is None:
        raise BadField("That piece is not on the round; choose it on the page of its stack.")
    return found


def _typed(sent: Sent) -> dict[str, str]:
    return {name: sent.text(name) for name in ("piece", "mass", "other_end", "tare", "mark", "scales")}
