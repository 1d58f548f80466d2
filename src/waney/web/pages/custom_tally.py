"""The tally of a custom job, log by log, as the customer reads it; hours, blades, and on shares what stays with the sawyer.

And why the tally differs from the log scale, on one page.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.papers.custom import LogCard, PieceRow, tally_paper
from waney.papers.paper import paper_pdf
from waney.trade.log_tally import LogTally
from waney.trade.way_paid import How
from waney.units.number import parse_number
from waney.web.customs import called_of, counting_of, job_at, shown_of, yard_of
from waney.web.forms import Fields, Sent
from waney.web.pages.papers import PDF, file
from waney.web.routes import Router
from waney.web.shop import writes
from waney.web.showing import page, shop_of
from waney.yard.problems import NotPossible
from waney.yard.services.sawing_hours import sawn_for

if TYPE_CHECKING:
    from waney.yard.services.custom import CustomJob

router = Router()


@router.get("/custom/{custom}/tally")
def custom_tally(request: Request, custom: str) -> Response:
    """Every piece of every log with what it counts. Raises NotInBook."""
    return _shown(request, job_at(request, custom), {})


def _shown(request: Request, job: CustomJob, wrong: dict[str, str]) -> Response:
    from waney.yard.services.custom import suggested_parting

    on_shares = job.stands.how is How.SHARES
    kept = set(job.kept) or (set(suggested_parting(job)) if on_shares else set())
    more = {
        "rows": list(zip(job.logs, job.stands.logs, job.tallies, strict=True)),
        "ids": {piece.name: piece.id for log in job.logs for piece in job.pieces[log.id]},
        "at_mill": {log.id: sawn_for(shop_of(request).book, log.id) for log in job.logs},
        "on_shares": on_shares,
        "parted": bool(job.kept),
        "kept": kept,
        "kept_feet": sum(line.tenths for tally in job.tallies for line in tally.lines if line.piece.name in kept) / 10,
        "count": counting_of(shop_of(request), job),
        "wrong": wrong,
    }
    return page(request, "custom_tally.html", shown_of(request, job) | more, status=422 if wrong else 200)


@router.post("/custom/{custom}/tally")
def write(custom: str, sent: Sent) -> Response:
    """Hours and blades of the logs; or which pieces stay with the sawyer. Raises NotAllowed, BadField."""
    from waney.yard.services.custom import part

    fields, job = Fields(sent), job_at(sent.request, custom)
    try:
        if sent.text("do") == "part":
            sent.decides()
            part(sent.hand, custom, sent.all("piece"))
        else:
            _hours(sent, fields, job)
    except Problem as slip:
        fields.wrong.setdefault("do", str(slip))
    if fields.wrong:
        return _shown(sent.request, job, fields.wrong)
    return RedirectResponse(f"/custom/{custom}/tally", 303)


def _hours(sent: Sent, fields: Fields, job: CustomJob) -> None:
    """Only what changed is written."""
    from waney.yard.services.custom import tell_sawn

    told = []
    for held in job.stands.logs:
        hours = fields.read(f"hours-{held.log}", lambda text: float(parse_number(text)))
        blades = fields.read(f"blades-{held.log}", int)
        if hours is not None and (round(hours, 2), blades or 0) != (held.hours, held.metal_blades):
            told.append((held.log, hours, blades or 0))
    for log, hours, blades in told if not fields.wrong else ():
        tell_sawn(sent.hand, job.stands.id, log, hours, blades)


@router.get("/custom/{custom}/tally.pdf")
def custom_tally_paper(request: Request, custom: str) -> Response:
    """The same on paper. Raises NotInBook, NotPossible while nothing is sawn."""
    shop, job = shop_of(request), job_at(request, custom)
    if not any(tally.lines for tally in job.tallies):
        raise NotPossible("Nothing came off these logs yet; the tally can be printed once they are sawn.")
    cards = tuple(_card(job, n, tally) for n, tally in enumerate(job.tallies))
    total = f"{job.tally.board_feet:.1f} board feet tallied in all"
    made = tally_paper(
        yard_of(shop), called_of(request, job), cards, total, counting_of(shop, job), writes(shop.settled()), shop.today()
    )
    return file(paper_pdf(made, shop.today()), "customer-tally.pdf", PDF)


def _card(job: CustomJob, n: int, tally: LogTally) -> LogCard:
    held, kept = job.stands.logs[n], set(job.kept)
    rows = tuple(
        PieceRow(
            line.piece.name, line.piece.thickness_m, line.piece.width_m, line.piece.length_m,
            "spoiled" if line.piece.spoiled else f"{line.board_feet:.1f}", line.piece.name in kept,
        )
        for line in tally.lines
    )  # fmt: skip
    hours = "" if held.hours is None else f"{held.hours:.2f} hours"
    blades = f"{held.metal_blades} {'blade' if held.metal_blades == 1 else 'blades'} lost to metal" if held.metal_blades else ""
    return LogCard(held.name, rows, f"{tally.counted.board_feet:.1f}", hours, blades, tally.unmeasured)


@router.get("/custom/{custom}/overrun")
def custom_overrun(request: Request, custom: str) -> Response:
    """Why the tally is more, or less, than the scale. Raises NotInBook."""
    from waney.yard.services.custom import overruns

    job, problem = job_at(request, custom), ""
    try:
        rows = overruns(job)
    except NotPossible as slip:
        rows, problem = (), str(slip)
    return page(request, "custom_overrun.html", shown_of(request, job) | {"rows": rows, "problem": problem})
