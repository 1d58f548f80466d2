"""Load sheet: lots that ask for a kiln, as a person types them (TOML, `waney-load/1`)."""

from __future__ import annotations

from dataclasses import dataclass, replace

from waney.drying.lot import Lot, mass_of
from waney.drying.meter import Meter
from waney.drying.meter_sheet import NOT_TYPED, MeterSheet
from waney.drying.moisture_told import metered
from waney.drying.pile_parts import PilePiece
from waney.drying.plate_touch import PlateTouch
from waney.drying.sawn import sawn_m
from waney.drying.sides_told import sides_told
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, low_to_high, text, whole, yes_no
from waney.wood.species import Species, species

FORMAT = "waney-load/1"
METERS = {"pins": Meter.PINS, "plate": Meter.PLATE}
TARGET = 0.08
NOT_SAID_HOW = 0.1
"""What is doubted of a moisture that stands there with neither a range nor a meter, share of it: ours, a choice."""
TYPED = Basis(Ground.READING, "what the sheet says")
AS_TYPED = Basis(Ground.READING, "one figure, not said how it was found: a tenth either way")
MOST_ALIKE = 2000
BARK = {"on": True, "off": False}
MOST_CUP_M = 0.1
"""A slip of the pen beyond it [m]: ours, a choice."""


@dataclass(frozen=True)
class _Size:
    """A size of a piece and how many there are of it; kg: weighed, None: from its wood and moisture; touch: of each of them."""

    name: str
    length_m: float
    width_m: float
    count: int
    kg: float | None
    touch: PlateTouch


def read_load_sheet(content: str, meter: MeterSheet = NOT_TYPED) -> tuple[Lot, ...]:
    """The lots of a sheet; meter: what their moistures were read with. Raises SheetProblems with all that is wrong in
    it, each with its line."""
    sheet = open_sheet(content, FORMAT)
    measures = Measures.of(sheet)
    target = sheet.take("target", measures.mc) or TARGET
    entries = sheet.entries("lot")
    if not entries:
        sheet.note("lot", "a load needs one [[lot]] or more, each with its species, thickness, moisture and pieces.")
    lots = [_lot(table, at, measures, target, meter) for at, table in enumerate(entries)]
    sheet.check()
    return tuple(lot for lot in lots if lot)


def _lot(table: Table, at: int, measures: Measures, usual: float, meter: MeterSheet) -> Lot | None:
    wood = table.need("species", lambda value: species(text(value)), None)
    green = table.need("thickness", lambda value: sawn_m(measures.thickness(value)), None)
    name, owner = table.take("name", text) or "", table.take("owner", text) or ""
    start, said = _start(table, measures, wood, meter)
    target, sapwood = table.take("target", measures.mc) or usual, table.take("sapwood", yes_no) or False
    code, sides = table.take("schedule", text), sides_told(table, None, None)
    usual_touch = _touch(table, measures, PlateTouch("", bark_on=not sides.edges_open))
    sizes = _sizes(table, measures, usual_touch)
    if not sides.edges_open and not usual_touch.bark_on:
        table.note("bark", 'bark = "off" does not go with edges = "bark": leave one of them out.')
    if wood is None or green is None or start is None or not sizes:
        return None
    called = name or f"{at + 1}. {wood.common}"
    try:
        pieces, touch = _pieces(called, wood, green, start, sizes)
        edges_open = sides.edges_open and (table.has("edges") or not any(one.bark_on for one in touch))
        rest = (sapwood, code or None, owner, edges_open, sides.ends_open, said, touch)
        lot = Lot(called, wood, green, start, target, pieces, *rest)
        if lot.code:
            _ = lot.plan  # a code that nobody knows is told here, with its line
        return lot
    except Problem as problem:
        table.note("", str(problem))
        return None


def _start(table: Table, measures: Measures, wood: Species | None, sheet: MeterSheet) -> tuple[Estimate | None, tuple[str, ...]]:
    """Moisture now: a range as typed, one figure by a meter, or one figure of which nobody said how it was found; what is to be
    minded of it."""
    ends = table.need("moisture", low_to_high(measures.mc), None)
    meter = table.take("meter", choice(METERS))
    wood_c = table.take("wood_at", measures.temperature)
    if ends is None or wood is None:
        return None, ()
    low, high = ends
    if low < high:
        return Estimate(0.5 * (low + high), low, high, TYPED, 0.0), ()
    if meter is None:
        return Estimate(low, (1.0 - NOT_SAID_HOW) * low, (1.0 + NOT_SAID_HOW) * low, AS_TYPED, 0.0), ()
    try:
        found = metered(meter, low, wood_c, wood, sheet)
        return found.mc, (found.said,) if found.said else ()
    except Problem as problem:
        table.note("moisture", str(problem))
        return None, ()


def _touch(table: Table, measures: Measures, usual: PlateTouch) -> PlateTouch:
    """Cup and bark as they stand there; left blank, as usual."""
    cup, bark = table.take("cup", measures.length_from(0.0, MOST_CUP_M)), table.take("bark", choice(BARK))
    return PlateTouch("", usual.cup_m if cup is None else cup, usual.bark_on if bark is None else bark)


def _sizes(table: Table, measures: Measures, touch: PlateTouch) -> tuple[_Size, ...]:
    """Pieces alike in the lot's own fields, or of several sizes under [[lot.piece]]."""
    several = table.entries("piece")
    if not several:
        return (_size(table, measures, "", touch),)
    for key in ("length", "width", "count", "weight"):
        if table.has(key):
            table.note(key, "sizes stand here or under [[lot.piece]], not in both.")
    return tuple(_size(one, measures, one.take("name", text) or "", _touch(one, measures, touch)) for one in several)


def _size(table: Table, measures: Measures, name: str, touch: PlateTouch) -> _Size:
    length, width = (table.need(key, measures.length_from(0.01, 20.0), 1.0) for key in ("length", "width"))
    count = table.take("count", whole(1, MOST_ALIKE)) or 1
    return _Size(name, length, width, count, table.take("weight", measures.mass), touch)


def _pieces(
    lot: str, wood: Species, green_m: float, start: Estimate, sizes: tuple[_Size, ...]
) -> tuple[tuple[PilePiece, ...], tuple[PlateTouch, ...]]:
    """The pieces by name, and those of them that a plate minds."""
    made: list[PilePiece] = []
    touch: list[PlateTouch] = []
    for size in sizes:
        kg = Estimate.known(size.kg, TYPED) if size.kg else mass_of(wood, size.length_m * size.width_m * green_m, start)
        for nth in range(1, size.count + 1):
            name = (size.name if size.count == 1 else f"{size.name} {nth}") if size.name else f"{lot} {len(made) + 1}"
            made.append(PilePiece(name, size.length_m, size.width_m, green_m, kg))
            touch.append(replace(size.touch, piece=name))
    return tuple(made), tuple(one for one in touch if one.told)
