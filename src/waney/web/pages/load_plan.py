"""A load planned out of what stands in the yard: who may share, who sets the pace, how long; several proposals."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import date
from typing import Any

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.units.length import parse_length
from waney.web.asked.kinds import LOAD
from waney.web.asked.load import LoadAnswer, LoadAsked
from waney.web.asked.packing import as_bytes, read_back, squeezed
from waney.web.asking import answer_of, ask
from waney.web.loading_day import on_the_day
from waney.web.loads_asked import AsItLies, alike, asking, lots, unmeasured
from waney.web.routes import Router
from waney.web.shop import unit_of, writes
from waney.web.showing import page, shop_of
from waney.yard.acts.base import day_if_any
from waney.yard.acts.settings import Setting
from waney.yard.book.drying_seen import stacks

router = Router()
PLATES = "plates"
SUN = "sun"
IN_VACUUM = (PLATES, "cycles", "radio")
"""as the kilns sheet writes how heat gets in"""
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
        "groups": (),
        "lies": AsItLies(),
        "vacuum": "",
        "without": (),
        "job": None,
        "answer": None,
        "problem": "",
    }
    try:
        _planned(request, chosen, shown)
    except Problem as slip:
        shown["problem"] = str(slip)
    return page(request, "load_plan.html", shown)


def kiln_names(sheet: str) -> tuple[tuple[str, str, str], ...]:
    """Name, whose it is, and fee of every kiln of a sheet, which was read whole when it was settled (that takes the solvers)."""
    return tuple((one["name"], one.get("whose", ""), one.get("fee", "")) for one in _kilns(sheet))


def _kilns(sheet: str) -> list[dict[str, Any]]:
    kilns = tomllib.loads(sheet).get("kiln", [])
    return [kilns] if isinstance(kilns, dict) else kilns


def heat_of(sheet: str, kiln: str) -> str:
    """How heat gets into a kiln of the kilns sheet, as it is written there; empty: none of that name."""
    return next((one.get("heat", "air") for one in _kilns(sheet) if one["name"] == kiln), "")


def _ticked(request: Request, heat: str) -> AsItLies:
    """What was ticked of single pieces, as far as it matters to this kiln."""
    asked = request.query_params
    if heat not in IN_VACUUM:
        return AsItLies()
    return AsItLies(frozenset(asked.getlist("sap")), frozenset(asked.getlist("bark") if heat == PLATES else ()))


def _cups(request: Request, heat: str, unit: str) -> dict[str, float]:
    """Cup [m] by piece, where it matters to this kiln. Raises Problem for one that cannot be read."""
    if heat != PLATES:
        return {}
    typed = {name.removeprefix("cup-"): text for name, text in request.query_params.items() if name.startswith("cup-")}
    return {piece: parse_length(text, unit) for piece, text in typed.items() if text.strip()}


def _planned(request: Request, chosen: set[str], shown: dict[str, object]) -> None:
    """Adds to what is shown as much as can be said. Raises Problem."""
    shop, asked = shop_of(request), request.query_params
    settled = shop.settled()
    sheet = settled.get(Setting.KILNS, "")
    pieces = asking(shop.book, chosen, asked.getlist("piece"), asked.get("names", ""))
    groups, heat = alike(pieces, writes(settled)), heat_of(sheet, asked.get("kiln", ""))
    shown |= {"groups": groups, "without": unmeasured(pieces), "vacuum": heat if heat in IN_VACUUM else ""}
    shown["lies"] = ticked = _ticked(request, heat)
    shown["lies"] = lies = replace(ticked, cup_m=_cups(request, heat, unit_of(settled)))
    found = lots(shop.book, groups, dict(asked), lies)
    if not found or not sheet or not asked.get("kiln"):
        return
    if len(found) > MOST_LOTS:
        shown["problem"] = f"These are {len(found)} lots; plan {MOST_LOTS} at once at most."
        return
    day_if_any(on=asked.get("on", ""))
    on = max(date.fromisoformat(asked.get("on", "") or shop.today().isoformat()), shop.today())
    ready = on_the_day(shop, found, pieces, on)
    if ready.job is not None:
        shown["job"] = ready.job
        return
    kiln = (sheet, asked["kiln"], ready.lots, unit_of(settled) == "mm", on.isoformat(), settled.get(Setting.METER, ""))
    by_sun = (settled.get(Setting.PLACE, ""), squeezed(settled.get(Setting.WEATHER, ""))) if heat == SUN else ()
    given = as_bytes(LoadAsked(*kiln, *by_sun))
    job = ask(shop, LOAD, given)
    content = answer_of(shop, job)
    shown |= {"job": job, "answer": None if content is None else read_back(content, LoadAnswer)}
