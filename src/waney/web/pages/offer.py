"""One tree that is offered: is it worth fetching, and why; its answer; what came of it."""

from __future__ import annotations

import re

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.papers.cautions import cautions
from waney.web.access.members import Role
from waney.web.asked.offer import OfferAnswer
from waney.web.forms import BadField, Fields, Sent
from waney.web.offers import answer_for
from waney.web.pages.offered import EMPTY, told_of
from waney.web.routes import Router
from waney.web.shop import currency_of, unit_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.offers import ReadWith, Reply, StemFelled, TreeToldAgain
from waney.yard.book.offered import stems_of, tree_at
from waney.yard.book.stories import photos_of
from waney.yard.services.offers import answer_offer, fell_stem, tell_offer_again

router = Router()
REASON = 190
"""characters of a reason that one line of the book holds"""


@router.get("/offered/{tree}")
def offer(request: Request, tree: str) -> Response:
    """Weight, wood, money, and the answer with its reason. Raises NotInBook."""
    return _shown(request, tree, {}, {})


def _shown(request: Request, ident: str, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    shop = shop_of(request)
    found = tree_at(shop.book, ident)
    job, answer, of_today = answer_for(shop, found)
    session = session_at(request)
    shown = {
        "tree": found,
        "job": job,
        "answer": answer,
        "of_today": of_today,
        "replies": list(Reply),
        "decides": session.sees_own and session.member is not None and session.member.role is Role.OWNER,
        "cautions": [one.sentence for one in cautions("fetching")],
        "photos": photos_of(shop.book, f"tree:{ident}"),
        "stems": stems_of(shop.book, ident),
        "currency": currency_of(shop.settled()),
        "reason": _reason(answer),
        "far": "mi" if unit_of(shop.settled()) == "in" else "km",
        "typed": {**dict.fromkeys(EMPTY, ""), **typed},
        "put_right": bool(wrong) and "lies_long" not in typed,
        "wrong": wrong,
    }
    return page(request, "offer.html", shown, status=422 if wrong else 200)


def _reason(answer: OfferAnswer | None) -> str:
    """A reason to begin with: whole sentences, as far as a line goes."""
    said = answer.reason if answer is not None and answer.reply else ""
    if len(said) > REASON:
        said = said[:REASON].rpartition(". ")[0] + "."
    return said if said != "." else ""


@router.post("/offered/{tree}")
def reply(tree: str, sent: Sent) -> Response:
    """Fetch, only if free, leave; with the money that stood on the page. Raises NotAllowed, Stale, BadField."""
    sent.decides()
    money = _money(sent.text("money"))
    answer_offer(sent.hand, tree, sent.choice("reply", Reply), sent.whole("seen"), sent.text("reason"), money)
    return RedirectResponse(f"/offered/{tree}", 303)


def _money(text: str) -> tuple[int, ...]:
    """The cents that stood on the page: bad, likely, good; or nothing. Raises BadField."""
    if not re.fullmatch(r"(-?[0-9]{1,12}( |$)){0,3}", text):
        raise BadField(f'"{text[:60]}" is no money; load the page anew and answer again.')
    return tuple(map(int, text.split()))


@router.post("/offered/{tree}/again")
def again(tree: str, sent: Sent) -> Response:
    """More is known of it, or otherwise than it was told; what was left blank stays. Raises NotInBook, BadAct."""
    fields, found = Fields(sent), tree_at(shop_of(sent.request).book, tree)
    told, how = told_of(sent, fields), fields.read("how", ReadWith)
    if not fields.wrong and how is None and all(value in (None, "") for value in told.values()):
        fields.wrong["again"] = "Nothing was written: fill in what is to be put right."
    if fields.wrong:
        return _shown(sent.request, tree, {name: sent.text(name) for name in EMPTY}, fields.wrong)
    tell_offer_again(sent.hand, TreeToldAgain(found.id, **told, how=how))
    return RedirectResponse(f"/offered/{tree}", 303)


@router.post("/offered/{tree}/came")
def came(tree: str, sent: Sent) -> Response:
    """It lies in the yard: a stem, not yet cut to length. Raises NotInBook."""
    shop, fields = shop_of(sent.request), Fields(sent)
    found = tree_at(shop.book, tree)
    length = fields.length("lies_long", "ft" if unit_of(shop.settled()) == "in" else "m")
    if fields.wrong:
        return _shown(sent.request, tree, {"lies_long": sent.text("lies_long")}, fields.wrong)
    stem = StemFelled(sent.hand.new_id(), tree, found.species, length or found.length_m, sent.text("felled_on"))
    fell_stem(sent.hand, stem)
    return RedirectResponse(f"/stems/{stem.stem}", 303)
