"""Sale sheet of a piece, on paper: what the book knows of it that a buyer may read, and nothing of the shop's own."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

from starlette.requests import Request
from starlette.responses import Response

from waney.figures.problem import Problem
from waney.papers.history import Known
from waney.papers.paper import paper_pdf
from waney.papers.sale import AsItLies, ForSale, Width, sale_sheet
from waney.papers.width_words import WIDTH_WORDS
from waney.units.moisture import print_mc
from waney.web.asked.measure import MeasureAnswer
from waney.web.loads_asked import last_moistures
from waney.web.pages.load_papers import core_held, newest_photo
from waney.web.pages.papers import PDF, file
from waney.web.pages.piece_measured import measured_on, measuring, newest
from waney.web.routes import Router
from waney.web.shop import Shop, currency_of, writes
from waney.web.showing import Figures, page, shop_of
from waney.wood.species import species
from waney.yard.acts.kilns import Treated
from waney.yard.acts.stacks import Depth, ReadBy
from waney.yard.book.kiln_seen import at_kiln, backs_of
from waney.yard.book.looking import LogStands, PieceStands
from waney.yard.book.selling_seen import prices_asked
from waney.yard.book.stack_seen import MoistureTold, ReadOf, read_of
from waney.yard.book.stories import LogStory, PieceStory, log_story, piece_story

router = Router()
METERS = (ReadBy.PINS, ReadBy.PINLESS)


@router.get("/pieces/{piece}/sale.pdf")
def sale_paper(request: Request, piece: str) -> Response:
    """The sheet; where its measured widths are still being worked out, a page that waits for them. Raises NotInBook."""
    shop, story = shop_of(request), piece_story(shop_of(request).book, piece)
    called, last, answer = f"sale-{story.piece.name}.pdf", newest(story), None
    if last is not None:
        job, answer = measuring(shop, last)
        if answer is None and job.goes_on:
            return page(request, "paper_waits.html", {"job": job, "called": called})
    made = sale_sheet(_for_sale(shop, story, answer), writes(shop.settled()), shop.today())
    return file(paper_pdf(made, shop.today()), called, PDF)


def _for_sale(shop: Shop, story: PieceStory, answer: MeasureAnswer | None) -> ForSale:
    piece = story.piece
    return ForSale(
        piece.name,
        _wood(piece.species),
        tuple(_sizes(shop, story, taped=answer is None)),
        (*_moisture(shop, piece.id), Known("heat treated", _treated(shop, piece.id))),
        tuple(_story(shop, story)),
        _asked(shop, piece),
        None if answer is None else _as_it_lies(story, answer),
        newest_photo(shop, [one for one in story.photos if one.wet is False]),
    )


def _wood(typed: str) -> str:
    """Its common name and its botanical one; what no table has stays as it was typed."""
    try:
        found = species(typed)
    except Problem:
        return typed or "wood not known"
    return f"{found.common} ({found.botanical})"


def _asked(shop: Shop, piece: PieceStands) -> str:
    """The price that is asked of whoever comes; empty for none, and for a piece that is no more."""
    cents, _way = prices_asked(shop.book, [piece.id]).get(piece.id, (None, ""))
    return "" if cents is None or piece.ended else Figures.money(cents, currency_of(shop.settled()))


def _sizes(shop: Shop, story: PieceStory, *, taped: bool) -> Iterator[Known]:
    """Thickness, length, and the widths that were taped where nothing better is known."""
    write, piece = writes(shop.settled()), story.piece
    yield Known(f"thickness, {_thick(piece)}", None if piece.thickness_m is None else write.read(piece.thickness_m))
    yield Known("length", None if piece.length_m is None else write.long(piece.length_m))
    if taped:
        for rule, width in (("narrowest_m", piece.least_width_m), ("widest_m", piece.most_width_m)):
            yield Known(f"width by {WIDTH_WORDS[rule]}", None if width is None else write.have(width))


def _thick(piece: PieceStands) -> str:
    """What a thickness in the book means: nobody who counts a piece in the shed says whether it is dry."""
    if piece.parent:
        return "as sawn out of a larger piece"
    return "as sawn, green" if piece.log or piece.day else "as counted"


def _as_it_lies(story: PieceStory, answer: MeasureAnswer) -> AsItLies:
    widths = tuple(Width(rule, width, measure, feet) for rule, width, measure, feet, _named in answer.widths)
    return AsItLies(Figures.day(measured_on(story)), answer.rows, widths)


def _moisture(shop: Shop, piece: str) -> Iterator[Known]:
    """The last of each depth, with the day and what it was read with."""
    read = {Depth(one.depth): one for one in last_moistures(read_of(shop.book, [piece]).get(piece, ReadOf()))}
    for depth in (Depth.SHELL, Depth.CORE):
        yield Known(f"moisture, {depth}", _read(read[depth]) if depth in read else "not read")
    if Depth.WHOLE in read:
        yield Known("moisture, depth not told", _read(read[Depth.WHOLE]))
    away = at_kiln(shop.book, piece)
    if away is not None:
        yield Known("in a kiln", f"since {Figures.day(away.since)}; not known to be dry")


def _read(one: MoistureTold) -> str:
    raw = "" if one.corrected or one.read_by not in METERS else " as it showed, not corrected for wood and temperature"
    return f"{print_mc(one.mc)}; {one.read_by}{raw}, {Figures.day(one.told.happened_at)}"


def _treated(shop: Shop, piece: str) -> str:
    """A treatment that a core record shows stays one; else what was told when the piece came back last."""
    told = backs_of(shop.book, piece)
    shown = next((one for one in reversed(told) if one.treated is Treated.RECORD), None)
    if shown is not None:
        return f"{shown.treated}, {core_held(shop, shown)}; this is no certificate"
    last = told[-1].treated if told else Treated.NOT_KNOWN
    return f"not known; {last}" if last is Treated.SAID else str(last)


def _story(shop: Shop, story: PieceStory) -> Iterator[Known]:
    """Where and when its tree was felled, its log, its place in the boule."""
    piece = story.piece
    told = log_story(shop.book, piece.log) if piece.log else None
    log = told.log if told else None
    yield Known("felled", Figures.day(log.felled_on) if log and log.felled_on else None)
    yield Known("grew at", _grew_at(log) if log else None)
    yield Known("log", log.name if log else "bought; log not known" if piece.bought else None)
    yield Known("place in the boule", _boule_place(told, piece) if told else None)
    if story.came_of is not None:
        yield Known("sawn out of", story.came_of.name)


def _grew_at(log: LogStands) -> str | None:
    """Of the place on the log's sheet what leads nobody to a door: its first part that has no number in it."""
    try:
        written = str(tomllib.loads(log.sheet).get("place", ""))
    except tomllib.TOMLDecodeError:
        return None
    parts = (part.strip() for part in written.split(","))
    return next((part for part in parts if part and not any(map(str.isdigit, part))), None)


def _boule_place(told: LogStory, piece: PieceStands) -> str | None:
    order = [one.id for one in told.pieces if one.boule_place is not None]
    return f"{order.index(piece.id) + 1} of {len(order)}, first off first" if piece.id in order else None
