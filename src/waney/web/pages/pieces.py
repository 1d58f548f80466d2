"""Pieces: searched, filtered, counted."""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import urlencode

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.units.length import parse_length
from waney.web.forms import Fields, Sent, photo, wet_of
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.pieces import PieceCounted
from waney.yard.book.around import spots
from waney.yard.book.finding import Order, State, Wanted, find_pieces
from waney.yard.book.looking import named, pieces_by_id
from waney.yard.problems import BadAct, NotPossible
from waney.yard.services.pieces import count_piece, keep_photo, keep_together, take_set_apart

router = Router()
A_PAGE = 100
SIZES = ("thinnest", "thickest", "length", "width")
FIELDS = ("species", "name", "thickness", "length", "width", "other_width", "spot", "bought", "wet")
ALIKE = ("species", "thickness", "length", "spot", "bought", "wet")
"""what the next piece is likely to share"""


@router.get("/pieces")
def pieces(request: Request) -> Response:
    """Those that fit the question, a page at a time. Raises BookProblem for a place in the list that no page gave."""
    return _listed(request, (), "", "")


def _listed(request: Request, ticked: Sequence[str], called: str, problem: str) -> Response:
    """ticked, called: what was to be kept together; problem: why it is not."""
    shop, asked = shop_of(request), request.query_params
    wanted, wrong = wanted_of(request, unit_of(shop.settled()))
    found = find_pieces(shop.book, wanted, A_PAGE, asked.get("after", ""))
    onward = urlencode({**{name: value for name, value in asked.items() if name != "after" and value}, "after": found.after})
    typed = {name: asked.get(name, "") for name in ("words", *SIZES, "spot", "state", "order")}
    shown = {
        "found": found, "typed": typed, "wrong": wrong, "onward": onward, "states": list(State), "orders": list(Order),
        "spots": spots(shop.book),
        "same": urlencode({name: value for name, value in typed.items() if value}),
        "ticked": ticked, "called": called, "problem": problem, "one_set": asked.get("together", ""),
    }  # fmt: skip
    return page(request, "pieces.html", shown, status=422 if wrong or problem else 200)


@router.post("/pieces/set")
def keep(sent: Sent) -> Response:
    """The ticked pieces are kept together from now on."""
    ticked, called = tuple(dict.fromkeys(sent.all("piece"))), sent.text("called")
    try:
        if len(ticked) < 2:
            raise BadAct("Tick two pieces or more; they are then kept together.")
        made = keep_together(sent.hand, ticked, called)
    except (BadAct, NotPossible) as slip:
        return _listed(sent.request, ticked, called, str(slip))
    return RedirectResponse(f"/pieces?together={made.id}", 303)


@router.post("/pieces/apart")
def apart(sent: Sent) -> Response:
    """A set is taken apart. Raises NotPossible, BadAct."""
    take_set_apart(sent.hand, sent.text("set"), sent.text("words"))
    piece = sent.text("piece")
    return RedirectResponse(f"/pieces/{piece}" if piece else "/pieces", 303)


def wanted_of(request: Request, unit: str) -> tuple[Wanted, dict[str, str]]:
    """The question, and a sentence for each field that cannot be read."""
    asked = request.query_params
    wrong: dict[str, str] = {}
    sizes: dict[str, float | None] = dict.fromkeys(SIZES)
    for name in SIZES:
        text = asked.get(name, "").strip()
        try:
            sizes[name] = parse_length(text, unit) if text else None
        except Problem as slip:
            wrong[name] = str(slip)
    state = State(asked["state"]) if asked.get("state") in tuple(State) else State.IN_YARD
    words, species = asked.get("words", "").strip(), asked.get("species", "").strip()
    thin, thick, length, width = (sizes[name] for name in SIZES)
    where = (asked.get("spot", ""), asked.get("log", ""), asked.get("together", ""))
    order = Order(asked["order"]) if asked.get("order") in tuple(Order) else Order.NEWEST
    return Wanted(words, species, thin, thick, length, width, state, *where, order=order), wrong


@router.get("/pieces/count")
def count(request: Request) -> Response:
    """A piece in half a minute; what the address says of it stands in the form. `?counted=`: the piece before it."""
    book, before = shop_of(request).book, request.query_params.get("counted", "")
    counted = next((one.name for one in pieces_by_id(book, [before])), "")
    return _counting(request, {name: request.query_params.get(name, "") for name in FIELDS}, {}, counted)


def _counting(request: Request, typed: dict[str, str], wrong: dict[str, str], counted: str) -> Response:
    shop = shop_of(request)
    shown = {"typed": typed, "wrong": wrong, "counted": counted, "spots": spots(shop.book)}
    return page(request, "piece_count.html", shown, status=422 if wrong else 200)


@router.post("/pieces/count")
async def count_one(sent: Sent) -> Response:
    """Write it down, and be ready for the next one of the same kind."""
    shop, fields = shop_of(sent.request), Fields(sent)
    unit = unit_of(shop.settled())
    species = fields.needed("species", "Write the wood; unknown is a word too.")
    thickness, length = fields.length("thickness", unit), fields.length("length", unit)
    widths = tuple(width for name in ("width", "other_width") if (width := fields.length(name, unit)) is not None)
    picture = await photo(sent)
    if fields.wrong:
        return _counting(sent.request, {name: sent.text(name) for name in FIELDS}, fields.wrong, "")
    piece, bought = sent.hand.new_id(), bool(sent.text("bought"))
    count_piece(sent.hand, PieceCounted(piece, species, sent.text("name"), thickness, length, widths, sent.text("spot"), bought))
    if picture:
        keep_photo(sent.hand, picture.content, f"piece:{piece}", picture.taken_at, wet_of(sent))
    same = {name: sent.text(name) for name in ALIKE if sent.text(name)}
    return RedirectResponse(f"/pieces/count?{urlencode({'counted': piece, **same})}", 303)


@router.get("/named")
def by_name(request: Request) -> Response:
    """From a name on the wood to its page. Raises BadName."""
    found = named(shop_of(request).book, request.query_params.get("name", ""))
    if found is None:
        return RedirectResponse(f"/pieces?words={request.query_params.get('name', '')}", 303)
    kind, _, ident = found.partition(":")
    return RedirectResponse(f"/{kind}s/{ident}", 303)
