"""One stack: when it is ready, what lies on it, how it stands; pieces laid on, taken off, weighed every week."""

from __future__ import annotations

from datetime import date, timedelta

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from waney.drying.outdoors import PACKAGE_M, NoPassage, Passage
from waney.figures.problem import Problem
from waney.papers.cautions import cautions
from waney.papers.ink import SCREEN
from waney.papers.moisture_chart import Charted, moisture_chart
from waney.units.moisture import parse_mc
from waney.web.asked.stack import LineAnswer, StackAnswer
from waney.web.chamber_form import NAMES, chamber_read, said_of
from waney.web.chart import chart_json
from waney.web.forms import Fields, Sent
from waney.web.pages import readings
from waney.web.pages.stacks import layer_of, named_pieces
from waney.web.ready import ready_of, stands_since
from waney.web.routes import Router
from waney.web.shop import degree_of, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.web.sides_form import CHOICES, day_of, sides_shown, sides_told
from waney.web.weighing import UNITS
from waney.yard.acts.drying import Shelter, StackStood
from waney.yard.book.around import spots
from waney.yard.book.stack_seen import stack_story
from waney.yard.problems import NotPossible
from waney.yard.services.drying import tell_how_it_stands, tell_sides, weigh_these
from waney.yard.services.pieces import move
from waney.yard.services.stacks import put_on, take_off

router = Router()
ROWS = 16
"""of the table that says the same as the chart"""


@router.get("/stacks/{stack}")
def stack(request: Request, stack: str) -> Response:
    """What lies on it and when it is ready. Raises NotInBook."""
    return _shown(request, stack, {})


def _shown(request: Request, ident: str, wrong: dict[str, str], typed: dict[str, str] | None = None) -> Response:
    shop = shop_of(request)
    story = stack_story(shop.book, ident)
    found = ready_of(shop, story)
    line = _line(found.answer, request.query_params.get("line", ""))
    shown = {
        "stack": story,
        "since": stands_since(story),
        "job": found.job,
        "answer": found.answer,
        "lacks": found.lacks,
        "chamber": "; ".join(said_of(story.chamber, story.shelter, Figures(writes(shop.settled())))) if story.chamber else "",
        "degrees": f"°{degree_of(unit_of(shop.settled()))}",
        "air_speed": "m/s" if unit_of(shop.settled()) == "mm" else "ft/min",
        "line": line,
        "ids": {one.piece.name: one.piece.id for one in story.lying},
        "chart": moisture_chart(charted(found.answer, line), SCREEN) if found.answer and line else "",
        "rows": _rows(line) if line else (),
        "chart_json": chart_json(found.answer, line) if found.answer and line else "",
        "shelters": list(Shelter),
        "bare": UNITS[unit_of(shop.settled())],
        "over": "kg/m2" if unit_of(shop.settled()) == "mm" else "lb/ft2",
        "cautions": [one.sentence for one in cautions("stack", "straps")],
        "spots": spots(shop.book),
        "sides": sides_shown([one.piece.sides for one in story.lying]) if story.lying else (),
        **CHOICES,
        "wrong": wrong,
        "typed": typed or {},
        **readings.shown(shop.book, f"stack:{ident}"),
    }
    return page(request, "stack.html", shown, status=422 if wrong else 200)


def _line(answer: StackAnswer | None, name: str) -> LineAnswer | None:
    """The line that is asked for, else the slowest."""
    lines = answer.lines if answer else ()
    return next((one for one in lines if one.name == name), next(iter(lines), None))


def charted(answer: StackAnswer, line: LineAnswer) -> Charted:
    """A line as a chart."""
    before = line.before_band if line.read else None
    return Charted(line.name, date.fromisoformat(line.since), answer.target, before, line.band, line.points)


def _rows(line: LineAnswer) -> tuple[tuple[str, float, float, float], ...]:
    """The band as a table: a date and its three moistures."""
    band, since = line.band, date.fromisoformat(line.since)
    every = max(1, len(band.days) // ROWS)
    columns = list(zip(band.days, band.low, band.likely, band.high, strict=True))[::every]
    return tuple(((since + timedelta(day)).isoformat(), low, likely, high) for day, low, likely, high in columns)


@router.post("/stacks/{stack}/stands")
def stands(stack: str, sent: Sent) -> Response:
    """Since when, under what, to which moisture, on which stickers, how wide. Raises BadAct, NotInBook."""
    fields = Fields(sent)
    shop = shop_of(sent.request)
    unit = unit_of(shop.settled())
    since = fields.read("since", day_of) or ""
    wanted = fields.read("wanted", parse_mc)
    sticker, apart, wide = (fields.length(name, unit) for name in ("sticker", "apart", "wide"))
    chamber = chamber_read(fields, unit, stack_story(shop.book, stack).chamber)
    try:
        Passage(PACKAGE_M if wide is None else wide)
    except NoPassage as slip:
        fields.wrong["wide"] = str(slip)
    if fields.wrong:
        names = ("since", "wanted", "sticker", "apart", "wide", *NAMES)
        return _shown(sent.request, stack, fields.wrong, {name: sent.text(name) for name in names})
    shelter = sent.choice("shelter", Shelter) if sent.text("shelter") else None
    told = (since or None, shelter, chamber, wanted, sticker, apart, wide)
    if any(one is not None for one in told):
        tell_how_it_stands(sent.hand, StackStood(stack, since, shelter, wanted, sticker, apart, chamber, wide))
    return RedirectResponse(f"/stacks/{stack}", 303)


@router.post("/stacks/{stack}/sides")
def sides(stack: str, sent: Sent) -> Response:
    """Bark and ends of all that lies on it. Raises BadAct, BadField, NotInBook, NotPossible."""
    fields, lying = Fields(sent), stack_story(shop_of(sent.request).book, stack).lying
    if not lying:
        raise NotPossible("Nothing lies on this stack any more, so there is no bark and there are no ends to tell.")
    told = sides_told(fields, [one.piece.id for one in lying])
    if fields.wrong:
        return _shown(sent.request, stack, fields.wrong, {name: sent.text(name) for name in ("bark", "ends", "as_of")})
    if told is not None:
        tell_sides(sent.hand, told)
    return RedirectResponse(f"/stacks/{stack}", 303)


@router.post("/stacks/{stack}/weigh")
def weigh(stack: str, sent: Sent) -> Response:
    """Which of its pieces are weighed every week."""
    weigh_these(sent.hand, stack, tuple(dict.fromkeys(sent.all("weigh"))))
    return RedirectResponse(f"/stacks/{stack}", 303)


@router.post("/stacks/{stack}/on")
async def on(stack: str, sent: Sent) -> Response:
    """Pieces were laid on it: their names, or a photo of their tags."""
    fields = Fields(sent)
    layer = fields.read("layer", layer_of)
    try:
        pieces = await named_pieces(sent)
    except Problem as slip:
        fields.wrong["names"] = str(slip)
    if fields.wrong:
        return _shown(sent.request, stack, fields.wrong, {name: sent.text(name) for name in ("names", "layer")})
    put_on(sent.hand, stack, pieces, layer)
    return RedirectResponse(f"/stacks/{stack}", 303)


@router.post("/stacks/{stack}/off")
def off(stack: str, sent: Sent) -> Response:
    """Pieces are on it no more."""
    pieces = sent.all("piece")
    if not pieces:
        return _shown(sent.request, stack, {"off": "Choose the pieces that were taken off."})
    take_off(sent.hand, stack, pieces, sent.text("spot"))
    return RedirectResponse(f"/stacks/{stack}", 303)


@router.post("/stacks/{stack}/move")
def moved(stack: str, sent: Sent) -> Response:
    """It stands elsewhere, with what lies on it."""
    if sent.text("spot"):
        move(sent.hand, f"stack:{stack}", sent.text("spot"))
    return RedirectResponse(f"/stacks/{stack}", 303)
