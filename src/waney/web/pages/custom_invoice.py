"""The invoice of a custom job: what it comes to, written down as it stands, paid; taken back where it was wrong."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.custom import Invoice, invoice_paper
from waney.papers.paper import paper_pdf
from waney.units.money import parse_money
from waney.web.customs import called_of, job_at, money_of, shown_of, yard_of
from waney.web.forms import BadField, Fields, Sent
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import Figures, page, shop_of
from waney.yard.acts.sales import MONEY_COMES_BY, PaidBy
from waney.yard.book.custom_seen import BillStands
from waney.yard.problems import NotPossible

if TYPE_CHECKING:
    from waney.trade.bill import Bill
    from waney.yard.services.custom import CustomJob

router = Router()


@dataclass(frozen=True)
class Shown:
    """An invoice on the page, written or as it would be."""

    lines: tuple[tuple[str, int], ...]
    taxes: tuple[tuple[str, int], ...]
    net_cents: int
    total_cents: int
    said: tuple[str, ...]

    @classmethod
    def written(cls, bill: BillStands) -> Shown:
        """As it was printed."""
        return cls(bill.lines, bill.taxes, bill.net_cents, bill.total_cents, bill.said)

    @classmethod
    def would_be(cls, bill: Bill) -> Shown:
        """As it would be printed now."""
        lines = tuple((line.what, line.cents) for line in bill.lines)
        taxes = tuple((tax.words, tax.cents) for tax in bill.taxes)
        return cls(lines, taxes, bill.net_cents, bill.total_cents, bill.said)


@router.get("/custom/{custom}/invoice")
def custom_invoice(request: Request, custom: str) -> Response:
    """Lines, taxes by their rounding rule, sum, what is owed. Raises NotInBook."""
    return _shown(request, job_at(request, custom), {})


def _shown(request: Request, job: CustomJob, wrong: dict[str, str]) -> Response:
    from waney.yard.services.custom import bill_of

    bill, problem = None, ""
    try:
        bill = Shown.written(job.stands.bill) if job.stands.bill else Shown.would_be(bill_of(job))
    except Problem as slip:
        problem = str(slip)
    more = {"bill": bill, "price": _price(job), "problem": problem, "wrong": wrong, "ways_paid": MONEY_COMES_BY}
    return page(request, "custom_invoice.html", shown_of(request, job) | more, status=422 if wrong else 200)


def _price(job: CustomJob) -> str:
    """What is paid, as it was agreed; empty while nothing is."""
    from waney.trade.agreement import price_words

    return "" if job.stands.how is None else price_words(job.terms, job.stands.how)


@router.post("/custom/{custom}/invoice")
def write(custom: str, sent: Sent) -> Response:
    """Bill it, take the invoice back, or money came. Raises NotAllowed, BadField."""
    from waney.yard.services.custom import pay_custom, take_bill_back, write_bill

    do, fields, shop = sent.text("do"), Fields(sent), shop_of(sent.request)
    job = job_at(sent.request, custom)
    if do not in ("bill", "back", "paid"):
        raise BadField("This form says nothing that can be done here; load the page anew.")
    try:
        if do == "bill":
            sent.decides()
            write_bill(sent.hand, custom, shop.today().isoformat())
        elif do == "back":
            sent.decides()
            take_bill_back(sent.hand, custom, sent.text("words"))
        else:
            money = fields.read("paid", lambda text: parse_money(text, money_of(shop, job)))
            if money is not None:
                pay_custom(sent.hand, custom, money.cents, sent.choice("by", PaidBy, PaidBy.CASH))
            elif not fields.wrong:
                fields.wrong["paid"] = "How much came?"
    except Problem as slip:
        fields.wrong["do"] = str(slip)
    if fields.wrong:
        return _shown(sent.request, job_at(sent.request, custom), fields.wrong)
    return RedirectResponse(f"/custom/{custom}/invoice", 303)


@router.get("/custom/{custom}/invoice.pdf")
def custom_invoice_paper(request: Request, custom: str) -> Response:
    """The invoice as it was written. Raises NotInBook, NotPossible while there is none."""
    shop, job = shop_of(request), job_at(request, custom)
    bill = job.stands.bill
    if bill is None:
        raise NotPossible("There is no invoice yet; write it on the page of the invoice first.")
    currency = money_of(shop, job)
    agreed = f"Agreed on {Figures.day(job.stands.agreed_on)}, {job.stands.how}. {_price(job)}"

    def money(cents: int) -> str:
        return Figures.money(cents, currency)

    invoice = Invoice(
        f"Invoice {bill.number}", yard_of(shop), called_of(request, job), Figures.day(bill.on), agreed,
        tuple((what, money(cents) if cents else "nothing to pay") for what, cents in bill.lines), money(bill.net_cents),
        tuple((what, money(cents)) for what, cents in bill.taxes), money(bill.total_cents),
        money(job.stands.paid_cents) if job.stands.paid_cents else "", money(max(job.stands.owed_cents, 0)), bill.said,
        tuple(job.kept),
    )  # fmt: skip
    made = invoice_paper(invoice, writes(shop.settled()), shop.today())
    return file(paper_pdf(made, shop.today()), f"invoice-{bill.number}.pdf", PDF)
