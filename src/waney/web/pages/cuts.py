"""One long log or two short ones: ways to cut held side by side before the saw is in it; and a stem that is cut to length."""

from __future__ import annotations

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.figures.problem import Problem
from waney.logs.sheet import log_sheet
from waney.papers.cautions import cautions
from waney.pieces.measures import FOOT_M
from waney.trade.lengths import long_or_halved
from waney.units.length import parse_length
from waney.web.asked.cuts import CutsAnswer, CutsAsked
from waney.web.asked.kinds import CUTS
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asking import answer_of, ask
from waney.web.forms import BadField, Sent
from waney.web.pages.log import log_at
from waney.web.routes import Router
from waney.web.shop import unit_of
from waney.web.showing import page, shop_of
from waney.yard.acts.settings import Setting
from waney.yard.book.logs_seen import logs
from waney.yard.book.offered import stem_at
from waney.yard.problems import NotInBook

router = Router()
WAYS = 3
"""fields for ways to cut"""
SHORTEST_M = 0.5
"""a shorter length is a slip (ours)"""


@router.get("/logs/{log}/cuts")
def log_cuts(request: Request, log: str) -> Response:
    """Ways to cut a log that lies there. Raises NotInBook."""
    found = log_at(request, log)
    shown = _compared(request, found.sheet, log_sheet(found.sheet).log.length_m)
    return page(request, "cuts.html", {"log": found, "stem": None, "logs": (), **shown})


@router.get("/stems/{stem}")
def stem_cuts(request: Request, stem: str) -> Response:
    """A stem, and ways to cut it. Raises NotInBook."""
    return _stem(request, stem, "", "")


def _stem(request: Request, ident: str, typed: str, wrong: str) -> Response:
    from waney.yard.services.worth import stem_sheet  # with all that it values; only who looks at a stem needs it

    shop = shop_of(request)
    found = stem_at(shop.book, ident)
    sheet = stem_sheet(found)
    shown = _compared(request, sheet, log_sheet(sheet).log.length_m)
    cut = [log for log in logs(shop.book) if log.stem == ident] if found.logs else []
    values = {"log": None, "stem": found, "logs": cut, "typed": typed, "wrong": {"lengths": wrong} if wrong else {}}
    return page(request, "cuts.html", {**values, **shown}, status=422 if wrong else 200)


def _compared(request: Request, sheet: str, length_m: float) -> dict[str, object]:
    """What the page says of the ways that were asked for, else of one long log and two short ones."""
    shop = shop_of(request)
    settled = shop.settled()
    bare = "ft" if unit_of(settled) == "in" else "m"
    typed = [way.strip() for way in request.query_params.getlist("way")[:WAYS] if way.strip()] or usual_ways(length_m, bare)
    shown: dict[str, object] = {
        "ways": [*typed, *[""] * (WAYS - len(typed))],
        "cautions": [one.sentence for one in cautions("fetching")],
        "job": None,
        "answer": None,
        "problem": "",
        "length_m": length_m,
    }
    if len(typed) < 2:
        return {**shown, "problem": "Write two ways at least, for instance 16 ft, and 8 ft + 8 ft." if typed else ""}
    try:
        ways = tuple(lengths_of(way, bare) for way in typed)
    except Problem as slip:
        return {**shown, "problem": str(slip)}
    asked = CutsAsked(sheet, ways, settled.get(Setting.MILL, ""), settled.get(Setting.WANTS, ""), bare == "m")
    job = ask(shop, CUTS, as_bytes(asked))
    content = answer_of(shop, job)
    return {**shown, "job": job, "answer": None if content is None else read_back(content, CutsAnswer)}


def lengths_of(way: str, bare: str) -> tuple[float, ...]:
    """Lengths from the butt [m] as they are typed: "8 ft + 8 ft". Raises BadField, Unreadable and its kinds."""
    found = tuple(parse_length(part, bare) for part in way.split("+") if part.strip())
    if not found or min(found) < SHORTEST_M:
        raise BadField(f'"{way[:60]}" is no way to cut; write lengths from the butt, for instance 8 ft + 8 ft.')
    return found


def usual_ways(length_m: float, bare: str) -> list[str]:
    """One long log and two short ones, as long as the stem gives: whole feet, or tenths of a metre. None for a short one."""
    found = long_or_halved(length_m, FOOT_M if bare == "ft" else 0.1)
    if found is None:
        return []
    long, short = (f"{count} ft" if bare == "ft" else f"{count / 10:.1f} m" for count in found)
    return [long, f"{short} + {short}"]


@router.post("/stems/{stem}/cut")
def cut(stem: str, sent: Sent) -> Response:
    """It is cut to length: each log keeps its place in the stem. Raises NotInBook."""
    from waney.yard.services.cutting import cut_stem

    bare = "ft" if unit_of(shop_of(sent.request).settled()) == "in" else "m"
    try:
        made = cut_stem(sent.hand, stem, lengths_of(sent.text("lengths"), bare))
    except NotInBook:
        raise
    except Problem as slip:
        return _stem(sent.request, stem, sent.text("lengths"), str(slip))
    return RedirectResponse(f"/logs/{made[0].id}" if len(made) == 1 else f"/stems/{stem}", 303)
