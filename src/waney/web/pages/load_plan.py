"""A load planned out of what stands in the yard: who may share, who sets the pace, how long; several proposals."""

from __future__ import annotations

import tomllib
from datetime import date

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.web.asked.kinds import LOAD
from waney.web.asked.load import LoadAnswer, LoadAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import answer_of, ask
from waney.web.loading_day import on_the_day
from waney.web.loads_asked import asking, lots, unmeasured
from waney.web.routes import Router
from waney.web.shop import unit_of, writes
from waney.web.showing import page, shop_of
from waney.yard.acts.base import day_if_any
from waney.yard.acts.settings import Setting
from waney.yard.book.drying_seen import stacks

router = Router()
MOST_LOTS = 8
"""every two are held against each other; more take too long (ours)"""


@router.get("/loads/plan")
def plan(request: Request) -> Response:
    """Which stacks and pieces, which kiln; then the lots they make, and the proposals."""
    shop, asked = shop_of(request), request.query_params
    chosen = set(asked.getlist("stack"))
    kilns = kiln_names(shop.settled().get(Setting.KILNS, ""))
    shown: dict[str, object] = {
        "whose": next((whose for name, whose, _ in kilns if name == asked.get("kiln")), ""),
        "stacks": [one for one in stacks(shop.book) if one.pieces and not one.load],
        "chosen": chosen,
        "typed": dict(asked),
        "kilns": kilns,
        "cautions": [one.sentence for one in cautions("kiln")],
        "lots": (),
        "without": (),
        "job": None,
        "answer": None,
        "problem": "",
    }
    try:
        shown |= _planned(request, chosen)
    except Problem as slip:
        shown["problem"] = str(slip)
    return page(request, "load_plan.html", shown)


def kiln_names(sheet: str) -> tuple[tuple[str, str, str], ...]:
    """Name, whose it is, and fee of every kiln of a sheet, which was read whole when it was settled (that takes the solvers)."""
    kilns = tomllib.loads(sheet).get("kiln", [])
    told = [kilns] if isinstance(kilns, dict) else kilns
    return tuple((one["name"], one.get("whose", ""), one.get("fee", "")) for one in told)


def _planned(request: Request, chosen: set[str]) -> dict[str, object]:
    shop, asked = shop_of(request), request.query_params
    settled = shop.settled()
    pieces = asking(shop.book, chosen, asked.getlist("piece"), asked.get("names", ""))
    found = lots(shop.book, pieces, dict(asked), writes(settled))
    shown: dict[str, object] = {"lots": found, "without": unmeasured(pieces), "pieces": pieces}
    sheet = settled.get(Setting.KILNS, "")
    if not found or not sheet or not asked.get("kiln"):
        return shown
    if len(found) > MOST_LOTS:
        return {**shown, "problem": f"These are {len(found)} lots; plan {MOST_LOTS} at once at most."}
    day_if_any(on=asked.get("on", ""))
    on = max(date.fromisoformat(asked.get("on", "") or shop.today().isoformat()), shop.today())
    ready = on_the_day(shop, found, pieces, on)
    if ready.job is not None:
        return {**shown, "job": ready.job}
    kiln = (sheet, asked["kiln"], ready.lots, unit_of(settled) == "mm", on.isoformat(), settled.get(Setting.METER, ""))
    given = as_bytes(LoadAsked(*kiln))
    job = ask(shop, LOAD, given)
    content = answer_of(shop, job)
    return {**shown, "job": job, "answer": None if content is None else read_back(content, LoadAnswer)}
