"""A piece as a buyer may read it, out of the book: for its sale sheet, and for the pages that are published."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from waney.figures.problem import Problem
from waney.papers.core_words import core_said
from waney.papers.history import Known
from waney.papers.lists import PieceLine, SaleLine
from waney.papers.receipt import SoldPiece
from waney.papers.sale import AsItLies, ForSale, Width
from waney.papers.width_words import WIDTH_WORDS
from waney.papers.words import Shop as Writes
from waney.trade.local_rules import Question
from waney.units.moisture import print_mc
from waney.web.asked.measure import MeasureAnswer
from waney.web.asked_of_sale import rules_for_a_buyer
from waney.web.measured import measured_on
from waney.web.shop import currency_of, writes
from waney.web.showing import Figures
from waney.wood.species import species
from waney.yard.acts.kilns import Treated
from waney.yard.acts.stacks import Depth, ReadBy
from waney.yard.book.book import Book
from waney.yard.book.drying_seen import last_moistures
from waney.yard.book.kiln_seen import Back, at_kiln, backs_of, read_since_kiln
from waney.yard.book.logs_seen import LogStands
from waney.yard.book.looking import PieceStands
from waney.yard.book.selling_seen import SaleStands, prices_asked, promises, sales
from waney.yard.book.stack_seen import MoistureTold, ReadOf
from waney.yard.book.stories import LogStory, Photo, PieceStory, log_story
from waney.yard.services.for_sale import OnSale, asked_for_all
from waney.yard.services.pictures import small
from waney.yard.services.treated_told import record_held, record_shows, treated_said
from waney.yard.services.woods import called_wood

METERS = (ReadBy.PINS, ReadBy.PINLESS)


@dataclass(frozen=True)
class Opened:
    """A yard as it is looked at: its book, its settings, the day."""

    book: Book
    settled: Mapping[str, str]
    today: date


def as_sold(yard: Opened, story: PieceStory, answer: MeasureAnswer | None) -> ForSale:
    """What a buyer may read of a piece; answer: what was worked out of it as it lies."""
    piece, sale = story.piece, _sale_of(yard, story.piece)
    goes_to = "" if sale is None else sale.goes_to
    return ForSale(
        piece.name,
        _wood(piece.species),
        tuple(_sizes(yard, story, taped=answer is None)),
        (*_moisture(yard, piece.id), Known("heat treated", _treated(yard, piece.id))),
        tuple(_story(yard, story)),
        _asked(yard, piece),
        None if answer is None else _as_it_lies(story, answer),
        _photo(yard, story),
        _of_set(yard, story),
        "" if sale is None else _sold(sale),
        tuple((one.question, _known_of(one)) for one in rules_for_a_buyer(yard.settled, [piece.species], goes_to)),
    )


def _wood(typed: str) -> str:
    """Its common name and its botanical one; what no table has stays as it was typed."""
    try:
        found = species(typed)
    except Problem:
        return typed or "wood not known"
    return f"{found.common} ({found.botanical})"


def _asked(yard: Opened, piece: PieceStands) -> str:
    """The price that is asked of whoever comes; empty for none, and for a piece that is no more."""
    cents, _way = prices_asked(yard.book, [piece.id]).get(piece.id, (None, ""))
    return "" if cents is None or piece.ended else Figures.money(cents, currency_of(yard.settled))


def _sizes(yard: Opened, story: PieceStory, *, taped: bool) -> Iterator[Known]:
    """Thickness, length, and the widths that were taped where nothing better is known."""
    write, piece = writes(yard.settled), story.piece
    yield Known(f"thickness, {_thick(piece)}", None if piece.thickness_m is None else write.read(piece.thickness_m))
    yield Known(
        "length, between square cuts" if piece.measured else "length",
        None if piece.length_m is None else write.long(piece.length_m),
    )
    if taped:
        lies = piece.measured
        by_rule = (
            ("narrow_face_m", lies.narrow_face_m), ("mean_of_faces_m", lies.mean_of_faces_m), ("mid_length_m", lies.mid_length_m)
        ) if lies else ()  # fmt: skip
        for rule, width in (*by_rule, ("narrowest_m", piece.least_width_m), ("widest_m", piece.most_width_m)):
            yield Known(f"width by {WIDTH_WORDS[rule]}", None if width is None else write.have(width))


def _thick(piece: PieceStands) -> str:
    """What a thickness in the book means: nobody who counts a piece in the shed says whether it is dry."""
    if piece.measured is not None:
        return "as measured"
    if piece.parent:
        return "as sawn out of a larger piece"
    return "as sawn, green" if piece.log or piece.day else "as counted"


def _as_it_lies(story: PieceStory, answer: MeasureAnswer) -> AsItLies:
    widths = tuple(Width(rule, width, measure, feet) for rule, width, measure, feet, _named in answer.widths)
    return AsItLies(Figures.day(measured_on(story)), answer.rows, widths)


def _moisture(yard: Opened, piece: str) -> Iterator[Known]:
    """The last of each depth, since a kiln if it was in one, with the day and what it was read with."""
    told = read_since_kiln(yard.book, [piece]).get(piece, ReadOf()).moistures
    read = {Depth(one.depth): one for one in last_moistures(told)}
    for depth in (Depth.SHELL, Depth.CORE):
        yield Known(f"moisture, {depth}", _read(read[depth]) if depth in read else "not read")
    if Depth.WHOLE in read:
        yield Known("moisture, depth not told", _read(read[Depth.WHOLE]))
    away = at_kiln(yard.book, piece)
    if away is not None:
        yield Known("in a kiln", f"since {Figures.day(away.since)}; not known to be dry")


def _read(one: MoistureTold) -> str:
    raw = "" if one.corrected or one.read_by not in METERS else " as it showed, not corrected for wood and temperature"
    return f"{print_mc(one.mc)}; {one.read_by}{raw}, {Figures.day(one.happened_at)}"


def _treated(yard: Opened, piece: str) -> str:
    """A treatment that a core record shows stays one; else what was told when the piece came back last."""
    told = backs_of(yard.book, piece)
    shown = next((one for one in reversed(told) if record_shows(one)), None)
    if shown is not None:
        return f"{shown.treated}, {core_held(writes(yard.settled), shown)}; this is no certificate"
    if not told:
        return str(Treated.NOT_KNOWN)
    said = treated_said(told[-1])
    return f"not known; {said}" if told[-1].treated is Treated.SAID else said


def core_held(write: Writes, back: Back | None) -> str:
    """What the core record says, in words; empty for none."""
    read = None if back is None else record_held(back)
    if read is not None:
        return core_said(read, Figures(write).warmth)
    if back is None or back.core_c is None:
        return ""
    minutes = "" if back.core_min is None else f" for {back.core_min:g} minutes"
    return f"core held at {Figures(write).warmth(back.core_c)}{minutes}"


def _story(yard: Opened, story: PieceStory) -> Iterator[Known]:
    """Where and when its tree was felled, its log, its place in the boule."""
    piece = story.piece
    told = log_story(yard.book, piece.log) if piece.log else None
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


def _photo(yard: Opened, story: PieceStory) -> bytes | None:
    """The last photo of it of which somebody said that the wood is dry; None where there is none, or its file is lost."""
    return small_photo(yard.book, next((one for one in reversed(story.photos) if one.wet is False), None))


def small_photo(book: Book, photo: Photo | None) -> bytes | None:
    """A photo, small, with nothing written beside it; None where there is none, or its file is lost."""
    try:
        return None if photo is None else small(book.files.read(photo.file))
    except Problem:
        return None


def _of_set(yard: Opened, story: PieceStory) -> str:
    """What it is sold with, and what is asked for all of that."""
    left = [one for one in story.mates if not one.ended]
    others = [one.name for one in left if one.id != story.piece.id]
    if not others or story.piece.ended:
        return ""
    cents = asked_for_all(left, prices_asked(yard.book, [one.id for one in left]))
    price = "" if cents is None else f" All {len(left)}: {Figures.money(cents, currency_of(yard.settled))} before tax."
    return f"It belongs to a set, with {', '.join(others)}.{price}"


def _sale_of(yard: Opened, piece: PieceStands) -> SaleStands | None:
    """The sale of it, where it is sold."""
    promised = promises(yard.book, yard.today.isoformat(), piece.id).get(piece.id)
    return sales(yard.book, sale=promised.ident)[0] if promised is not None and promised.kind == "sale" else None


def _sold(sale: SaleStands) -> str:
    """That it is sold, and whether it is paid; nobody's name, and not for how much."""
    return f"Sold on {Figures.day(sale.on)}, {'paid' if sale.owed_cents <= 0 else 'not paid in full yet'}"


def _known_of(one: Question) -> str:
    """Whom to ask, and what a source states."""
    return f"Ask {one.ask}. {one.says}{f' Source: {one.source}, {one.dated_words}.' if one.source else ''}"


def as_sold_piece(piece: PieceStands, money: str = "", *, came_back: bool = False) -> SoldPiece:
    """A piece as a receipt, a packing list or a quote names it."""
    sizes = (piece.thickness_m, piece.length_m, piece.least_width_m, piece.most_width_m)
    return SoldPiece(piece.name, called_wood(piece.species) or "wood not known", *sizes, money, came_back)


def sale_line(one: OnSale, state: str, on: date) -> SaleLine:
    """A piece as a line of a list."""
    piece, read = one.piece, {moisture.depth: moisture.mc for moisture in one.moistures}
    sizes = (piece.thickness_m, piece.least_width_m, piece.most_width_m, piece.length_m)
    line = PieceLine(piece.name, called_wood(piece.species), piece.log_name, state, *sizes)
    line = replace(line, shell_mc=read.get(Depth.SHELL), core_mc=read.get(Depth.CORE), mc=read.get(Depth.WHOLE))
    return SaleLine(line, one.cents, bool(piece.together), on)
