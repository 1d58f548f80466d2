"""One piece and the room it will live in: ready, to lie there for some weeks, or back in the kiln; by which readings."""

from __future__ import annotations

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.forms import Fields, Sent
from waney.web.rooms import lives_in, ready_for_room, room_told, with_degrees
from waney.web.routes import Router
from waney.web.season_form import places
from waney.web.shop import degree_of, unit_of
from waney.web.showing import page, shop_of
from waney.wood.climate import climate_of
from waney.wood.room_told import room_kept
from waney.yard.acts.pieces import RoomTold
from waney.yard.book.stories import piece_story
from waney.yard.services.pieces import tell_of_piece

router = Router()
FIELDS = ("place", "indoors", "highest")


@router.get("/pieces/{piece}/room")
def piece_room(request: Request, piece: str) -> Response:
    """What stands of it, and the form that tells its room. Raises NotInBook."""
    return _shown(request, piece, {}, {})


def _shown(request: Request, ident: str, typed: Mapping[str, str], wrong: Mapping[str, str]) -> Response:
    shop = shop_of(request)
    story = piece_story(shop.book, ident)
    found, told = ready_for_room(shop, story), room_told(story)
    stands = {"place": told.place, "indoors": told.indoors, "highest": told.highest}
    shown = {
        "piece": story.piece,
        "room": found,
        "job": found.job,
        "typed": typed or stands,
        "shops": lives_in(RoomTold(ident), shop.settled()),
        "wrong": wrong,
        "places": places(),
    }
    return page(request, "piece_room.html", shown, status=422 if wrong else 200)


@router.post("/pieces/{piece}/room")
def tell(piece: str, sent: Sent) -> Response:
    """Its room is another one from now on; each empty field is as the shop settled it. Raises NotInBook, BadAct."""
    fields, shop = Fields(sent), shop_of(sent.request)
    settled = shop.settled()
    unit, before = unit_of(settled), lives_in(room_told(piece_story(shop.book, piece)), settled)
    fields.read("place", climate_of)
    fields.read("indoors", lambda text: room_kept(text, None, degree_of(unit)))
    fields.read("highest", lambda text: room_kept(before.indoors, text, degree_of(unit)))
    typed = {name: sent.text(name) for name in FIELDS}
    if fields.wrong:
        return _shown(sent.request, piece, typed, fields.wrong)
    tell_of_piece(sent.hand, (RoomTold(piece, typed["place"], with_degrees(typed["indoors"], unit), typed["highest"]),))
    return RedirectResponse(f"/pieces/{piece}/room", 303)
