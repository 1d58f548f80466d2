"""The agreement of a custom job: its text, and how both go over to another rule."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.custom import agreement_paper
from waney.papers.paper import paper_pdf
from waney.trade.counted import By, Counted
from waney.trade.way_paid import How
from waney.units.money import parse_rate
from waney.web.customs import called_of, counting_of, job_at, money_of, shown_of, yard_of
from waney.web.forms import Fields, Sent
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.book.looking import version_of
from waney.yard.problems import NotPossible
from waney.yard.streams import stream

if TYPE_CHECKING:
    from waney.yard.services.custom import CustomJob

router = Router()


@router.get("/custom/{custom}/agreement")
def custom_agreement(request: Request, custom: str) -> Response:
    """The text as both read it. Raises NotInBook."""
    return _shown(request, job_at(request, custom), {})


def _shown(request: Request, job: CustomJob, wrong: dict[str, str]) -> Response:
    text: tuple[str, ...] = ()
    problem, rows = "", _rows(job)
    if job.stands.how is not None:
        try:
            text = text_of(request, job)
        except Problem as slip:
            problem = str(slip)
    more = {
        "text": text,
        "problem": problem,
        "wrong": wrong,
        "rows": rows,
        "counted": any(counts for *_, counts in rows),
        "other": _other_rules(job),
        "said": _said(job),
        "seen": version_of(shop_of(request).book, stream("custom", job.stands.id)),
    }
    return page(request, "custom_agreement.html", shown_of(request, job) | more, status=422 if wrong else 200)


def text_of(request: Request, job: CustomJob) -> tuple[str, ...]:
    """The agreement, a paragraph each. Raises BadAgreement, NotPossible while nothing is agreed."""
    from waney.trade.agreement import About, agreement

    shop = shop_of(request)
    if job.stands.how is None:
        raise NotPossible("Nothing is agreed yet; choose one way of the quote first.")
    way = Figures(writes(shop.settled())).way(job.stands.way_m) if job.stands.way_m else ""
    about = About(
        yard_of(shop), called_of(request, job), tuple(log.name for log in job.logs), counting_of(shop, job), way, job.job.way_km
    )
    return agreement(job.terms, job.stands.how, about)


def _rows(job: CustomJob) -> tuple[tuple[str, str, str, str], ...]:
    """Name, wood, what was read, and what it counts by the agreed rule, of each log."""
    by = job.terms.board_foot.by if job.terms.board_foot and job.stands.how is How.BOARD_FOOT else None
    rows = []
    for log in job.logs:
        scaled = job.stands.scaled.get(log.id, {})
        read = next((one.read for one in scaled.values()), "not there when it was agreed")
        rows.append((log.name, Figures.wood(log.species), read, _counts(by, scaled)))
    return tuple(rows)


def _counts(by: By | None, scaled: Mapping[By, Counted]) -> str:
    """What a log counts by the agreed rule; empty where no rule is."""
    if by is None:
        return ""
    if by is By.TALLY:
        return "after it is sawn"
    return f"{scaled[by].board_feet:g}" if by in scaled else "not counted"


def _said(job: CustomJob) -> tuple[str, ...]:
    """What both agreed anew."""
    return job.terms.board_foot.changed if job.terms.board_foot and job.stands.how is How.BOARD_FOOT else ()


def _other_rules(job: CustomJob) -> list[tuple[By, str]]:
    """Rules that both could go over to, with the same wood by both."""
    from waney.yard.services.custom import counted_both_ways

    found = []
    for by in By:
        try:
            before, after = counted_both_ways(job, by)
        except NotPossible:
            continue
        if by is not before.by:
            found.append((by, f"{before.board_feet:.4g} by {before.by}, {after.board_feet:.4g} by {after.by}"))
    return found


@router.post("/custom/{custom}/agreement")
def anew(custom: str, sent: Sent) -> Response:
    """Both go over to another rule. Raises NotAllowed, BadField."""
    from waney.yard.services.custom import agree_anew

    sent.decides()
    shop, fields = shop_of(sent.request), Fields(sent)
    job = job_at(sent.request, custom)
    rate = fields.read("rate", lambda text: parse_rate(text, money_of(shop, job))[0])
    if rate is None and not fields.wrong:
        fields.wrong["rate"] = "What does a board foot cost by the new rule?"
    if not fields.wrong:
        try:
            agree_anew(sent.hand, custom, sent.choice("by", By), rate or 0.0, sent.whole("seen"))
            return RedirectResponse(f"/custom/{custom}/agreement", 303)
        except Problem as slip:
            fields.wrong["by"] = str(slip)
    return _shown(sent.request, job, fields.wrong)


@router.get("/custom/{custom}/agreement.pdf")
def custom_agreement_paper(request: Request, custom: str) -> Response:
    """To be signed. Raises NotInBook, NotPossible, BadAgreement."""
    shop, job = shop_of(request), job_at(request, custom)
    made = agreement_paper(
        yard_of(shop), called_of(request, job), Figures.day(job.stands.agreed_on), text_of(request, job), _rows(job), _said(job),
        writes(shop.settled()), shop.today(),
    )  # fmt: skip
    return file(paper_pdf(made, shop.today()), "agreement.pdf", PDF)
