"""Plans of one log, side by side; the drawing, the card, and the choice."""

from __future__ import annotations

import json
from dataclasses import dataclass
from hashlib import sha256
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.web.access.members import Role
from waney.web.asked.kinds import PLAN
from waney.web.asked.packing import as_bytes
from waney.web.asked.plan import PlanAsked, Planned
from waney.web.asking import Job, answer_of, ask, ask_again
from waney.web.forms import Sent, came_from, own_alone
from waney.web.mill.steps import steps_of
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.settings import Setting
from waney.yard.book.chosen import ChosenPlan, chosen_plan
from waney.yard.book.logs_seen import LogStands
from waney.yard.problems import NotPossible
from waney.yard.services.logs import choose_plan, keep_plan, sheets_of

router = Router()
NO_SHEETS = "Before a log can be planned, the mill and what is wanted must be known: write them down under Settings."


@router.get("/logs/{log}/plans")
def plans(request: Request, log: str) -> Response:
    """Side by side, when they are there; how far it is, while they are searched."""
    shop, found = shop_of(request), log_at(request, log)
    asked = question(shop, found)
    job = None if asked is None else ask(shop, PLAN, as_bytes(asked))
    planned = None if job is None else answer_of(shop, job)
    answer = Planned(planned).answer if planned else None
    drawings = tuple(_drawn(Planned(planned), n) for n in range(1, len(answer.plans) + 1)) if planned and answer else ()
    member = session_at(request).member
    chosen = chosen_plan(shop.book, found.id)
    number = _number_of(chosen, Planned(planned)) if chosen and planned else None
    shown = {
        "log": found,
        "job": job,
        "answer": answer,
        "drawings": drawings,
        "missing": "" if asked else NO_SHEETS,
        "decides": member is not None and member.role is Role.OWNER,
        "chosen": number,
        "elsewhere": chosen if number is None else None,
    }
    return page(request, "plans.html", shown)


def _number_of(chosen: ChosenPlan, planned: Planned) -> int | None:
    """Which of the plans is the chosen one, from 1; None: it is not among them."""
    names = range(1, len(planned.answer.plans) + 1)
    return next((n for n in names if sha256(planned.file(f"{n}.plan.json")).hexdigest() == chosen.file), None)


@dataclass(frozen=True)
class Drawn:
    """A plan as flat drawings; as figures for the log in three dimensions; each lie flat, to be taken apart beside it."""

    flat: str
    figures: str
    apart: tuple[str, ...]


def _drawn(planned: Planned, number: int) -> Drawn:
    apart = tuple(json.loads(planned.text(f"{number}.apart.json")))
    return Drawn(planned.text(f"{number}.svg"), planned.text(f"{number}.solid.json"), apart)


def question(shop: Shop, log: LogStands) -> PlanAsked | None:
    """What is asked of the planner; None while the shop has no mill or wants."""
    settled = shop.settled()
    mill, wants = settled.get(Setting.MILL, ""), settled.get(Setting.WANTS, "")
    if not (mill and wants):
        return None
    inside = scan_inside(shop, log.id)
    metric, day = unit_of(settled) == "mm", shop.today().isoformat()
    return PlanAsked(log.sheet, mill, wants, inside, (), metric, day)


def scan_inside(shop: Shop, log: str) -> str:
    """The scan that a log's sheet names, in base64; empty for none."""
    return sheets_of(shop.book, log).get("scan", "")


@router.get("/jobs/{job}")
def job_part(request: Request, job: str) -> Response:
    """How far a job is: asked again and again by a page that waits."""
    return page(request, "job.html", {"job": Job.at(shop_of(request), job)})


@router.post("/jobs/{job}/again")
def try_again(job: str, sent: Sent) -> Response:
    """What failed or was stopped is tried once more; back to the page that waits for it. Raises NotInBook."""
    ask_again(shop_of(sent.request), job)
    return RedirectResponse(came_from(sent.request), 303)


@router.post("/logs/{log}/plans")
def choose(log: str, sent: Sent) -> Response:
    """Keep every plan that was offered, and choose one. Raises NotAllowed, Stale, NotPossible."""
    sent.decides()
    shop, found = shop_of(sent.request), log_at(sent.request, log)
    planned = Planned(_answered(shop, sent.text("job")))
    numbers, taken, seen = range(1, len(planned.answer.plans) + 1), sent.whole("plan"), sent.whole("seen")
    if taken not in numbers:
        raise NotPossible("There is no such plan in this answer; look at the plans again.")
    made = {n: keep_plan(sent.hand, log, found.sheets, planned.text(f"{n}.plan.json")).id for n in numbers}
    choose_plan(sent.hand, log, made[taken], seen)
    steps_of(shop_of(sent.request), log)  # so that they are there at the mill
    return RedirectResponse(f"/logs/{log}/plans", 303)


def _answered(shop: Shop, job: str) -> bytes:
    content = answer_of(shop, Job.at(shop, job))
    if content is None:
        raise NotPossible("The plans are still searched; wait until they are there.")
    return content


@router.get("/logs/{log}/plans/{job}/{number:int}/card.pdf")
def card(request: Request, log: str, job: str, number: int) -> Response:
    """The height card; it tells at which prices another plan would be the best. Raises NotSignedIn, NotPossible."""
    own_alone(request, "The card says what wood must earn, which is the shop's own; sign in to read it.")
    found = log_at(request, log)
    content = Planned(_answered(shop_of(request), job)).file(f"{number}.card.pdf")
    name = quote(f"height-card-{found.name}.pdf")
    return Response(content, media_type="application/pdf", headers={"content-disposition": f'inline; filename="{name}"'})
