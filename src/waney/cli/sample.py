"""waney sample: sample boards, from two moisture sections to the weight on the tag and the moisture at every later weight."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.days import parse_day
from waney.cli.dry import EXPOSURE, MARK, WIDE
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from datetime import date

    from waney.cli.sample_answer import Asked
    from waney.drying.meter_sheet import MeterSheet
    from waney.drying.sample_board import Section
    from waney.drying.stack import Stack
    from waney.drying.weighing import WeighingScale, Weight
    from waney.wood.climate import Climate, HourlyYear

IN_KILN, OUTDOORS = "8 %", "20 %"


@answering
def sample(
    sheet: Annotated[
        Path | None, typer.Argument(help="A stack sheet whose lines have sample boards; else say one with the options.")
    ] = None,
    section: Annotated[
        list[str] | None, typer.Option(help='A moisture section, wet and oven dry: "182 g, 101 g". Two or more.')
    ] = None,
    board: Annotated[str | None, typer.Option(help="What the board between them weighed when they were cut.")] = None,
    cut: Annotated[str | None, typer.Option(metavar="<date>", help="The day of that.")] = None,
    weighed: Annotated[list[str] | None, typer.Option(help='Day and weight later: "2026-05-06, 7.2 lb".')] = None,
    target: Annotated[
        str | None, typer.Option(help=f"Moisture it shall come to; {IN_KILN} when left out, outdoors {OUTDOORS}.")
    ] = None,
    wood: Annotated[str | None, typer.Option(help="A wood by its common, botanical or other name.")] = None,
    thickness: Annotated[str | None, typer.Option(help='4/4, "1 1/8 in", "29 mm".')] = None,
    kiln: Annotated[bool, typer.Option("--kiln", help="Tell at which weights the steps of its kiln schedule begin.")] = False,
    state: Annotated[str | None, typer.Option(help="Two letters; with --place, for dates outdoors.")] = None,
    place: Annotated[str | None, typer.Option(help="The nearest station; `waney emc --state` lists them.")] = None,
    rows: Annotated[
        Path | None,
        typer.Option(help="Your own weather instead: months, hours, or a weather file (EPW), as `waney dry` takes it."),
    ] = None,
    exposure: Annotated[
        str | None,
        typer.Option(help=f"Where it stands: open (top covered), roof, fan (under a roof); {EXPOSURE} when left out."),
    ] = None,
    pile_width: Annotated[
        str | None,
        typer.Option(metavar="<length>", help=f"How wide the stack is, the way the air crosses it; {WIDE} when left out."),
    ] = None,
    meter: Annotated[
        Path | None,
        typer.Option(
            metavar="<meter sheet>",
            help="What the maker of the meter prints for each wood, for [[piece.moisture]] of a stack sheet.",
        ),
    ] = None,
    mark: Annotated[
        str | None, typer.Option(help=f"Between two marks of the scale that weighs the board; {MARK} when left out.")
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """A sample board: two sections weighed green and oven dry give its oven-dry weight, every later weight its moisture.

    With --state and --place (or --rows), --cut, --wood and --thickness also the dates between which it is dry outdoors: nine in
    ten fall within.
    """
    from waney.cli.beside import refuse_beside, those_typed, typed
    from waney.cli.files import can_be_written, meter_of, weather_of
    from waney.cli.progress import working
    from waney.cli.sample_answer import sample_boards
    from waney.cli.sample_words import sample_lines
    from waney.cli.saying import say

    can_be_written(json)
    itself = {"--section": section, "--board": board, "--cut": cut, "--weighed": weighed, "--target": target, "--wood": wood}
    about = {"--thickness": thickness, "--state": state, "--place": place, "--exposure": exposure}
    said = itself | about | {"--pile-width": pile_width, "--mark": mark}
    if sheet is not None:
        refuse_beside("stack sheet", said)
    elif not those_typed(said):
        raise WrittenWrong('Say the boards once: a stack sheet, or --section "182 g, 101 g" twice and --board "8.8 lb".')
    if sheet is None and meter is not None:
        raise WrittenWrong("--meter puts right what a stack sheet has of a moisture meter: leave it out without a sheet.")
    own = None if rows is None else weather_of(rows)
    stack: Stack | None
    if sheet is not None:
        asked, stack = _of_sheet(sheet, kiln, own, meter_of(meter))
    else:
        outdoors = state is not None or own is not None
        one = _said(
            section or [], board, cut, weighed or [], target, wood, thickness, typed(mark, MARK), outdoors=outdoors, kiln=kiln
        )
        asked, stack = [one], _outdoors(one, state, place, own, typed(exposure, EXPOSURE), typed(pile_width, WIDE))
    with working("Drying the boards in thought"):
        found = sample_boards(asked, stack)
    say(found, json, lambda: sample_lines(found, units))


def _said(
    sections: list[str],
    board: str | None,
    cut: str | None,
    weighed: list[str],
    target: str | None,
    wood: str | None,
    thickness: str | None,
    mark: str,
    *,
    outdoors: bool,
    kiln: bool,
) -> Asked:
    from waney.cli.sample_answer import Asked
    from waney.drying.sample_board import SampleBoard
    from waney.drying.sawn import sawn_m
    from waney.drying.weighing import WeighingScale
    from waney.drying.weighing import weighed as weight_of
    from waney.units.mass import parse_mass
    from waney.units.moisture import parse_mc
    from waney.units.thickness import parse_thickness
    from waney.wood.species import species

    if board is None:
        raise WrittenWrong('--board is missing: what the board weighed when its sections were cut, such as "8.8 lb".')
    if kiln and not (wood and thickness):
        raise WrittenWrong("--kiln needs --wood and --thickness: they choose the schedule.")
    scale = WeighingScale(parse_mass(mark))
    return Asked(
        "Sample board",
        SampleBoard(weight_of([parse_mass(board)], scale), tuple(_section(words) for words in sections)),
        species(wood) if wood else None,
        sawn_m(parse_thickness(thickness, None)) if thickness else None,
        parse_day(cut, "--cut") if cut else None,
        tuple(_weight(words, scale) for words in weighed),
        scale,
        parse_mc(target or (OUTDOORS if outdoors else IN_KILN)),
        kiln,
    )


def _section(words: str) -> Section:
    from waney.drying.sample_board import Section
    from waney.units.mass import parse_mass

    parts = words.split(",")
    if len(parts) != 2:
        raise WrittenWrong(f'--section: {words!r} is not wet, oven dry; write for instance "182 g, 101 g".')
    return Section(parse_mass(parts[0].strip()), parse_mass(parts[1].strip()))


def _weight(words: str, scale: WeighingScale) -> tuple[date, Weight]:
    from waney.drying.weighing import weighed
    from waney.units.mass import parse_mass

    day, comma, value = words.partition(",")
    if not comma:
        raise WrittenWrong(f'--weighed: {words!r} is not day, weight; write for instance "2026-05-06, 7.2 lb".')
    return parse_day(day, "--weighed"), weighed([parse_mass(value.strip())], scale)


Weather = tuple["Climate", "HourlyYear | None"]


def _outdoors(
    one: Asked, state: str | None, place: str | None, own: Weather | None, exposure: str, pile_width: str
) -> Stack | None:
    """Where the board stands outdoors; None where neither a place nor its weather was told."""
    from waney.drying.evidence import WeightRead
    from waney.drying.outdoors import Passage
    from waney.drying.stack import Line, Stack
    from waney.drying.stack_sheet import EXPOSURES
    from waney.units.length import parse_length
    from waney.wood.climate import station

    if exposure not in EXPOSURES:
        raise WrittenWrong(f"--exposure: {exposure!r} is none of {', '.join(EXPOSURES)}.")
    if state is None and place is None and own is None:
        return None
    if not ((own or (state and place)) and one.cut and one.wood and one.thickness_m):
        raise WrittenWrong("Dates outdoors need --state and --place (or --rows), and --cut, --wood and --thickness.")
    climate, hours = own or (station(state or "", place or ""), None)
    reads = tuple((day, WeightRead(0.0, found.kg, found.error_kg)) for day, found in one.weights)
    line = Line(one.name, one.wood, one.thickness_m, 1, reads, one.board)
    passage = Passage(parse_length(pile_width, None))
    return Stack(climate, one.cut, EXPOSURES[exposure], one.target, (line,), hours=hours, passage=passage)


def _of_sheet(sheet: Path, kiln: bool, own: Weather | None, meter: MeterSheet) -> tuple[list[Asked], Stack]:
    """Every line of a stack sheet that has a sample board, and the stack of those lines."""
    from dataclasses import replace

    from waney.cli.files import read_text
    from waney.cli.sample_answer import Asked
    from waney.drying.evidence import WeightRead
    from waney.drying.stack_sheet import read_stack_sheet
    from waney.drying.weighing import WeighingScale, Weight
    from waney.units.sheet import called

    with called(str(sheet)):
        stack = read_stack_sheet(read_text(sheet), own, meter)
    lines = tuple(line for line in stack.lines if line.board is not None)
    if not lines:
        raise WrittenWrong(f"{sheet} has no sample board: give a [[piece]] its [piece.sections].")
    asked = [
        Asked(
            line.name,
            line.board,
            line.wood,
            line.thickness_m,
            stack.start,
            tuple((day, Weight(read.kg, read.error_kg)) for day, read in line.reads if isinstance(read, WeightRead)),
            WeighingScale(stack.mark_kg),
            stack.target,
            kiln,
        )
        for line in lines
        if line.board is not None
    ]
    return asked, replace(stack, lines=lines)
