"""The quote of a custom job: three ways side by side, the sawyer's true hour only where no customer looks; one is agreed on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.custom import QuoteWay, quote_paper
from waney.papers.paper import paper_pdf
from waney.trade.way_paid import How
from waney.web.customs import called_of, job_at, quote_of, shown_of, yard_of
from waney.web.forms import BadField, Sent
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import page, shop_of
from waney.yard.problems import NotPossible

if TYPE_CHECKING:
    from waney.yard.services.custom import CustomJob

router = Router()


@router.get("/custom/{custom}/quote")
def custom_quote(request: Request, custom: str) -> Response:
    """Bad, likely and good of each way; ?for=customer: without the sawyer's own figures. Raises NotInBook."""
    return _shown(request, job_at(request, custom), "")


def _shown(request: Request, job: CustomJob, wrong: str) -> Response:
    from waney.yard.services.custom import seen_of

    shop = shop_of(request)
    asked, answer = quote_of(shop, job) if job.logs else (None, None)
    more = {"asked": asked, "answer": answer, "wrong": wrong, "seen": " ".join(map(str, seen_of(job, shop.book)))}
    return page(request, "custom_quote.html", shown_of(request, job) | more, status=422 if wrong else 200)


@router.post("/custom/{custom}/quote")
def choose(custom: str, sent: Sent) -> Response:
    """One way is agreed on. Raises NotAllowed, BadField."""
    from waney.yard.services.custom import agree

    sent.decides()
    how, seen = sent.choice("how", How), _versions(sent.text("seen"))
    try:
        agree(sent.hand, custom, how, shop_of(sent.request).today().isoformat(), seen)
    except Problem as slip:
        return _shown(sent.request, job_at(sent.request, custom), str(slip))
    return RedirectResponse(f"/custom/{custom}/agreement", 303)


def _versions(text: str) -> tuple[int, ...]:
    """What was looked at. Raises BadField."""
    if not all(part.isdecimal() and len(part) < 10 for part in text.split()):
        raise BadField("This form does not say what was looked at; load the page anew.")
    return tuple(map(int, text.split()))


def _bare(feet: str) -> str:
    """Board feet without their unit, for a column that names it."""
    return feet.replace(" board feet", "")


@router.get("/custom/{custom}/quote.pdf")
def custom_quote_paper(request: Request, custom: str) -> Response:
    """The quote for the customer. Raises NotInBook, NotPossible while it is worked out."""
    shop, job = shop_of(request), job_at(request, custom)
    if not job.logs:
        raise NotPossible("This custom job has no logs yet; name them, then it can be quoted.")
    asked, answer = quote_of(shop, job)
    called = "quote.pdf"
    if answer is None and asked.goes_on:
        return page(request, "paper_waits.html", {"job": asked, "called": called})
    if answer is None or answer.sentence:
        raise NotPossible(answer.sentence if answer else asked.words)
    logs = tuple(
        (log.name, log.wood or "wood not known", log.read, _bare(dict(log.scales).get(answer.rule, ""))) for log in answer.logs
    )
    ways = tuple(QuoteWay(way.how, way.paid, way.keeps, "; ".join(way.missing)) for way in answer.ways)
    remarks = tuple(f"{log.name}: {'; '.join(log.remarks)}." for log in answer.logs if log.remarks)
    called_so = (yard_of(shop), called_of(request, job))
    made = quote_paper(*called_so, logs, answer.rule, ways, remarks, writes(shop.settled()), shop.today())
    return file(paper_pdf(made, shop.today()), called, PDF)
