"""waney dry: when a stack of mixed pieces will be dry, as a range of dates that readings narrow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.days import parse_day
from waney.cli.views import Json, Units, View
from waney.papers.ranges import days

if TYPE_CHECKING:
    from datetime import date

    from waney.cli.answers_dry import DryingLine, DryingStack, MiddleAndFace
    from waney.drying.evidence import MoistureRead, WeightRead
    from waney.drying.inside import Inside
    from waney.drying.meter_sheet import MeterSheet
    from waney.drying.sides import Sides
    from waney.drying.stack import Line, LineDates, Stack, StackDates
    from waney.figures.estimate import Estimate
    from waney.wood.climate import Climate, HourlyYear

EXPOSURE, TARGET, WIDE, EDGES, ENDS, MARK = "open", "20 %", "4 ft", "open", "coated", "0.1 lb"
"""What counts where a stack is said with options and one of them is left out."""
PARTS = "wood, thickness, count, length x width"


@answering
def dry(
    sheet: Annotated[Path | None, typer.Argument(help="A stack sheet; else say it with the options.")] = None,
    piece: Annotated[
        list[str] | None,
        typer.Option(
            help='A line of pieces alike: "white oak, 4/4, 40"; where they are weighed, narrow or short, with the size of one: '
            '"white oak, 8/4, 6, 8 ft x 18 in". May stand several times.'
        ),
    ] = None,
    state: Annotated[str | None, typer.Option(help="Two letters; with --place, for the weather.")] = None,
    place: Annotated[str | None, typer.Option(help="The nearest station; `waney emc --state` lists them.")] = None,
    start: Annotated[str | None, typer.Option(metavar="<date>", help="The day the stack was put on stickers.")] = None,
    rows: Annotated[
        Path | None,
        typer.Option(help="Your own weather instead: as `waney emc` takes it, months, hours, or a weather file (EPW)."),
    ] = None,
    exposure: Annotated[
        str | None,
        typer.Option(
            help="Where it stands: open (top covered), roof, fan (under a roof), sun (a chamber that the sun warms); "
            f"{EXPOSURE} when left out."
        ),
    ] = None,
    target: Annotated[str | None, typer.Option(help=f"Moisture it shall come to; {TARGET} when left out.")] = None,
    pile_width: Annotated[
        str | None,
        typer.Option(metavar="<length>", help=f"How wide the stack is, the way the air crosses it; {WIDE} when left out."),
    ] = None,
    edges: Annotated[
        str | None,
        typer.Option(
            help=f"Of pieces whose size is said: open (sawn, or the bark is off), bark (it was left on); {EDGES} when left out."
        ),
    ] = None,
    ends: Annotated[str | None, typer.Option(help=f"Of pieces whose size is said: coated, bare; {ENDS} when left out.")] = None,
    weighed: Annotated[
        list[str] | None,
        typer.Option(
            help='Number of the line, day, weight of one piece: "1, 2026-05-01, 41.2 lb"; one end after the other: '
            '"1, 2026-05-01, 66 lb + 63 lb".'
        ),
    ] = None,
    read: Annotated[
        list[str] | None, typer.Option(help='The same with a pin meter at about 68 °F: "1, 2026-05-01, 24 %".')
    ] = None,
    meter: Annotated[
        Path | None,
        typer.Option(
            metavar="<meter sheet>",
            help="What the maker of the meter prints for each wood; without it readings count as they stand, more widely.",
        ),
    ] = None,
    mark: Annotated[
        str | None,
        typer.Option(
            help=f"Between two marks of the scale of --weighed; {MARK} when left out, beside a sheet as the sheet has it."
        ),
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Dates between which a stack comes to its target moisture, a line at a time: nine in ten fall within.

    Readings narrow the dates of their line; they are of one piece of it, always the same one. Weather: the
    place's normal months, and how far real months stray from them. Edges of narrow pieces and bare ends of short
    ones shorten the days, where their size is said.
    """
    from waney.cli.beside import refuse_beside, typed
    from waney.cli.files import can_be_written, meter_of, read_text, weather_of
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.drying.sides_told import sides_said
    from waney.drying.stack import PARTICLES, stack_dates
    from waney.drying.stack_sheet import read_stack_sheet
    from waney.figures.scenarios import Scenarios
    from waney.units.sheet import called

    can_be_written(json)
    if (sheet is None) == (not piece):
        raise WrittenWrong("Say the stack once: a stack sheet, or --piece with --state, --place and --start.")
    if sheet is not None:
        where = {"--state": state, "--place": place, "--start": start, "--exposure": exposure, "--target": target}
        sizes = {"--pile-width": pile_width, "--edges": edges, "--ends": ends, "--mark": None if weighed else mark}
        refuse_beside("stack sheet", where | sizes)
    if meter is not None and sheet is None and not read:
        raise WrittenWrong("--meter puts readings right: add --read, or leave --meter out.")
    own, by_maker = None if rows is None else weather_of(rows), meter_of(meter)
    if sheet is not None:
        with called(str(sheet)):
            stack = read_stack_sheet(read_text(sheet), own, by_maker)
    else:
        closed = sides_said(typed(edges, EDGES), typed(ends, ENDS))
        there = own or (_weather(state, place), None)
        standing = (typed(exposure, EXPOSURE), typed(target, TARGET), typed(pile_width, WIDE))
        stack = _said(piece or [], there, start, *standing, closed)
    stack = _narrowed(stack, weighed or [], read or [], mark, by_maker)
    with working("Drying the stack in thought"):
        found = stack_dates(stack, Scenarios(1, PARTICLES))
    answer = _answer(stack, found)
    say(answer, json, lambda: _lines(answer, units))


def _weather(state: str | None, place: str | None) -> Climate:
    from waney.wood.climate import station

    if state is None or place is None:
        raise WrittenWrong("The weather needs --state and --place, or --rows; `waney emc --state` lists the places.")
    return station(state, place)


def _said(
    pieces: list[str],
    weather: tuple[Climate, HourlyYear | None],
    start: str | None,
    exposure: str,
    target: str,
    pile_width: str,
    sides: Sides,
) -> Stack:
    from waney.drying.outdoors import Passage
    from waney.drying.stack import Stack
    from waney.drying.stack_sheet import EXPOSURES
    from waney.units.length import parse_length
    from waney.units.moisture import parse_mc

    if start is None:
        raise WrittenWrong("Say with --start on which day the stack was put on stickers.")
    if exposure == "dehumidifier":
        raise WrittenWrong("--exposure: a chamber with a dehumidifier needs what is read in it: write a stack sheet, [chamber].")
    if exposure not in EXPOSURES:
        raise WrittenWrong(f"--exposure: {exposure!r} is none of {', '.join(EXPOSURES)}.")
    lines = tuple(_line(words, at, sides) for at, words in enumerate(pieces))
    day, (climate, hours) = parse_day(start, "--start"), weather
    return Stack(
        climate, day, EXPOSURES[exposure], parse_mc(target), lines, hours=hours, passage=Passage(parse_length(pile_width, None))
    )


def _line(words: str, at: int, sides: Sides) -> Line:
    from waney.drying.sawn import sawn_m
    from waney.drying.stack import Line
    from waney.units.thickness import parse_thickness
    from waney.wood.species import species

    parts = [part.strip() for part in words.split(",")]
    counted = len(parts) == 2 or (len(parts) in (3, 4) and parts[2].isdigit() and int(parts[2]) > 0)
    if not counted:
        raise WrittenWrong(f'--piece: {words!r} is not {PARTS}; write for instance "white oak, 4/4, 40".')
    wood, green = species(parts[0]), sawn_m(parse_thickness(parts[1], None))
    count = int(parts[2]) if len(parts) > 2 else 1
    called = f"{at + 1}. {wood.common}, {parts[1]}"
    if len(parts) < 4:
        return Line(called, wood, green, count)
    length, width = _size(parts[3])
    sized = replace(sides, width_m=width, length_m=length)
    return Line(called, wood, green, count, volume_m3=green * length * width, sides=sized)


def _size(size: str) -> tuple[float, float]:
    """Length and width [m]."""
    from waney.units.length import parse_length

    length, by, width = size.lower().partition(" x ")
    if not by:
        raise WrittenWrong(f'--piece: {size!r} is not length x width; write for instance "8 ft x 18 in".')
    return parse_length(length.strip(), None), parse_length(width.strip(), None)


def _narrowed(stack: Stack, weighed: list[str], read: list[str], mark: str | None, meter: MeterSheet) -> Stack:
    """The stack with what was read on the command line."""
    from waney.units.mass import parse_mass

    lines = list(stack.lines)
    mark_kg = (stack.mark_kg or parse_mass(MARK)) if mark is None else parse_mass(mark)
    for option, several in (("--weighed", weighed), ("--read", read)):
        for words in several:
            at, day, value = _reading(words, option, len(lines))
            one, said = (_weight(value, mark_kg), "") if option == "--weighed" else _moisture(value, lines[at], meter)
            told = (*lines[at].said, said) if said else lines[at].said
            lines[at] = replace(lines[at], reads=(*lines[at].reads, (day, one)), said=told)
    return replace(stack, lines=tuple(lines), mark_kg=mark_kg) if weighed else replace(stack, lines=tuple(lines))


def _reading(words: str, option: str, count: int) -> tuple[int, date, str]:
    parts = [part.strip() for part in words.split(",")]
    if len(parts) != 3:
        raise WrittenWrong(f'{option}: {words!r} is not line, day, reading; write for instance "1, 2026-05-01, 41.2 lb".')
    if not parts[0].isdigit() or not 1 <= int(parts[0]) <= count:
        raise WrittenWrong(f"{option}: {parts[0]!r} is no line of this stack; write 1 to {count}.")
    return int(parts[0]) - 1, parse_day(parts[1], option), parts[2]


def _weight(value: str, mark_kg: float) -> WeightRead:
    from waney.drying.evidence import WeightRead
    from waney.drying.weighing import WeighingScale, weighed
    from waney.units.mass import parse_mass

    found = weighed([parse_mass(end.strip()) for end in value.split("+")], WeighingScale(mark_kg))
    return WeightRead(0.0, found.kg, found.error_kg)


def _moisture(value: str, line: Line, sheet: MeterSheet) -> tuple[MoistureRead, str]:
    """A reading, and what is to be minded of it."""
    from waney.drying.evidence import of_meter
    from waney.drying.meter import Meter
    from waney.drying.moisture_told import metered
    from waney.units.moisture import parse_mc

    found = metered(Meter.PINS, parse_mc(value), None, line.wood, sheet)
    return of_meter(found), found.said


def _answer(stack: Stack, found: StackDates) -> DryingStack:
    from waney.cli.answers import ranged
    from waney.cli.answers_dry import DryingStack

    return DryingStack(
        stack.place,
        stack.start.isoformat(),
        stack.exposure.value,
        _air(stack),
        stack.target,
        tuple(_one(stack, one) for one in found.lines),
        ranged(found.before),
        ranged(found.after),
        _dates(stack.start, found.after),
    )


def _air(stack: Stack) -> str:
    """In words, what is taken for the air about the stack."""
    from waney.papers.air_words import air_said

    weather = air_said(stack)
    if stack.chamber_unread:
        return (
            f"{weather} Nobody read the chamber's air: the range holds a dull, a usual and a good one; a sheet takes [chamber]."
        )
    return weather


def _one(stack: Stack, one: LineDates) -> DryingLine:
    from waney.cli.answers import range_of, ranged
    from waney.cli.answers_dry import DryingLine

    line, found = one.line, one.forecast
    return DryingLine(
        line.name, line.wood.common, line.thickness_m, line.count, ranged(found.before.days), ranged(found.after.days),
        _dates(stack.start, found.after.days), found.after.late, range_of(found.mc), range_of(found.dry),
        range_of(one.tag_kg), one.losing, one.losing_most, one.stress, one.core, _inside(found.end), one.core_now,
        _inside(found.now), tuple(one.remarks),
    )  # fmt: skip


def _inside(found: Inside | None) -> MiddleAndFace | None:
    from waney.cli.answers import ranged
    from waney.cli.answers_dry import MiddleAndFace

    return None if found is None else MiddleAndFace(found.mean, ranged(found.core), ranged(found.face))


def _dates(start: date, days: Estimate) -> tuple[str, str, str]:
    from waney.drying.forecast import dates

    first, likely, last = dates(start, days)
    return first.isoformat(), likely.isoformat(), last.isoformat()


def _lines(answer: DryingStack, units: View) -> Iterator[str]:
    from waney.drying.pace import MODEL
    from waney.figures.sources import source
    from waney.papers.cautions import cautions
    from waney.papers.columns import paragraph

    target = f"{answer.target * 100:.0f} %"
    where = ", ".join(filter(None, (answer.exposure, answer.place)))
    yield f"Down to {target}, {where}, on stickers since {answer.start}:"
    for line in answer.lines:
        yield from _told(line, units, target)
    if len(answer.lines) > 1:
        yield f"The whole stack, ready with its slowest line: {_between(answer.ready)}."
    key = answer.before_days.basis.key
    yield from paragraph(f"Days by a {MODEL.note}: {source(key)}")
    yield from paragraph(answer.air)
    yield from (caution.sentence for caution in cautions("stack", "straps"))


def _told(line: DryingLine, units: View, target: str) -> Iterator[str]:
    from waney.cli.ranges import moisture, weight
    from waney.papers.columns import paragraph

    yield f"  {line.line} ({line.count}): {_between(line.ready)}; {days(line.days)}"
    if line.moisture is not None:
        yield f"    before it was read: {days(line.before_days)}. At the last reading: {moisture(line.moisture)}"
    if line.dry_kg is not None:
        tag = weight(line.target_kg, units)
        yield f"    oven dry: {weight(line.dry_kg, units)}. On the tag, at {target}: {tag}"
        yield f"    losing, by the last two weights: {line.losing}"
    yield f"    most it is expected to lose: {line.losing_most}"
    if line.core_now:
        yield from paragraph(f"inside at the last reading: {line.core_now}", "    ")
    yield from paragraph(f"inside at the end: {line.core}", "    ")
    yield from paragraph(f"drying stress, a risk and no promise: {line.stress}", "    ")
    for remark in line.remarks:
        yield from paragraph(remark, "    ")


def _between(ready: tuple[str, str, str]) -> str:
    return f"{ready[0]} to {ready[2]}, likely about {ready[1]}"
