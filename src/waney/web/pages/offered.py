"""Trees and logs that are offered: what was said of each, and what is answered."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypedDict

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.units.money import parse_money
from waney.units.number import parse_number
from waney.units.way import parse_way
from waney.web.asked.offer import OfferAnswer
from waney.web.forms import Fields, Sent, photo, wet_of
from waney.web.offers import answers_of
from waney.web.routes import Router
from waney.web.shop import currency_of, unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.offers import ReadWith, TreeOffered
from waney.yard.book.offered import TreeStands, stems, trees
from waney.yard.services.offers import note_offer
from waney.yard.services.pieces import keep_photo

router = Router()
EMPTY = ("species", "girth", "small_end", "length", "how", "grew", "asked", "where", "way", "hours", "words", "wet")
GREW = {"yard": True, "forest": False}


@dataclass(frozen=True)
class Row:
    """A tree and what was worked out of it; None: not yet, or answered already."""

    tree: TreeStands
    answer: OfferAnswer | None


@router.get("/offered")
def offered(request: Request) -> Response:
    """What is offered, the unanswered first, the newest of them at the top."""
    return _shown(request, dict.fromkeys(EMPTY, ""), {})


def _shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    shop = shop_of(request)
    found = sorted(reversed(trees(shop.book)), key=lambda tree: bool(tree.reply))
    answers, goes_on = answers_of(shop, [tree for tree in found if not tree.reply])
    shown = {
        "rows": [Row(tree, answers.get(tree.id)) for tree in found],
        "goes_on": goes_on,
        "stems": [stem for stem in reversed(stems(shop.book)) if not stem.logs],
        "typed": typed,
        "wrong": wrong,
        "currency": currency_of(shop.settled()),
        "far": "mi" if unit_of(shop.settled()) == "in" else "km",
    }
    return page(request, "offered.html", shown, status=422 if wrong else 200)


@router.post("/offered")
async def note(sent: Sent) -> Response:
    """Write an offer down; three readings, or a photo, or less."""
    fields = Fields(sent)
    told = told_of(sent, fields)
    picture = await photo(sent)
    if not (sent.text("species") or picture or sent.text("words")):
        fields.wrong["species"] = "Write the wood, or add a photo, or a few words: one of them is enough."
    if fields.wrong:
        return _shown(sent.request, {name: sent.text(name) for name in EMPTY}, fields.wrong)
    tree = TreeOffered(sent.hand.new_id(), **told, how=fields.read("how", ReadWith) or ReadWith.TAPE)
    note_offer(sent.hand, tree)
    if picture is not None:
        keep_photo(sent.hand, picture.content, f"tree:{tree.tree}", picture.taken_at, wet_of(sent))
    return RedirectResponse(f"/offered/{tree.tree}", 303)


class Told(TypedDict):
    """What a form says of an offered tree; None, empty: not said."""

    species: str
    girth_m: float | None
    small_end_m: float | None
    length_m: float | None
    asked_cents: int | None
    where: str
    words: str
    yard_tree: bool | None
    way_m: float | None
    hours: float | None


def told_of(sent: Sent, fields: Fields) -> Told:
    """The fields of an offer, read; slips are noted in `fields`."""
    settled = shop_of(sent.request).settled()
    unit = unit_of(settled)
    return Told(
        species=sent.text("species"),
        girth_m=fields.length("girth", unit),
        small_end_m=fields.length("small_end", unit),
        length_m=fields.length("length", "ft" if unit == "in" else "m"),
        asked_cents=fields.read("asked", lambda text: parse_money(text, currency_of(settled)).cents),
        where=sent.text("where"),
        words=sent.text("words"),
        yard_tree=GREW.get(sent.text("grew")),
        way_m=fields.read("way", lambda text: parse_way(text, "mi" if unit == "in" else "km")),
        hours=fields.read("hours", lambda text: float(parse_number(text.removesuffix("h").strip()))),
    )
