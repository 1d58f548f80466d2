"""Other people's logs: the custom jobs, a new one, and one with its logs and what is to be done next."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.trade.local_rules import Question
from waney.units.number import parse_number
from waney.units.way import parse_way
from waney.web.asked_of_sale import rules_of_a_log
from waney.web.customs import job_at, shown_of
from waney.web.forms import Fields, Sent
from waney.web.routes import Router
from waney.web.shop import currency_of, unit_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.book.custom_seen import CustomStands, customers_logs, customs
from waney.yard.book.logs_seen import LogStands, logs

if TYPE_CHECKING:
    from waney.yard.services.custom import CustomJob

router = Router()
EMPTY = ("called", "words", "way", "hours")


@router.get("/custom")
def custom_jobs(request: Request) -> Response:
    """All of them, the newest first, and the form for a new one."""
    return _listed(request, dict.fromkeys(EMPTY, ""), {})


def _listed(request: Request, typed: dict[str, str], wrong: dict[str, str], ticked: tuple[str, ...] = ()) -> Response:
    shop = shop_of(request)
    found = customs(shop.book)
    shown = {
        "open": [one for one in found if not one.ended],
        "done": [one for one in found if one.ended],
        "next": {one.id: next_step(one) for one in found},
        "free": _free(request),
        "ticked": ticked,
        "typed": typed,
        "wrong": wrong,
        "far": "mi" if unit_of(shop.settled()) == "in" else "km",
        "currency": currency_of(shop.settled()),
        "names": session_at(request).member is not None,
    }
    return page(request, "custom_jobs.html", shown, status=422 if wrong else 200)


def _free(request: Request, custom: str = "") -> list[LogStands]:
    """The logs of a custom job, then those that lie there and are in none; newest first."""
    book = shop_of(request).book
    theirs = customers_logs(book)
    mine = {held.log for one in (customs(book, custom) if custom else ()) for held in one.logs}
    lying = [log for log in reversed(logs(book)) if log.id in mine or (log.id not in theirs and not log.ended and not log.pieces)]
    return sorted(lying, key=lambda log: log.id not in mine)


def next_step(one: CustomStands) -> tuple[str, str]:
    """What is to be done next, in words, and on which of its pages."""
    if one.ended:
        return "done with", ""
    if not one.logs:
        return "name its logs", ""
    if one.how is None:
        return "quote it, and agree on one way", "/quote"
    if one.bill is None:
        return "saw it, tally it, bill it", "/tally"
    return ("paid" if one.owed_cents <= 0 else "to be paid"), "/invoice"


@router.post("/custom")
def begin(sent: Sent) -> Response:
    """Somebody asks. Nothing of them is kept but what to call them."""
    from waney.yard.services.custom import ask_custom

    shop, fields = shop_of(sent.request), Fields(sent)
    way = fields.read("way", lambda text: parse_way(text, "mi" if unit_of(shop.settled()) == "in" else "km"))
    hours = fields.read("hours", lambda text: float(parse_number(text)))
    called = fields.needed("called", "Whose logs are they? What to call them is enough.")
    if not fields.wrong:
        try:
            made = ask_custom(sent.hand, called, sent.all("log"), sent.text("words"), way or 0.0, hours or 0.0)
            return RedirectResponse(f"/custom/{made.id}", 303)
        except Problem as slip:
            fields.wrong["called"] = str(slip)
    return _listed(sent.request, {name: sent.text(name) for name in EMPTY}, fields.wrong, sent.all("log"))


@router.get("/custom/{custom}")
def custom_job(request: Request, custom: str) -> Response:
    """One, with its logs. Raises NotInBook."""
    return _shown(request, job_at(request, custom), {})


def _shown(request: Request, job: CustomJob, wrong: dict[str, str]) -> Response:
    words, leads = next_step(job.stands)
    more = {"free": _free(request, job.stands.id), "next": words, "leads": leads, "wrong": wrong, "rules": _rules(request, job)}
    return page(request, "custom.html", shown_of(request, job) | more, status=422 if wrong else 200)


def _rules(request: Request, job: CustomJob) -> tuple[Question, ...]:
    """What to ask of sawing somebody's logs; of the wood where all of them are of one."""
    woods = {log.species for log in job.logs}
    return rules_of_a_log(shop_of(request).settled(), woods.pop() if len(woods) == 1 else "", bark=None, theirs=True)


@router.post("/custom/{custom}")
def change(custom: str, sent: Sent) -> Response:
    """Which logs are its own; or it is done with."""
    from waney.yard.services.custom import end_custom, tell_logs

    try:
        if sent.text("do") == "end":
            end_custom(sent.hand, custom, sent.text("words"))
        else:
            tell_logs(sent.hand, custom, sent.all("log"))
    except Problem as slip:
        return _shown(sent.request, job_at(sent.request, custom), {"do": str(slip)})
    return RedirectResponse(f"/custom/{custom}", 303)
