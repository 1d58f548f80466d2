"""waney heat-treat: minutes until the core of wet wood is hot enough, and the record that shows it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_kiln import CoreHeat, CoreShown

RECORD = (
    "names of the pieces, their wood, thickness and width, and how they were stacked",
    "temperature of the wood when it began",
    "a probe in the core of the thickest and coldest pieces, in a hole that fits it, sealed",
    "core, dry bulb and wet bulb, each with its time, until the core has been held",
    "who read them, with which instrument, and when it was last checked in ice or boiling water",
)
"""What a record of heat treatment holds: common practice, no source."""
NO_CERTIFICATE = "This is not a certificate. Who may mark wood as treated is for local rules; only a record of the core proves."
DRIES_FIRST = (
    "The wet bulb is no warmer than the core is to be: wet wood waits at the wet bulb until it has dried, which can check it. "
    "With the wet bulb above that it takes a part of this time."
)
FROZEN = "Frozen wood: melting the ice is not counted. Count from when the core is above freezing."


@answering
def heat_treat(
    name: Annotated[str | None, typer.Argument(metavar="[wood]", help="A wood by its common, botanical or other name.")] = None,
    thickness: Annotated[str | None, typer.Argument(help='Of the thickest piece: 8/4, "2 1/8 in", "54 mm".')] = None,
    width: Annotated[str | None, typer.Argument(help='Of the widest piece: "10 in", "250 mm".')] = None,
    dry_bulb: Annotated[str | None, typer.Option(help='Air of the kiln: "160 F", "71 C".')] = None,
    start: Annotated[str | None, typer.Option(help='Temperature of the wood as it goes in: "60 F", "5 C".')] = None,
    wet_bulb: Annotated[str | None, typer.Option(help='Its wet bulb: "150 F". Or --steam.')] = None,
    steam: Annotated[bool, typer.Option("--steam", help="Saturated air or steam: the wet bulb is the dry bulb.")] = False,
    mc: Annotated[str | None, typer.Option(help="Moisture in per cent; green when left out.")] = None,
    core: Annotated[str, typer.Option(help="What the core is to be at; 56 °C is the common rule.")] = "56 C",
    hold: Annotated[int, typer.Option(metavar="<minutes>", help="How long it is held there; 30 is the common rule.")] = 30,
    solid: Annotated[bool, typer.Option("--solid", help="Piled without stickers.")] = False,
    record: Annotated[
        Path | None,
        typer.Option(help="Instead of all this: a core record to be judged, CSV with minutes and core_c or core_f."),
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Minutes until the core of wet, stickered wood is at 56 °C (133 °F): likely, and the range to plan by.

    With --record: what a record of the core shows, minutes held and gaps. Not a certificate: only such a record
    shows that wood was treated, in a kiln or in vacuum.
    """
    from waney.cli.files import can_be_written
    from waney.cli.saying import say

    can_be_written(json)
    if record is not None:
        if any((name, thickness, width, dry_bulb, start, wet_bulb, steam, mc, solid)):
            raise WrittenWrong("A record is judged as it was read: write --record, and with it --core and --hold alone.")
        shown = _shown(record, core, hold, units)
        return say(shown, json, lambda: _record_lines(shown, units))
    if name is None or thickness is None or width is None or dry_bulb is None or start is None:
        raise WrittenWrong(
            "Say the wood, its thickness and width, --dry-bulb and --start; or --record with a core record. "
            "See: waney heat-treat --help"
        )
    if (wet_bulb is None) != steam:
        raise WrittenWrong('Write one of the two: --wet-bulb "150 F", or --steam. See: waney heat-treat --help')
    found = _found(name, thickness, width, dry_bulb, wet_bulb or dry_bulb, start, mc, core, hold, solid)
    say(found, json, lambda: _lines(found, units))


def _found(
    name: str,
    thickness: str,
    width: str,
    dry_bulb: str,
    wet_bulb: str,
    start: str,
    mc: str | None,
    core: str,
    hold: int,
    solid: bool,
) -> CoreHeat:
    from waney.cli.answers import ranged
    from waney.cli.answers_kiln import CoreHeat
    from waney.drying.heating import Bar, core_minutes, in_solid_pile
    from waney.drying.sawn import sawn_m
    from waney.units.length import parse_length
    from waney.units.moisture import parse_mc
    from waney.units.temperature import parse_temperature
    from waney.units.thickness import parse_thickness
    from waney.wood.species import species
    from waney.wood.traits import Trait
    from waney.wood.weight import green_moisture

    wood, dry, wet = species(name), parse_temperature(dry_bulb), parse_temperature(wet_bulb)
    moisture = green_moisture(wood).likely if mc is None else parse_mc(mc)
    gravity = wood.needed(Trait.SG_GREEN).likely
    bar = Bar(sawn_m(parse_thickness(thickness, None)), parse_length(width, None), gravity, moisture, parse_temperature(start))
    goal = parse_temperature(core)
    if wet > dry:
        raise WrittenWrong(f"A wet bulb of {wet_bulb} above a dry bulb of {dry_bulb} cannot be: look which is which.")
    if bar.start_c >= goal:
        raise WrittenWrong(f"Wood that goes in at {start} is at {core} already: look at --start and --core.")
    stickered = core_minutes(bar, dry, wet, goal)
    minutes = in_solid_pile(stickered) if solid else stickered
    return CoreHeat(
        wood.common, bar.thickness_m, bar.width_m, moisture, bar.start_c, dry, wet, goal, _held(hold), not solid,
        wet <= goal, ranged(minutes), minutes.high + hold, RECORD,
    )  # fmt: skip


def _shown(record: Path, core: str, hold: int, view: View) -> CoreShown:
    from waney.cli.answers_kiln import CoreGap, CoreShown
    from waney.cli.files import read_text
    from waney.drying.core_record import held, read_core_record
    from waney.units.temperature import Degree, parse_temperature

    degree = Degree.CELSIUS if view is View.MILLIMETRES else Degree.FAHRENHEIT
    readings = read_core_record(read_text(record).splitlines(), degree)
    found = held(readings, parse_temperature(core), _held(hold))
    gaps = tuple(CoreGap(one.from_min, one.to_min) for one in found.gaps)
    return CoreShown(
        found.core_c, hold, found.readings, found.read_min, found.hottest_c, found.longest_min, found.in_all_min,
        found.across_min, gaps, found.shown,
    )  # fmt: skip


def _held(hold: int) -> int:
    """Minutes that can be meant. Raises OutOfRange."""
    from waney.figures.problem import OutOfRange

    if not 0 <= hold <= 10_000:
        raise OutOfRange("Time held", hold, 0, 10_000, "min", "A record of heat treatment")
    return hold


def _record_lines(found: CoreShown, view: View) -> Iterator[str]:
    from waney.cli.ranges import degrees
    from waney.drying.core_record import CoreHeld, Gap
    from waney.papers.cautions import cautions
    from waney.papers.columns import headed, paragraph
    from waney.papers.core_words import core_said

    gaps = tuple(Gap(one.from_min, one.to_min) for one in found.gaps)
    told = (found.readings, found.hottest_c, found.longest_min, found.in_all_min, found.across_min, found.read_min, gaps)
    said = core_said(CoreHeld(found.core_c, found.held_min, *told), lambda celsius: degrees(celsius, view))
    rule = f"{degrees(found.core_c, view)} held for {found.held_min} minutes"
    yield f"{'Shown' if found.shown else 'Not shown'}: {rule}"
    yield from paragraph(f"{said[0].upper()}{said[1:]}.")
    yield from paragraph(NO_CERTIFICATE)
    yield from headed("The record it needs (common practice, no source)")
    yield from (line for words in RECORD for line in paragraph(f"- {words}"))
    yield from (caution.sentence for caution in cautions("kiln"))


def _lines(found: CoreHeat, view: View) -> Iterator[str]:
    from waney.cli.ranges import degrees
    from waney.cli.views import shop_of
    from waney.drying.heating import SOLID_SLOWER
    from waney.figures.sources import source
    from waney.papers.cautions import cautions
    from waney.papers.columns import headed, paragraph
    from waney.papers.ranges import spread
    from waney.units.moisture import print_mc

    shop = shop_of(view)
    size = f"{shop.read(found.thickness_m)} x {shop.read(found.width_m)}"
    yield f"{found.wood}, {size}, {print_mc(found.mc)}, goes in at {degrees(found.start_c, view)}"
    yield f"Air at {degrees(found.dry_c, view)}, wet bulb {degrees(found.wet_c, view)}"
    piled = "on stickers" if found.stickered else "without stickers"
    yield f"Core at {degrees(found.core_c, view)}, {piled}: {spread(found.minutes, _told_up_to(found.minutes.high))}"
    most = found.from_start_min
    yield f"Plan by the high end, and {found.held_min} minutes held: {_told_up_to(most)(most)} from the start"
    if found.dries_first:
        yield from paragraph(DRIES_FIRST)
    if found.start_c < 0.0:
        yield FROZEN
    yield from paragraph(NO_CERTIFICATE)
    if found.stickered:
        yield "Without stickers: {:g} to {:g} times as long. Write --solid.".format(*SOLID_SLOWER)
    yield from headed("The record it needs (common practice, no source)")
    yield from (line for words in found.record for line in paragraph(f"- {words}"))
    yield from headed("Sources")
    basis = found.minutes.basis
    yield from paragraph(f"{basis}: {source(basis.key)}" if basis.key else str(basis))
    yield from (caution.sentence for caution in cautions("kiln"))


def _told_up_to(most: float) -> Callable[[float], str]:
    """How minutes are told where the longest are so many: from three hours on in hours, all of them."""
    return (lambda minutes: f"{minutes:.0f} minutes") if most < 180.0 else (lambda minutes: f"{minutes / 60.0:.1f} hours")
