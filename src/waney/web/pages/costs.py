"""Costs: what fetching takes and what wood earns, typed once; what nobody typed is said to be not known."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.units.sheet import SheetProblems
from waney.web.access.members import Role
from waney.web.forms import Sent
from waney.web.routes import Router
from waney.web.shop import currency_of, unit_of
from waney.web.showing import page, session_at, shop_of
from waney.web.toml import quoted
from waney.yard.acts.settings import Setting
from waney.yard.services.settings import settle_for_shop

router = Router()
FIELDS = (
    ("driving", "One {way} of driving", "Fuel, wear, trailer."),
    ("hourly", "One hour of somebody's work", "Left blank, that of the mill sheet counts, if it is there."),
    ("loading", "Loading, each time", "Crane, winch or helper; 0 for none."),
    ("bears", "The trailer bears", "Its payload, in {weight} or with a unit."),
    ("board_foot", "A dry board foot earns", "Only where the wants sheet has no prices. One figure, or a range: 2 to 4."),
    ("sawing", "Sawing one board foot", "Only where the wants sheet has no prices."),
    ("drying", "Drying one board foot", "Only where the wants sheet has no prices."),
    ("loss", "Lost in drying, per cent of the boards", "One figure, or a range: 5 to 15."),
    ("blade", "A blade that metal spoils", "Left blank, that of the mill sheet counts, if it is there."),
    ("sealing", "Coating both ends of a log", "Wax or paint and the time it takes."),
    ("shed", "A {area} of shed floor for a year", "What the shed costs, over its floor. Counted in what a piece has cost."),
    ("sharing", "How pieces share what their log has cost", "volume, sales value or piece. Left blank: volume."),
    (
        "sure",
        "How sure, in per cent of the cases",
        "Money must be left in so many of them before the answer is to fetch. Left blank: 75.",
    ),
)
NAMES = ("currency", *(name for name, _, _ in FIELDS))
UNITS, UNIT_WORDS = "units", ("in", "ft", "mm", "cm", "m")
"""the sheet keeps the units it was begun in, whatever the shop settles later: its figures mean them"""


@router.get("/settings/costs")
def costs(request: Request) -> Response:
    """The form, as it was settled; nothing of it for who may not see our own figures."""
    settled = shop_of(request).settled()
    typed = {"currency": currency_of(settled) or "", UNITS: unit_of(settled), **_fields(settled.get(Setting.COSTS, ""))}
    return _shown(request, {name: typed.get(name, "") for name in (*NAMES, UNITS)}, {})


def _shown(request: Request, typed: dict[str, str], wrong: dict[str, str]) -> Response:
    from waney.yard.services.worth import shop_costs  # loads what saws in thought; only this page needs it

    if not session_at(request).sees_own:
        return page(request, "costs.html", {})
    settled = shop_of(request).settled()
    inches = typed[UNITS] in ("in", "ft")
    area = "square foot" if inches else "square metre"
    units = {"area": area, "way": "mile" if inches else "kilometre", "weight": "pounds" if inches else "kilograms"}
    member = session_at(request).member
    try:
        known = shop_costs(settled)
        left, from_mill = known.not_known, known.from_mill
    except Problem as why:
        left, from_mill, wrong = (), (), {"currency": str(why), **wrong}
    shown = {
        "fields": [(name, words.format(**units), hint.format(**units)) for name, words, hint in FIELDS],
        "typed": typed,
        "wrong": wrong,
        "left": left,
        "from_mill": from_mill,
        "decides": member is not None and member.role is Role.OWNER,
    }
    return page(request, "costs.html", shown, status=422 if wrong else 200)


@router.post("/settings/costs")
def settle(sent: Sent) -> Response:
    """Write the sheet anew. Raises NotAllowed."""
    sent.decides()
    typed = {name: sent.text(name) for name in NAMES}
    typed[UNITS] = sent.text(UNITS) if sent.text(UNITS) in UNIT_WORDS else unit_of(shop_of(sent.request).settled())
    text = sheet_of(typed, typed[UNITS])
    wrong = _slips(text)
    if wrong:
        return _shown(sent.request, typed, wrong)
    if text != shop_of(sent.request).settled().get(Setting.COSTS, ""):
        settle_for_shop(sent.hand, Setting.COSTS, text)
    return RedirectResponse("/settings/costs", 303)


def sheet_of(typed: Mapping[str, str], unit: str) -> str:
    """The costs sheet of what was typed; empty where nothing was."""
    lines = [f"{name} = {quoted(typed[name])}" for name in NAMES if typed.get(name)]
    if not any(typed.get(name) for name in NAMES[1:]):
        return ""
    return "\n".join(['format = "waney-costs/1"', f'units = "{unit}"', *lines]) + "\n"


def _slips(text: str) -> dict[str, str]:
    """What is wrong, by field."""
    from waney.trade.costs_sheet import read_costs_sheet

    try:
        read_costs_sheet(text)
    except SheetProblems as found:
        return {slip.key if slip.key in NAMES else "currency": slip.sentence for slip in found.problems}
    return {}


def _fields(sheet: str) -> dict[str, str]:
    """What stands in a sheet, as it was typed; nothing for a sheet that cannot be read."""
    try:
        return {key: str(value) for key, value in tomllib.loads(sheet).items()}
    except tomllib.TOMLDecodeError:
        return {}
