"""A rough plan at the mill: four readings make a log, a plan of it and the way to the sawing day."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.web.access.members import Role
from waney.web.asked.kinds import ROUGH
from waney.web.asked.packing import as_bytes
from waney.web.asked.plan import Planned
from waney.web.asking import Job, answer_of, ask
from waney.web.forms import Fields, Sent
from waney.web.mill.steps import steps_of
from waney.web.pages.day import day_at, days_shown, today_at_the_mill
from waney.web.pages.log import log_at
from waney.web.rough_form import ASSUMED, FIELDS, rough_of
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, session_at, shop_of
from waney.yard.acts.settings import Setting
from waney.yard.problems import NotPossible
from waney.yard.services.logs import NewLog, add_log, choose_plan, keep_plan

router = Router()


@router.post("/day/rough")
def begin(sent: Sent) -> Response:
    """Book the log in, ask for its plan, and lead to where it is looked at."""
    shop, fields = shop_of(sent.request), Fields(sent)
    settled = shop.settled()
    rough = rough_of(fields, sent, unit_of(settled))
    typed = {name: sent.text(name) for name in FIELDS}
    if rough is None:
        return days_shown(sent.request, typed, fields.wrong)
    try:
        log = add_log(sent.hand, NewLog(rough.log)).id
    except Problem as slip:
        return days_shown(sent.request, typed, {"rough": str(slip)})
    job = ask(shop, ROUGH, as_bytes(rough.asked(settled.get(Setting.MILL, ""), shop.today().isoformat())))
    return RedirectResponse(f"/day/{today_at_the_mill(sent)}/rough/{log}?job={job.id}", 303)


@router.get("/day/{day}/rough/{log}")
def rough(request: Request, day: str, log: str) -> Response:
    """The plan, and what was assumed for it; how far it is, while it is searched. Raises NotInBook."""
    shop, found, ident = shop_of(request), log_at(request, log), request.query_params.get("job", "")
    job = Job.at(shop, ident) if ident else None
    content = answer_of(shop, job) if job else None
    planned = Planned(content) if content else None
    answer = planned.answer if planned else None
    member = session_at(request).member
    shown = {
        "day": day_at(request, day),
        "log": found,
        "job": job,
        "again": f"/day/{day}/rough/{log}?job={ident}",
        "answer": answer,
        "drawing": planned.text("1.svg") if planned and answer and answer.plans else "",
        "assumed": ASSUMED,
        "own_mill": bool(shop.settled().get(Setting.MILL)),
        "decides": member is not None and member.role is Role.OWNER,
    }
    return page(request, "rough.html", shown)


@router.post("/day/{day}/rough/{log}")
def choose(day: str, log: str, sent: Sent) -> Response:
    """Keep the plan, choose it, and go to the mill. Raises NotAllowed, Stale, NotPossible."""
    sent.decides()
    shop, found = shop_of(sent.request), log_at(sent.request, log)
    content = answer_of(shop, Job.at(shop, sent.text("job")))
    if content is None or not Planned(content).answer.plans:
        raise NotPossible("There is no rough plan of this log yet; look again, or saw it without a plan.")
    plan = keep_plan(sent.hand, log, found.sheets, Planned(content).text("1.plan.json")).id
    choose_plan(sent.hand, log, plan, sent.whole("seen"))
    steps_of(shop_of(sent.request), log)  # so that they are there at the mill
    return RedirectResponse(f"/day/{day}/at/{log}", 303)
