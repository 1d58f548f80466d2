"""Custom jobs as pages see them: the job of an address, who may read whose name, the question of its quote."""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.requests import Request

from waney.papers.words import plain, said
from waney.trade.log_tally import counting_rule
from waney.web.access.members import Role
from waney.web.asked.custom import CustomQuoteAnswer, CustomQuoteAsked
from waney.web.asked.kinds import CUSTOM
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import Job, answer_of, ask
from waney.web.shop import Shop, currency_of, writes
from waney.web.showing import session_at, shop_of
from waney.yard.acts.settings import Setting

if TYPE_CHECKING:
    from waney.yard.services.custom import CustomJob

NOBODY = "the customer"


def job_at(request: Request, ident: str) -> CustomJob:
    """The custom job of an address. Raises NotInBook, SheetProblems."""
    from waney.yard.services.custom import CustomJob  # loads what saws in thought; so do all imports inside functions here

    return CustomJob.of(shop_of(request).book, ident)


def called_of(request: Request, job: CustomJob) -> str:
    """Who the customer is, for those who are signed in; others read no name."""
    return job.stands.called if session_at(request).member is not None else NOBODY


def to_customer(request: Request) -> bool:
    """Whether the page is turned towards the customer: then it has none of the sawyer's own figures."""
    return session_at(request).member is None or request.query_params.get("for") == "customer"


def sees_own(request: Request) -> bool:
    """Whether the sawyer's own figures are shown: not to the customer, nor while a buyer looks on."""
    return session_at(request).sees_own and not to_customer(request)


def decides(request: Request) -> bool:
    """Whether who looks may agree, part and bill."""
    member = session_at(request).member
    return member is not None and member.role is Role.OWNER


def quote_of(shop: Shop, job: CustomJob) -> tuple[Job, CustomQuoteAnswer | None]:
    """The quote by the terms of today: the question as it was asked, and its answer once it is there."""
    from waney.yard.services.record import sawing_record

    record, it = sawing_record(shop.book), job.job
    terms = shop.settled().get(Setting.TERMS, "")
    asked = CustomQuoteAsked(tuple(it.logs.items()), terms, it.way_km, it.way_hours, record.paces, record.yields)
    found = ask(shop, CUSTOM, as_bytes(asked))
    content = answer_of(shop, found)
    return found, None if content is None else read_back(content, CustomQuoteAnswer)


def counting_of(shop: Shop, job: CustomJob) -> str:
    """How boards are counted, as this shop writes it."""
    allowance = job.terms.allowance_m
    written = "" if allowance is None else plain(said(writes(shop.settled()).read(allowance)))
    return counting_rule(allowance, written)


def yard_of(shop: Shop) -> str:
    """What the shop is called on papers."""
    return shop.settled().get(Setting.YARD) or "The sawyer"


def money_of(shop: Shop, job: CustomJob) -> str | None:
    """The currency that counts for this job."""
    return job.terms.currency or currency_of(shop.settled())


def shown_of(request: Request, job: CustomJob) -> dict[str, object]:
    """What every page of a custom job is handed."""
    shop = shop_of(request)
    return {
        "job": job,
        "custom": job.stands,
        "called": called_of(request, job),
        "to_customer": to_customer(request),
        "own": sees_own(request),
        "decides": decides(request),
        "currency": money_of(shop, job),
    }
