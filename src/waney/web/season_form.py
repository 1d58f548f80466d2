"""Season form: what is asked about a piece in a room: as the address says it, else as its sheet and the book have it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TypeVar

from waney.figures.problem import Problem
from waney.units.length import LengthUnit, parse_length
from waney.units.moisture import parse_mc, print_mc
from waney.units.temperature import Degree, in_degrees
from waney.units.thickness import parse_thickness
from waney.web.asked.seasons import SeasonsAsked
from waney.web.measured import newest_shaped, picture_in
from waney.web.piece_told import Told
from waney.web.rooms import USUAL_ROOM, lives_in, room_told
from waney.web.shop import Shop, degree_of, unit_of
from waney.wood.climate import climate_of, states, stations_in
from waney.wood.lag import BARE, finishes
from waney.wood.room_told import room_kept
from waney.yard.book.looking import plan_file
from waney.yard.book.stories import PieceStory
from waney.yard.problems import FileLost
from waney.yard.services.width_told import moisture_now, width_told
from waney.yard.services.woods import wood_of

Value = TypeVar("Value")
GRAINS = ("flat", "rift", "quarter")
FIELDS = ("place", "indoors", "highest", "finish", "width", "mc", "grain")


def places() -> dict[str, tuple[str, ...]]:
    """Places of the climate tables by state."""
    return {state: tuple(f"{name}, {state}" for name in stations_in(state)) for state in states()}


@dataclass(frozen=True)
class Known:
    """What is known of a piece where nothing is typed. width_m: None for what its sheet says, if it has one; how: in words."""

    wood: str
    width_m: float | None
    mc: float | None
    thickness_m: float | None
    sheet: str
    photo: str
    how: str
    grain: str
    """as its sheet says; empty for nothing"""


@dataclass(frozen=True)
class SeasonForm:
    """typed: fields as they stand in the form; wrong: a sentence for each that cannot be read; missing: what to tell first;
    asked: the question, once all is told; rings: what no choice of grain means."""

    typed: dict[str, str]
    wrong: dict[str, str]
    missing: tuple[str, ...]
    known: Known
    rings: str
    asked: SeasonsAsked | None


def season_form(shop: Shop, story: PieceStory, query: Mapping[str, str]) -> SeasonForm:
    """The form as an address asks for it."""
    unit, known = unit_of(shop.settled()), _known(shop, story)
    typed = _typed(story, shop.settled(), query)
    degree = degree_of(unit)
    fields = _Fields(typed, {}, degree)
    width = fields.read("width", lambda text: parse_length(text, unit))
    mc = fields.read("mc", parse_mc)
    fields.read("indoors", lambda text: room_kept(text, None, degree))
    fields.read("highest", lambda text: room_kept(USUAL_ROOM[unit], text))
    fields.read("place", climate_of)
    fields.one_of("finish", finishes())
    fields.one_of("grain", ("", *GRAINS))
    mc, wide = known.mc if mc is None else mc, known.width_m if width is None else width
    missing = tuple(_missing(known, wide, mc, typed["place"]))
    grain, plan, cut = _rings(shop, story, typed["grain"], known.grain)
    asked = None
    if not missing and not fields.wrong and mc is not None and known.thickness_m is not None:
        by_sheet = (known.sheet, picture_in(shop.book, known.photo)) if wide is None else ("", "")
        room = (typed["place"], typed["indoors"], typed["highest"], typed["finish"])
        asked = SeasonsAsked(known.wood, known.thickness_m, mc, *room, wide, *by_sheet, grain, plan, cut, unit == "mm")
    rings = "as they stand in the plan it was sawn by" if story.plan else known.grain or "not known: from flat to quarter"
    return SeasonForm(typed, fields.wrong, missing, known, rings, asked)


def _typed(story: PieceStory, settled: Mapping[str, str], query: Mapping[str, str]) -> dict[str, str]:
    typed, room = {name: query.get(name, "").strip() for name in FIELDS}, lives_in(room_told(story), settled)
    return typed | {
        "place": typed["place"] or room.place,
        "indoors": typed["indoors"] or room.indoors,
        "highest": typed["highest"] if "highest" in query else room.highest,
        "finish": typed["finish"] or BARE,
    }


def _known(shop: Shop, story: PieceStory) -> Known:
    piece, told = story.piece, Told.of(story.piece, newest_shaped(story), unit_of(shop.settled()))
    held = moisture_now(shop.book, piece)
    if not told.shaped:
        own = width_told(piece, held)
        return Known(piece.species, own.width_m, own.mc, piece.thickness_m, "", "", own.how, "")
    read = None if held is None else held.mc.likely
    mc = _quietly(parse_mc, told.word("mc")) if told.has("mc") else read
    thick = told.word("true_thickness") or told.word("thickness")
    thickness = _quietly(lambda text: parse_thickness(text, LengthUnit(told.unit)).metres, thick)
    how = "at its widest, as its sheet has it" + ("" if mc is None else f", at {print_mc(mc)} moisture")
    wood = told.word("species") or piece.species
    return Known(wood, None, mc, thickness or piece.thickness_m, told.text, told.photo, how, told.word("grain"))


def _quietly(reader: Callable[[str], Value], text: str) -> Value | None:
    """What a sheet says, where it can be read."""
    try:
        return reader(text) if text else None
    except (Problem, ValueError):
        return None


def _missing(known: Known, width_m: float | None, mc: float | None, place: str) -> Iterator[str]:
    if wood_of(known.wood) is None:
        yield "which wood it is, by a name that the tables know"
    if width_m is None and not known.sheet:
        yield "how wide it is"
    if mc is None:
        yield "how moist it was when its width was taken"
    if known.thickness_m is None:
        yield "how thick it is (measure it as it lies)"
    if not place:
        yield "the place where it will stand"


def _rings(shop: Shop, story: PieceStory, typed: str, sheet: str) -> tuple[str, str, int | None]:
    """How the rings stand where somebody said it now, else the plan it was sawn by and its cut, else as its sheet says."""
    if typed or not story.plan:
        return typed or sheet, "", None
    try:
        return "", plan_file(shop.book, story.plan).decode("utf-8"), story.cut
    except FileLost:
        return sheet, "", None


@dataclass(frozen=True)
class _Fields:
    typed: dict[str, str]
    wrong: dict[str, str]
    degree: Degree

    def read(self, name: str, reader: Callable[[str], Value]) -> Value | None:
        """The value; None where nothing was typed, or where it cannot be read."""
        try:
            return reader(self.typed[name]) if self.typed[name] else None
        except Problem as slip:
            self.wrong[name] = in_degrees(str(slip), self.degree)
        return None

    def one_of(self, name: str, words: tuple[str, ...]) -> None:
        """Notes a word that is none of these."""
        if self.typed[name] not in words:
            self.wrong[name] = "Choose one of the list."
