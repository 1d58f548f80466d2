"""Kilns sheet: one kiln or several, as a person types them (TOML, `waney-kilns/1`); someone else's kilns too."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from waney.drying.air import AirState
from waney.drying.chamber_sheet import sun_read
from waney.drying.kiln import AIR_SPEED
from waney.drying.kiln_sheet import BadKiln, Heat, KilnSheet
from waney.drying.sun_kiln import SunKiln
from waney.drying.vacuum import Cycle, Plates, Radio
from waney.figures.problem import Problem
from waney.units.duration import HOUR
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, text
from waney.wood.climate import station
from waney.wood.vapour import humidity_of_bulbs

Heated = TypeVar("Heated", Plates, Radio)
FORMAT = "waney-kilns/1"
HEATS = {"air": Heat.AIR, "plates": Heat.PLATES, "cycles": Heat.CYCLES, "radio": Heat.RADIO, "sun": Heat.SUN}
PLAIN = KilnSheet("", 1.0, 1.0, 1.0, 1.0)
"""What stands in for what the sheet leaves blank."""
MOST_HOURS = 240.0
MOST_SPEED = 10.0
"""of air in a kiln [m/s]"""
READ_IN_SUN = ("day_inside", "day_outside", "night_inside", "night_outside", "day_humidity", "air_speed")
"""What may be read in a chamber that the sun warms; one of them needs the thermometers' four."""


def read_kilns(content: str) -> tuple[KilnSheet, ...]:
    """The kilns of a sheet, each with a name of its own. Raises SheetProblems with all that is wrong, each with its line."""
    sheet = open_sheet(content, FORMAT)
    measures = Measures.of(sheet)
    entries = sheet.entries("kiln")
    if not entries:
        sheet.note("kiln", "write one [[kiln]] or more, each with its name, its room inside and what it bears.")
    kilns: dict[str, KilnSheet] = {}
    for table in entries:
        kiln = _kiln(table, measures)
        if kiln is not None and kiln.name in kilns:
            table.note("name", "another kiln above has this name.")
        elif kiln is not None:
            kilns[kiln.name] = kiln
    sheet.check()
    return tuple(kilns.values())


def kiln_named(kilns: tuple[KilnSheet, ...], name: str) -> KilnSheet:
    """The kiln of that name, or the only one where no name is given. Raises BadKiln."""
    if not name and len(kilns) == 1:
        return kilns[0]
    found = next((kiln for kiln in kilns if kiln.name == name), None)
    if found is None:
        said = f'No kiln of the sheet is called "{name[:60]}"' if name else "The sheet has several kilns"
        raise BadKiln(f"{said}; name one of these: {', '.join(kiln.name for kiln in kilns)}.")
    return found


def _kiln(table: Table, measures: Measures) -> KilnSheet | None:
    name = table.need("name", text, "")
    length, width, height = (table.need(key, measures.length, 1.0) for key in ("length", "width", "height"))
    bears = table.need("bears", measures.mass, 1.0)
    heat = table.take("heat", choice(HEATS)) or Heat.AIR
    plates, radio = _in_vacuum(table, "plates", measures, Plates), _in_vacuum(table, "radio", measures, Radio)
    cycle, sun = _cycle(table, measures), _sun(table, measures, heat)
    within, sticker, bearing = (table.take(key, measures.length) for key in ("within", "sticker", "bearing"))
    hottest = table.take("hottest", measures.temperature)
    whose, fee = table.take("whose", text) or "", table.take("fee", text) or ""
    if not name:
        return None
    try:
        return KilnSheet(
            name, length, width, height, bears, heat, plates, cycle,
            PLAIN.within_m if within is None else within, sticker or PLAIN.sticker_m, bearing or PLAIN.bearing_m,
            hottest, whose, fee, radio, sun,
        )  # fmt: skip
    except Problem as problem:
        table.note("", str(problem))
        return None


def _in_vacuum(table: Table, key: str, measures: Measures, made: Callable[[float, float, float], Heated]) -> Heated | None:
    """Plates or radio: how warm, at which pressure, with how much air."""
    given = table.inside(key)
    if given is None:
        return None
    at = given.need("at", measures.temperature, 60.0)
    pressure = given.need("pressure", measures.pressure, 7000.0)
    air = given.take("air", measures.percent) or 0.0
    try:
        return made(at, pressure, air)
    except Problem as problem:
        given.note("pressure", str(problem))
        return None


def _sun(table: Table, measures: Measures, heat: Heat) -> SunKiln | None:
    """What was read in a chamber that the sun warms, and where it stands: both may be left out."""
    given = table.inside("sun")
    if given is None:
        return SunKiln() if heat is Heat.SUN else None
    there = given.has("state") or given.has("place")
    state, place = (given.need(key, text, "") for key in ("state", "place")) if there else ("", "")
    try:
        climate = station(state, place) if state and place else None
    except Problem as problem:
        given.note("place", str(problem))
        return None
    try:
        return SunKiln(sun_read(given, measures) if any(map(given.has, READ_IN_SUN)) else None, climate)
    except Problem as problem:
        given.note("day_inside", str(problem))
        return None


def _cycle(table: Table, measures: Measures) -> Cycle | None:
    given = table.inside("cycle")
    if given is None:
        return None
    dry, wet = (given.need(key, measures.temperature, 50.0) for key in ("dry_bulb", "wet_bulb"))
    warm, vacuum = (given.need(key, measures.duration(HOUR, 0.1, MOST_HOURS), 1.0) for key in ("warming_hours", "vacuum_hours"))
    pressure = given.need("pressure", measures.pressure, 7000.0)
    speed = given.take("speed", measures.speed(MOST_SPEED))
    try:
        air = AirState(dry, humidity_of_bulbs(dry, wet), AIR_SPEED if speed is None else speed)
    except Problem as problem:
        given.note("wet_bulb", str(problem))
        return None
    return Cycle(air, warm, pressure, vacuum)
