"""The stack sheet: what hangs on a stack, as PDF; heavy weight on top is drawn only after somebody said what bears it."""

from __future__ import annotations

from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.words import day as written_day
from waney.units.length import FOOT_NM, from_nanometres
from waney.units.mass import parse_mass
from waney.units.moisture import print_mc
from waney.units.number import parse_number
from waney.web.asked.kinds import OF_STACK
from waney.web.asked.packing import as_bytes
from waney.web.asked.paper import PieceOnPaper, StackPaperAsked
from waney.web.asked.stack import StackAnswer
from waney.web.forms import BadField
from waney.web.pages.papers import PDF, made
from waney.web.ready import ready_of, stands_since
from waney.web.routes import Router
from waney.web.shop import Shop, unit_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.web.sides_form import NOT_TOLD, sides_shown
from waney.web.weighing import UNITS
from waney.yard.book.stack_seen import OnStack, StackStory, stack_story

router = Router()
FOOT2_M2 = from_nanometres(FOOT_NM) ** 2


@router.get("/stacks/{stack}/sheet.pdf")
def sheet(request: Request, stack: str) -> Response:
    """The paper; on top, one bearer, ground: what was typed. Raises NotInBook, BadField."""
    shop, asked = shop_of(request), request.query_params
    story = stack_story(shop.book, stack)
    called = f"stack-{story.called}.pdf"
    ready = ready_of(shop, story)
    if ready.job is not None and ready.job.goes_on:  # the paper says when it is ready
        return page(request, "paper_waits.html", {"job": ready.job, "called": called})
    unit = unit_of(shop.settled())
    bearer = parse_mass(asked["bearer"], UNITS[unit]) if asked.get("bearer") else None
    top, ground = (_pressing(asked.get(name, ""), unit) for name in ("top", "ground"))
    spot = story.spot_called or "spot not told"
    pieces = tuple(map(_piece, story.lying))
    told = StackPaperAsked(
        story.called, spot, tuple(_facts(shop, story, ready.answer)), pieces, story.sticker_m, story.apart_m, unit == "mm",
        shop.today().isoformat(), top or 0.0, bearer, ground,
    )  # fmt: skip
    return made(request, OF_STACK, as_bytes(told), called, PDF, at_once=False)


def _pressing(text: str, unit: str) -> float | None:
    """A weight over an area [kg/m2]; a bare number is lb/ft2 or kg/m2. Raises BadField."""
    if not text.strip():
        return None
    words = text.strip().lower()
    metric = (unit == "mm" and "lb" not in words) or "kg" in words
    number = words.replace("kg/m2", "").replace("lb/ft2", "").strip()
    try:
        count = float(parse_number(number))
    except Problem:
        raise BadField(f'"{text[:30]}" is no weight over an area; write for instance 30 lb/ft2 or 150 kg/m2.') from None
    return count if metric else parse_mass(f"{count} lb") / FOOT2_M2


def _piece(one: OnStack) -> PieceOnPaper:
    piece = one.piece
    widths = [width for width in (piece.least_width_m, piece.most_width_m) if width is not None]
    sizes = (piece.thickness_m, piece.length_m, max(widths, default=None))
    return PieceOnPaper(piece.name, Figures.wood(piece.species), one.layer, *sizes, piece.mass_kg, one.to_weigh)


def _facts(shop: Shop, story: StackStory, answer: StackAnswer | None) -> Iterator[tuple[str, str]]:
    """How it stands, and when it is ready; what nobody told is left to the pencil."""
    write = writes(shop.settled())
    yield "On stickers since", written_day(stands_since(story))
    yield "It stands", story.shelter
    yield "To come to", "" if story.wanted_mc is None else print_mc(story.wanted_mc)
    yield "Wide", "" if story.wide_m is None else f"{write.long(story.wide_m)}"
    sizes = ((story.sticker_m, "thick"), (story.apart_m, "apart"))
    yield "Stickers", ", ".join(f"{write.read(size)} {words}" for size, words in sizes if size is not None)
    for what, words in sides_shown([one.piece.sides for one in story.lying]):
        yield what, "" if words == NOT_TOLD else words
    if answer and answer.lines:
        slow = answer.lines[0].ready
        yield "Ready", f"{Figures.day(slow.first)} to {Figures.day(slow.last)}, likely about {Figures.day(slow.likely)}"
