"""Stack sheet: where a stack stands, since when, its lines of pieces, and what was read of one piece of each."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from waney.drying.chamber import Dehumidified, SunChamber
from waney.drying.chamber_sheet import held_read, sun_read
from waney.drying.dry_weight import AIR_DRY
from waney.drying.evidence import MoistureRead, WeightRead, of_meter
from waney.drying.meter import Meter, MeterReading
from waney.drying.meter_sheet import NOT_TYPED, MeterSheet
from waney.drying.moisture_told import metered
from waney.drying.outdoors import PACKAGE, Exposure, Passage
from waney.drying.sample_board import SampleBoard, Section
from waney.drying.sawn import sawn_m
from waney.drying.sides_told import sides_told
from waney.drying.stack import Line, Stack
from waney.drying.weighing import WeighingScale, weighed
from waney.figures.problem import Problem
from waney.units.mass import POUND
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, day, list_of, text, whole
from waney.wood.climate import Climate, HourlyYear, station
from waney.wood.species import Species, species

FORMAT = "waney-stack/1"
EXPOSURES = {
    "open": Exposure.OPEN,
    "roof": Exposure.ROOF,
    "fan": Exposure.FAN,
    "sun": Exposure.SUN,
    "dehumidifier": Exposure.DEHUMIDIFIER,
}
METERS = {"pins": Meter.PINS, "plate": Meter.PLATE}
NONE: tuple[float, ...] = ()
MARK_KG = {True: POUND.in_si(0.1), False: 0.05}
"""Between two marks where the sheet does not say, by whether it is in inches: 0.1 lb, 50 g."""


def read_stack_sheet(content: str, own: tuple[Climate, HourlyYear | None] | None = None, meter: MeterSheet = NOT_TYPED) -> Stack:
    """The stack of a sheet; own: somebody's own weather, in place of that of the sheet's place; meter: what the moistures were
    read with. Raises SheetProblems with all that is wrong in it, each with its line."""
    sheet = open_sheet(content, FORMAT)
    measures = Measures.of(sheet)
    start = sheet.need("start", day, date(2000, 1, 1))
    exposure = sheet.take("exposure", choice(EXPOSURES)) or Exposure.OPEN
    there = _climate(sheet, needed=own is None and exposure is not Exposure.DEHUMIDIFIER)
    climate, hours = own or (there, None)
    chamber = _chamber(sheet, measures, exposure)
    target = sheet.take("target", measures.mc) or AIR_DRY
    passage = _passage(sheet, measures)
    mark = sheet.take("mark", measures.mass) or MARK_KG[measures.imperial]
    scale = WeighingScale(mark)
    lines = tuple(_line(table, at, measures, scale, meter) for at, table in enumerate(sheet.entries("piece")))
    if not lines:
        sheet.note("piece", "a stack needs one [[piece]] or more, each with its species, thickness and count.")
    sheet.check()
    return Stack(climate, start, exposure, target, tuple(line for line in lines if line), mark, chamber, hours, passage=passage)


def _passage(sheet: Table, measures: Measures) -> Passage:
    """What the air goes through: width of the stack, thickness of its stickers."""
    wide = sheet.take("pile_width", lambda value: replace(PACKAGE, wide_m=measures.length(value)))
    return sheet.take("sticker", lambda value: replace(wide or PACKAGE, sticker_m=measures.length(value))) or wide or PACKAGE


def _climate(sheet: Table, *, needed: bool) -> Climate | None:
    """Of the place that the sheet names, if it must name one."""
    if needed:
        state, place = sheet.need("state", text, ""), sheet.need("place", text, "")
    else:
        state, place = sheet.take("state", text) or "", sheet.take("place", text) or ""
    try:
        return station(state, place) if state and place else None
    except Problem as problem:
        sheet.note("place", str(problem))
        return None


def _chamber(sheet: Table, measures: Measures, exposure: Exposure) -> SunChamber | Dehumidified | None:
    """What was read in a chamber: of one that the sun warms as it is told, of one with a dehumidifier always."""
    given = sheet.inside("chamber")
    if exposure not in (Exposure.SUN, Exposure.DEHUMIDIFIER):
        if given is not None:
            sheet.note("chamber", f'a stack {exposure} stands in no chamber; leave it out, or write exposure = "sun".')
        return None
    if given is None:
        if exposure is Exposure.DEHUMIDIFIER:
            sheet.note("chamber", f"a stack {exposure} needs [chamber] with inside and humidity as they are read there.")
        return None
    try:
        return (sun_read if exposure is Exposure.SUN else held_read)(given, measures)
    except Problem as problem:
        sheet.note("chamber", str(problem))
        return None


def _line(table: Table, at: int, measures: Measures, scale: WeighingScale, meter: MeterSheet) -> Line | None:
    wood = table.need("species", lambda value: species(text(value)), None)
    green = table.need("thickness", lambda value: sawn_m(measures.thickness(value)), None)
    count = table.take("count", whole(1, 100_000)) or 1
    length, width = table.take("length", measures.length), table.take("width", measures.length)
    name, sides = table.take("name", text) or "", sides_told(table, width, length)
    board = _board(table, measures, scale)
    weights = [_weight(one, measures, scale) for one in table.entries("weight")]
    moistures = [_moisture(one, measures, wood, meter) for one in table.entries("moisture")]
    if wood is None or green is None:
        return None
    volume = green * length * width if length and width else None
    told = [one for one in moistures if one is not None]
    read: list[tuple[date, WeightRead | MoistureRead]] = [one for one in weights if one is not None]
    read += [(when, of_meter(one)) for when, one in told]
    said = tuple(one.said for _, one in told if one.said)
    return Line(name or f"{at + 1}. {wood.common}", wood, green, count, tuple(read), board, volume, sides, said)


def _board(table: Table, measures: Measures, scale: WeighingScale) -> SampleBoard | None:
    """The two sections and the board's weight when they were cut."""
    given = table.inside("sections")
    if given is None:
        return None
    wet, dry = (given.need(key, list_of(measures.mass), NONE) for key in ("wet", "dry"))
    first = given.need("board", measures.mass, 0.0)
    if not first or len(wet) != len(dry) or not wet:
        given.note("wet", "as many wet weights as oven-dry ones are needed, and the board's own weight.")
        return None
    try:
        return SampleBoard(weighed([first], scale), tuple(Section(*pair) for pair in zip(wet, dry, strict=True)))
    except Problem as problem:
        given.note("wet", str(problem))
        return None


def _weight(table: Table, measures: Measures, scale: WeighingScale) -> tuple[date, WeightRead] | None:
    """One weight, or two, one end after the other."""
    when = table.need("day", day, date(2000, 1, 1))
    ends = table.need("reads", lambda value: list_of(measures.mass)(value if isinstance(value, list) else [value]), NONE)
    tare = table.take("tare", measures.mass) or 0.0
    try:
        found = weighed(ends, scale, tare_kg=tare) if ends else None
    except Problem as problem:
        table.note("reads", str(problem))
        return None
    return None if found is None else (when, WeightRead(0.0, found.kg, found.error_kg))


def _moisture(table: Table, measures: Measures, wood: Species | None, sheet: MeterSheet) -> tuple[date, MeterReading] | None:
    """A meter's reading."""
    when = table.need("day", day, date(2000, 1, 1))
    reading = table.need("reads", measures.mc, None)
    meter = table.take("meter", choice(METERS)) or Meter.PINS
    warmth = table.take("wood_at", measures.temperature)
    if wood is None or reading is None:
        return None
    try:
        return when, metered(meter, reading, warmth, wood, sheet)
    except Problem as problem:
        table.note("reads", str(problem))
        return None
