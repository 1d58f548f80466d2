"""Stacks: what stands in the yard; a stack is built."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.papers.cautions import cautions
from waney.web.forms import BadField, Fields, Sent, upload
from waney.web.ready import answered
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.web.sides_form import CHOICES, sides_told
from waney.web.tag_names import names_in, piece_named
from waney.web.too_fast import fast_now
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.acts.stacks import MOST_LAYERS, StackBuilt
from waney.yard.book.around import spots
from waney.yard.book.drying_seen import loads
from waney.yard.book.drying_seen import stacks as all_stacks
from waney.yard.book.finding import MOST_ROWS, Wanted, find_pieces
from waney.yard.services.drying import tell_how_it_stands, tell_sides
from waney.yard.services.pictures import names_seen
from waney.yard.services.stacks import build_stack

router = Router()
ASKED = 2
"""stacks of which a look at the list asks when they are ready"""


@router.get("/stacks")
def stacks(request: Request) -> Response:
    """Every stack, and the loads of the kiln."""
    return listed(request, "", {})


def listed(request: Request, problem: str, typed: dict[str, str]) -> Response:
    """The page of stacks and loads, with what could not be done."""
    book = shop_of(request).book
    called = {spot.id: spot.called for spot in spots(book)}
    found = answered(shop_of(request), ASKED)
    today = shop_of(request).today()
    shown = {
        "ready": {ident: answer.lines[0].ready for ident, answer in found.items() if answer.lines},
        "fast": {ident: fast_now(answer, today) for ident, answer in found.items()},
        "stacks": all_stacks(book),
        "loads": loads(book),
        "called": called,
        "problem": problem,
        "typed": typed,
    }
    return page(request, "stacks.html", shown, status=422 if problem else 200)


@router.get("/stacks/new")
def new(request: Request) -> Response:
    """A stack out of the pieces of a spot."""
    return _building(request, request.query_params.get("spot", ""), {}, {})


def _building(request: Request, spot: str, wrong: dict[str, str], typed: dict[str, str]) -> Response:
    book = shop_of(request).book
    there = find_pieces(book, Wanted(spot=spot), MOST_ROWS) if spot else None
    mind = [one.sentence for one in cautions("stack", "straps")]
    shown = {"there": there, "spot": spot, "spots": spots(book), "cautions": mind, "shelters": list(Shelter), **CHOICES}
    shown |= {"wrong": wrong, "typed": typed}
    return page(request, "stack_new.html", shown, status=422 if wrong else 200)


@router.post("/stacks/new")
def build(sent: Sent) -> Response:
    """It stands: pieces whose layer was told in their layers, the others on it somewhere. Raises BadAct."""
    shop, fields = shop_of(sent.request), Fields(sent)
    unit, ident = unit_of(shop.settled()), sent.hand.new_id()
    shelter = sent.choice("shelter", Shelter) if sent.text("shelter") else None
    called = fields.needed("called", "Write what to call it.")
    sticker, apart = fields.length("sticker", unit), fields.length("apart", unit)
    layers, rest = _layers(sent, fields)
    sides = sides_told(fields, sent.all("piece"))
    if fields.wrong:
        typed = {name: sent.text(name) for name in ("bark", "ends", "as_of")}
        return _building(sent.request, sent.text("spot"), fields.wrong, typed)
    build_stack(sent.hand, StackBuilt(ident, called, sent.text("spot"), layers, sticker, apart), rest)
    if shelter:
        tell_how_it_stands(sent.hand, StackStood(ident, shelter=shelter))
    if sides:
        tell_sides(sent.hand, sides)
    return RedirectResponse(f"/stacks/{ident}", 303)


def _layers(sent: Sent, fields: Fields) -> tuple[tuple[tuple[str, ...], ...], tuple[str, ...]]:
    """Chosen pieces by their layers from the bottom, and those whose layer nobody told."""
    told = {piece: fields.read(f"layer-{piece}", layer_of) for piece in dict.fromkeys(sent.all("piece"))}
    highest = max((layer for layer in told.values() if layer is not None), default=0)
    layers = tuple(tuple(piece for piece, at in told.items() if at == layer) for layer in range(1, highest + 1))
    return layers, tuple(piece for piece, layer in told.items() if layer is None)


def layer_of(text: str) -> int:
    """A layer as written, counted from the bottom. Raises BadField."""
    if not (text.isdecimal() and 1 <= int(text[:6]) <= MOST_LAYERS):
        raise BadField(f"Layers are counted from the bottom, 1 to {MOST_LAYERS}.")
    return int(text)


async def named_pieces(sent: Sent, least: int = 1) -> tuple[str, ...]:
    """Pieces whose names were typed or whose tags a photo shows, each once. Raises BadName, BadPicture, NotInBook, BadField."""
    photo = await upload(sent.form.get("tags"))
    seen = [str(one.name) for one in names_seen(photo)] if photo else []
    names = dict.fromkeys([*names_in(sent.text("names")), *seen])
    pieces = tuple(dict.fromkeys(piece_named(shop_of(sent.request).book, name) for name in names))
    if len(pieces) < least:
        raise BadField("Write the names on the pieces, with commas between, or send a photo on which their tags can be read.")
    return pieces
