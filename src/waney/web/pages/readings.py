"""Readings: weights, what the moisture meter said, sample boards and prong tests, of a piece, a stack, a load."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from starlette.responses import RedirectResponse, Response

from waney.drying.dry_weight import AIR_DRY
from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import How, moisture_of
from waney.drying.prongs import Stress, stress_of
from waney.drying.sample_board import SampleBoard, Section
from waney.drying.weighing import WeighingScale, weight_of
from waney.figures.problem import Problem
from waney.papers.ranges import spread
from waney.units.mass import parse_mass
from waney.units.moisture import parse_mc, print_mc
from waney.units.temperature import parse_temperature
from waney.web.forms import BadField, Fields, Sent
from waney.web.ready import MARK_KG, NOTHING
from waney.web.routes import Router
from waney.web.shop import Shop, degree_of, unit_of, writes
from waney.web.showing import page, shop_of
from waney.web.weighing import UNITS, before, questions, tare_offered, typed
from waney.wood.species import species
from waney.yard.acts.drying import MOST_SECTIONS, Prongs, ProngsSeen, SampleCut
from waney.yard.acts.people_places import Scales
from waney.yard.acts.stacks import HAVE_MOISTURE, Depth, MoistureRead, ReadBy
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import readings
from waney.yard.book.looking import PieceStands
from waney.yard.book.stack_seen import MoistureTold, ReadOf, SampleTold, Told, read_of
from waney.yard.book.stories import piece_story
from waney.yard.book.tares import tares_told
from waney.yard.here import clock_here
from waney.yard.services.drying import cut_sample, dry_sections, see_prongs
from waney.yard.services.mill import take_back
from waney.yard.services.moisture_told import meter_of, moisture_read
from waney.yard.services.pieces import tell_of_piece
from waney.yard.services.stacks import read_moisture
from waney.yard.streams import checked_id, checked_stream, parts

router = Router()


@router.post("/readings")
def read(sent: Sent) -> Response:
    """Write a moisture down, and go back to what was read. Raises BadField, BadAct."""
    fields = Fields(sent)
    kind, ident = parts(checked_stream(sent.text("what"), "what", HAVE_MOISTURE))
    degree = degree_of(unit_of(shop_of(sent.request).settled()))
    mc, wood_c = fields.read("mc", parse_mc), fields.read("wood", lambda text: parse_temperature(text, degree))
    if fields.wrong or mc is None:
        raise BadField(" ".join(fields.wrong.values()) or "Write what the meter said, in per cent of oven-dry weight.")
    told = {"wood_c": wood_c, "set_to": sent.text("set_to"), "corrected": bool(sent.text("corrected"))}
    by, depth = sent.choice("by", ReadBy, ReadBy.PINS), sent.choice("depth", Depth, Depth.WHOLE)
    read_moisture(sent.hand, MoistureRead(f"{kind}:{ident}", mc, by, depth, **told))  # type: ignore[arg-type]
    return RedirectResponse(f"/{kind}s/{ident}", 303)


@router.post("/readings/weight/{piece}")
def weigh(piece: str, sent: Sent) -> Response:
    """A weight; what is doubtful about it is asked first. Raises NotInBook, BadAct, BadField."""
    shop, fields = shop_of(sent.request), Fields(sent)
    story = piece_story(shop.book, piece)
    act = typed(fields, shop, piece)
    asked = () if act is None or sent.text("sure") else questions(act, before(shop, story.piece, _read(shop, piece)), shop)
    if fields.wrong or asked or act is None:
        shown = {
            "piece": story.piece,
            "wrong": fields.wrong,
            "asked": asked,
            "typed": _typed(sent),
            "scales": list(Scales),
            "tare": "",
        }
        return page(sent.request, "weigh_again.html", shown, status=422 if fields.wrong else 200)
    tell_of_piece(sent.hand, (act,))
    return RedirectResponse(f"/pieces/{piece}#readings", 303)


def _typed(sent: Sent) -> dict[str, str]:
    return {name: sent.text(name) for name in ("mass", "other_end", "tare", "mark", "scales")}


@router.post("/readings/sample/{piece}")
def sample(piece: str, sent: Sent) -> Response:
    """Sections were cut from it, weighed wet, and the board between them. Raises BadField, BadAct."""
    wet, rest = _masses(sent, "wet"), Fields(sent)
    unit = UNITS[unit_of(shop_of(sent.request).settled())]
    board, mark = (rest.read(name, lambda text: parse_mass(text, unit)) for name in ("board", "mark"))
    if rest.wrong or board is None:
        raise BadField(" ".join(rest.wrong.values()) or "Write what the board weighs between its sections.")
    cut_sample(sent.hand, SampleCut(checked_id(piece, "piece"), board, wet, mark))
    return RedirectResponse(f"/pieces/{piece}#readings", 303)


@router.post("/readings/sections/{piece}")
def sections(piece: str, sent: Sent) -> Response:
    """They came out of the oven. Raises BadField, BadAct."""
    dry_sections(sent.hand, checked_id(piece, "piece"), _masses(sent, "dry"))
    return RedirectResponse(f"/pieces/{piece}#readings", 303)


def _masses(sent: Sent, name: str) -> tuple[float, ...]:
    """Weights of sections, those that were typed; a bare number counts in grams."""
    fields = Fields(sent)
    found = [fields.read(f"{name}{at}", lambda text: parse_mass(text, "g")) for at in range(1, MOST_SECTIONS + 1)]
    if fields.wrong:
        raise BadField(" ".join(fields.wrong.values()))
    return tuple(each for each in found if each is not None)


@router.post("/readings/prongs")
def prongs(sent: Sent) -> Response:
    """A prong test. Raises BadField, BadAct."""
    kind, ident = parts(checked_stream(sent.text("what"), "what", HAVE_MOISTURE))
    hours = sent.whole("hours") if sent.text("hours") else None
    see_prongs(sent.hand, ProngsSeen(f"{kind}:{ident}", sent.choice("seen", Prongs), hours))
    return RedirectResponse(f"/{kind}s/{ident}#readings", 303)


@router.post("/readings/back")
def back(sent: Sent) -> Response:
    """A reading was a slip. Raises BadAct."""
    kind, ident = parts(checked_stream(sent.text("what"), "what", HAVE_MOISTURE))
    take_back(sent.hand, sent.text("command"), f"{kind}:{ident}")
    return RedirectResponse(f"/{kind}s/{ident}#readings", 303)


def shown(book: Book, about: str) -> dict[str, object]:
    """What the part of a page needs that shows readings and takes them down."""
    return {"readings": readings(book, about), "about": about, "read_by": list(ReadBy), "depths": list(Depth)}


@dataclass(frozen=True)
class Row:
    """One reading of a piece. says: as it was read; means: what that tells of the wood, and what is wrong with it."""

    command: str
    when: str
    says: str
    how: str
    means: str = ""


def of_piece(shop: Shop, piece: PieceStands) -> dict[str, object]:
    """All that was read of a piece, with what it means, and what its forms need."""
    read = _read(shop, piece.id)
    told = {**shown(shop.book, f"piece:{piece.id}"), "prongs": list(Prongs), "scales": list(Scales)}
    return {
        **told,
        "rows": tuple(sorted(_rows(shop, piece, read), key=lambda row: row.when)),
        "sample": read.sample,
        "board": None if read.sample is None else _board(shop, read.sample),
        "stresses": tuple((one, _stress(one.seen, one.hours)) for one in read.prongs),
        "known": before(shop, piece, read),
        "bare": UNITS[unit_of(shop.settled())],
        "tare": tare_offered(shop, piece.spot, tares_told(shop.book)),
    }


def _read(shop: Shop, piece: str) -> ReadOf:
    return read_of(shop.book, [piece]).get(piece, NOTHING)


def _rows(shop: Shop, piece: PieceStands, read: ReadOf) -> Iterator[Row]:
    write, sheet = writes(shop.settled()), meter_of(shop.book)
    for weight in read.weights:
        how = [weight.read_with or "weighed", "one end at a time" if weight.ends else ""]
        mark = "" if weight.mark_kg is None else f"marks of {write.weighed(weight.mark_kg)}"
        yield _row(weight.told, write.weighed(weight.mass_kg), ", ".join(filter(None, [*how, mark])))
    for one in read.moistures:
        how = [one.read_by, one.depth, "put right already" if one.corrected else ""]
        yield _row(one.told, print_mc(one.mc), ", ".join(filter(None, how)), _means(one, piece, sheet))


def _row(told: Told, says: str, how: str, means: str = "") -> Row:
    return Row(told.command, clock_here(told.happened_at), says, how, means)


def _means(one: MoistureTold, piece: PieceStands, sheet: MeterSheet) -> str:
    """What a meter's reading tells; empty for an oven-dry sample."""
    told = moisture_read(one)
    if told.how is How.OVEN:
        return ""
    try:
        found = moisture_of(told, species(piece.species), sheet)
    except Problem as why:
        return str(why)
    return found.said if found.bracketed else f"{spread(found.mc, print_mc)}. {found.said}".strip()


@dataclass(frozen=True)
class BoardFigures:
    """A sample board in words: moisture when it was cut, oven-dry weight, weight for its tag."""

    mc: str
    dry: str
    tag: str
    problem: str = ""


def _board(shop: Shop, told: SampleTold) -> BoardFigures | None:
    """None while the sections are in the oven."""
    if not told.dry_kg:
        return None
    write = writes(shop.settled())
    mark = MARK_KG[unit_of(shop.settled())] if told.mark_kg is None else told.mark_kg
    try:
        pairs = zip(told.wet_kg, told.dry_kg, strict=True)
        board = SampleBoard(weight_of(told.mass_kg, WeighingScale(mark)), tuple(Section(*pair) for pair in pairs))
        figures = (
            spread(board.start, print_mc),
            spread(board.dry, write.weighed),
            spread(board.target_kg(AIR_DRY), write.weighed),
        )
    except Problem as why:
        return BoardFigures("", "", "", str(why))
    return BoardFigures(*figures)


def _stress(seen: str, hours: float | None) -> Stress | None:
    try:
        return stress_of(seen, hours)
    except Problem:
        return None
