"""waney measure: a piece as it lies there, its area, every width and board foot of the trade, its width through the year."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import Range
    from waney.cli.answers_piece import PieceMeasured, ReadyForRoom, SeasonWidths, UsableRectangle, WidthCounted
    from waney.papers.words import Shop
    from waney.pieces.measured import Measured


@answering
def measure(
    sheet: Annotated[Path, typer.Argument(help="A piece sheet: length and width, or the edges. With --piece a plan file.")],
    piece: Annotated[str | None, typer.Option(help="Its name in a plan file: its edges as the plan has them.")] = None,
    state: Annotated[str | None, typer.Option(help="Two letters; with --place, for its width through the year.")] = None,
    place: Annotated[str | None, typer.Option(help="The nearest station; `waney emc --state` lists them.")] = None,
    indoors: Annotated[str, typer.Option(help='How the room is kept, one or four (winter to autumn): "68 F".')] = "70 F",
    highest_humidity: Annotated[str | None, typer.Option(help="Most that cooling or a dehumidifier leaves.")] = None,
    shell: Annotated[str | None, typer.Option(help="Moisture below its face, per cent; with --place: is it ready?")] = None,
    core: Annotated[str | None, typer.Option(help="Moisture in its middle, per cent.")] = None,
    finish: Annotated[str, typer.Option(help="What is on its faces; a wrong word lists those that are known.")] = "none",
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Area, usable rectangle, and width and board feet by every rule, each with its name.

    The usable rectangle keeps off holes, cracks, bark pockets, metal, punky zones and pith; sound knots stay in it.
    With a place: its winter and summer width in a room there; the sheet then needs the wood and its moisture. And whether it is
    ready for that room: by --shell and --core, else by the moisture of the sheet; weeks to wait there, or back in the kiln.
    With a plan file and --piece: both faces as the plan has them, green, with their range. A forecast to begin a sheet with.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written
    from waney.cli.piece_sheets import picture_of, piece_in
    from waney.cli.planned import say_planned
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.cli.views import shop_of
    from waney.pieces.measured import measured

    can_be_written(json)
    if piece is not None:
        say_planned(sheet, piece, shop_of(units), json)
        return
    if (state is None) != (place is None):
        raise WrittenWrong("The width through the year needs --state and --place together.")
    if place is None and (shell or core):
        raise WrittenWrong("Whether it is ready for a room needs --state and --place.")
    whole = piece_in(sheet)
    if place is not None and (whole.wood is None or (whole.mc is None and not (shell or core))):
        raise WrittenWrong("A room needs `species` and `mc` (moisture now) in the sheet, or the wood and --shell or --core.")
    with working("Measuring"):
        found = measured(whole, picture_of(whole, sheet.parent), SCENARIOS)
        there = (state or "", place or "", indoors, highest_humidity)
        through = None if place is None or whole.mc is None else _seasons(found, *there, finish)
        ready = None if place is None else _ready(found, *there, shell, core)
        answer = _answer(whole.name or sheet.stem, found, through, ready)
    say(answer, json, lambda: _lines(answer, units))


def _widths(found: Measured) -> tuple[WidthCounted, ...]:
    from waney.cli.answers_piece import WidthCounted
    from waney.papers.width_words import WIDTH_WORDS

    return tuple(
        WidthCounted(WIDTH_WORDS[c.rule], c.width_m, c.area_m2, c.surface_measure, c.by_true, c.by_nominal, c.tally)
        for c in found.counts
    )


def _rectangle(found: Measured) -> UsableRectangle | None:
    from waney.cli.answers_piece import UsableRectangle

    one = found.rectangle
    return None if one is None else UsableRectangle(one.length_m, one.width_m, one.angle_rad, one.x_m, one.y_m)


def _seasons(
    found: Measured, state: str, place: str, indoors: str, highest: str | None, finish: str
) -> SeasonWidths:  # fmt: skip
    from waney.cli.answers import ranged
    from waney.cli.answers_piece import SeasonWidths
    from waney.cli.doubts import SCENARIOS
    from waney.cli.place_air import room_kept
    from waney.pieces.seasons import C2_OF_GRAIN, Standing, Wide, seasons
    from waney.wood.climate import station

    piece = found.piece
    assert piece.wood is not None, "looked for before"
    assert piece.mc is not None, "looked for before"
    wide = Wide(found.widest_m, piece.mc, piece.true_thickness_m, C2_OF_GRAIN[piece.grain])
    standing = Standing(station(state, place), room_kept(indoors, highest), finish)
    year = seasons(piece.wood, wide, standing, SCENARIOS)
    return SeasonWidths(
        standing.climate.place,
        finish,
        found.widest_m,
        piece.mc,
        ranged(year.lag_days),
        ranged(year.narrowest),
        year.narrowest_month,
        ranged(year.driest),
        ranged(year.widest),
        year.widest_month,
        ranged(year.dampest),
        ranged(year.moves),
        tuple(map(ranged, year.months)),
    )


def _ready(
    found: Measured, state: str, place: str, indoors: str, highest: str | None, shell: str | None, core: str | None
) -> ReadyForRoom:
    """Today is the day it was read; readings count as those of a pin meter that were put right."""
    from waney.cli.answers import ranged
    from waney.cli.answers_piece import ReadyForRoom
    from waney.cli.doubts import SCENARIOS
    from waney.cli.place_air import room_kept
    from waney.drying.meter_sheet import MeterSheet
    from waney.drying.moisture_told import How, MoistureTold, Where
    from waney.drying.room_wait import Room
    from waney.papers.room_words import advice, room_figures, verdict_words
    from waney.units.moisture import parse_mc
    from waney.wood.climate import station
    from waney.yard.services.room_ready import PieceInRoom, ready_for_room

    piece, on = found.piece, date.today()
    typed = {Where.SHELL: shell, Where.CORE: core}
    read = {where: parse_mc(text) for where, text in typed.items() if text}
    if not read and piece.mc is not None:
        read = {Where.WHOLE: piece.mc}
    told = tuple(MoistureTold(on, mc, How.PINS, where, right=True) for where, mc in read.items())
    room, wood = Room(station(state, place), room_kept(indoors, highest)), piece.wood.id if piece.wood else ""
    answer = ready_for_room(PieceInRoom(wood, piece.true_thickness_m, told, MeterSheet(), room, on), SCENARIOS).found
    weeks = None if answer.weeks is None else ranged(answer.weeks)
    said = (verdict_words(answer, room.climate.place), room_figures(answer), tuple(advice(answer, 0)))
    return ReadyForRoom(str(answer.verdict), ranged(answer.mean), answer.driest, answer.dampest, weeks, answer.late, *said)


def _answer(name: str, found: Measured, through: SeasonWidths | None, ready: ReadyForRoom | None) -> PieceMeasured:
    from waney.cli.answers import ranged
    from waney.cli.answers_piece import PieceMeasured

    piece, trace = found.piece, found.trace
    return PieceMeasured(
        name,
        piece.wood.common if piece.wood else None,
        piece.true_thickness_m,
        found.nominal_m,
        piece.upper_face.length_m,
        found.sizes.length_m,
        piece.upper_face.area_m2,
        None if trace is None else ranged(trace.area_m2),
        found.both_faces,
        _widths(found),
        _rectangle(found),
        tuple(mark.words for mark in piece.faces.marks),
        () if trace is None else trace.advice,
        through,
        ready,
    )


def _lines(answer: PieceMeasured, units: View) -> Iterator[str]:
    from waney.cli.views import shop_of
    from waney.papers.columns import aligned

    shop = shop_of(units)
    named = "" if answer.nominal_m is None else f", called {round(answer.nominal_m / 0.00635)}/4"
    wood = f"{answer.wood}, " if answer.wood else ""
    yield f"{answer.piece}: {wood}{shop.long(answer.length_m)} long, {shop.have(answer.thickness_m)} thick{named}"
    yield f"  upper face: {shop.area(answer.area_m2)}{_between(answer.area_range_m2, shop)}"
    yield from (f"  {line}" for line in answer.advice)
    if answer.rectangle is not None:
        yield f"  usable rectangle: {shop.long(answer.rectangle.length_m)} by {shop.have(answer.rectangle.width_m)}"
    else:
        yield "  no rectangle is free of what was marked"
    if not answer.both_faces:
        yield "  only one face was measured: the rules that want both take the other one to be alike"
    if answer.square_length_m < answer.length_m - 0.01:
        yield f"  counted over {shop.long(answer.square_length_m)}, between square cuts at its ends"
    yield ""
    head = ("width by rule", "width", "area", "surface measure", "board feet by measured thickness", "by its name", "tally")
    yield from aligned([head, *(_row(each, shop) for each in answer.widths)])
    yield "Board feet and tally: nhla-summary. A width means nothing without its rule: name it on every paper."
    if answer.seasons is not None:
        yield from ["", *_year(answer.seasons, shop)]
    if answer.ready is not None:
        yield from ["", answer.ready.sentence, *(f"  {what}: {says}" for what, says in answer.ready.figures)]
        yield from (f"  {line}" for line in answer.ready.advice)


def _between(found: Range | None, shop: Shop) -> str:
    return "" if found is None else f", {shop.area(found.low)} to {shop.area(found.high)} (traced on a photo)"


def _year(year: SeasonWidths, shop: Shop) -> Iterator[str]:
    from waney.papers.season_words import AIR_AND_LAG, end_words, moves_words

    yield f"In a room at {year.place}, finish: {year.finish}; its {shop.have(year.width_m)} at {year.mc * 100:.0f} % moisture:"
    yield f"  narrowest {end_words(year.narrowest_month, year.narrowest_m, year.driest, shop)}"
    yield f"  widest {end_words(year.widest_month, year.widest_m, year.dampest, shop)}"
    yield f"  {moves_words(year.moves_m, year.lag_days, shop)}"
    yield f"  from {year.moves_m.basis}; {AIR_AND_LAG}"


def _row(each: WidthCounted, shop: Shop) -> tuple[str, ...]:
    named, tally = ("-" if feet is None else f"{feet:.2f}" for feet in (each.board_feet_nominal, each.tally_board_feet))
    area = shop.area(each.area_m2)
    return (
        each.rule,
        str(shop.have(each.width_m)),
        area,
        f"{each.surface_measure_ft2}",
        f"{each.board_feet_true:.2f}",
        named,
        tally,
    )
