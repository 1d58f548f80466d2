"""Trees and logs that are offered."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from waney.units.money import parse_money
from waney.web.access.members import Role
from waney.web.forms import Fields, Writing, photo
from waney.web.shop import currency_of, unit_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.offers import Reply, TreeOffered
from waney.yard.book.offered import trees
from waney.yard.services.offers import answer_offer, note_offer
from waney.yard.services.pieces import keep_photo

router = APIRouter()
EMPTY = ("species", "girth", "small_end", "length", "asked", "where", "words")


@router.get("/offered")
def offered(request: Request) -> Response:
    """What is offered, the unanswered first, the newest of them at the top."""
    return _shown(request, dict.fromkeys(EMPTY, ""), {})


def _shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    found = sorted(reversed(trees(shop_of(request).book)), key=lambda tree: bool(tree.reply))
    member = session_at(request).member
    decides = member is not None and member.role is Role.OWNER
    shown = {"trees": found, "typed": typed, "wrong": wrong, "replies": list(Reply), "decides": decides}
    return page(request, "offered.html", shown, status=422 if wrong else 200)


@router.post("/offered")
async def note(sent: Writing) -> Response:
    """Write an offer down; three readings, or a photo, or less."""
    shop, fields = shop_of(sent.request), Fields(sent)
    settled = shop.settled()
    unit = unit_of(settled)
    girth, small = fields.length("girth", unit), fields.length("small_end", unit)
    length = fields.length("length", "ft" if unit == "in" else "m")
    asked = fields.read("asked", lambda text: parse_money(text, currency_of(settled)).cents)
    picture = await photo(sent)
    if not (sent.text("species") or picture or sent.text("words")):
        fields.wrong["species"] = "Write the wood, or add a photo, or a few words: one of them is enough."
    if fields.wrong:
        return _shown(sent.request, {name: sent.text(name) for name in EMPTY}, fields.wrong)
    tree = TreeOffered(shop.new_id(), sent.text("species"), girth, small, length, asked, sent.text("where"), sent.text("words"))
    note_offer(sent.hand, tree)
    if picture is not None:
        keep_photo(sent.hand, picture.content, f"tree:{tree.tree}", picture.taken_at)
    return RedirectResponse("/offered", 303)


@router.post("/offered/{tree}")
def answer(tree: str, sent: Writing) -> Response:
    """Fetch, only if free, leave. Raises NotAllowed, Stale, BadField."""
    sent.decides()
    answer_offer(sent.hand, tree, sent.choice("reply", Reply), sent.whole("seen"), sent.text("reason"))
    return RedirectResponse("/offered", 303)
