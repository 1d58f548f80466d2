"""The round readings, outlines and piths of a log sheet: tables [butt], [middle], [top] and [[section]]."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import pi

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Inside, PithReading, Point, RoundReading
from waney.logs.outline import BadOutline
from waney.logs.rounds import as_read
from waney.logs.trace import End, Picture, TracedEnd, scale_by_diameter, scale_by_distance, traced_end
from waney.units.sheet import Reader, Table
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, choice, list_of, number, shown

THINNEST_M, THICKEST_M = 0.03, 5.0
NO_POINTS: tuple[Point, ...] = ()
OVER = {
    "bark": Inside.BARK,
    "over bark": Inside.BARK,
    "outside bark": Inside.BARK,
    "wood": Inside.WOOD,
    "inside bark": Inside.WOOD,
    "under bark": Inside.WOOD,
}
_O_CLOCK = re.compile(r"(\d{1,2})(?::([0-5]\d))?(?: ?o'?clock)?")


@dataclass(frozen=True)
class Walk:
    """What all parts of one sheet share: how it counts, the log's length, and what was assumed where nothing was said."""

    measures: Measures
    length_m: float
    assumed: list[str]
    tried: list[str]
    """where a diameter, girth or outline was written, rightly or wrongly"""


def clock(value: object) -> float:
    """A clock position in hours, above 0 to 12: 3, 3.5, "3:30" or "3 o'clock"."""
    if isinstance(value, str):
        match = _O_CLOCK.fullmatch(value.strip().lower())
        value = int(match[1]) + int(match[2] or 0) / 60.0 if match else value
    if isinstance(value, str):
        raise NotThat(f'{shown(value)} is not a clock position; write 3, 3.5 or "3:30", as seen from the butt.')
    hours = number(0.0, 12.99)(value) % 12.0
    return hours or 12.0


def round_reading(table: Table, at_m: float, walk: Walk, usual: Inside | None) -> RoundReading | None:
    """The diameter(s) or girth of one place; None when neither is there.

    usual: what a diameter is taken over where the sheet does not say; None: over bark, as a girth always is.
    """
    m = walk.measures
    diameters = table.take("diameter", list_of(m.length_from(THINNEST_M, THICKEST_M))) or ()
    girth = table.take("girth", m.length_from(pi * THINNEST_M, pi * THICKEST_M))
    over = table.take("over", choice(OVER))
    first = table.take("clock", clock)
    error = table.take("error", m.length_from(0.0, 0.2))
    walk.tried.extend(table.dotted(key) for key in ("diameter", "girth") if table.has(key))
    if not diameters and girth is None:
        return None
    _check_round(table, diameters, girth)
    if over is None:
        over = Inside.BARK if girth is not None or usual is None else usual
        walk.assumed.append(f"{table.dotted('over')}: taken {over}")
    return RoundReading(at_m, over, diameters[:2], girth, 12.0 if first is None else first, (), error or 0.0)


def _check_round(table: Table, diameters: tuple[float, ...], girth: float | None) -> None:
    if diameters and girth is not None:
        table.note("girth", "a diameter stands here too; keep the one that was measured, or put the other in a [[section]].")
    if len(diameters) > 2:
        table.note("diameter", f"{len(diameters)} readings; write one, or two at right angles.")
    elif diameters and max(diameters) > 2.0 * min(diameters):
        table.note("diameter", "one reading is more than twice the other; look at both, and at their units.")


def sections(sheet: Table, walk: Walk) -> tuple[RoundReading, ...]:
    """Every [[section]]: its distance from the butt, and what was read there."""
    found = []
    for entry in sheet.entries("section"):
        at = entry.need("distance", within(walk), 0.0)
        reading = round_reading(entry, at, walk, None)
        if reading is None and not (entry.has("diameter") or entry.has("girth")):
            entry.note("", "a section needs a diameter or a girth.")
        if reading is not None:
            found.append(reading)
    return tuple(found)


def within(walk: Walk) -> Reader[float]:
    """A distance from the butt, not beyond the log."""
    return walk.measures.length_from(0.0, walk.length_m)


def piths(end: Table, at_m: float, walk: Walk, most_m: float) -> tuple[PithReading, ...]:
    """One or two piths of an end, each by its distance from the middle of the wood and a clock position."""
    entries = end.entries("pith")
    if len(entries) > 2:
        end.note("pith", "more than two piths; write the two that matter most.")
    return tuple(_pith(entry, at_m, walk, most_m, which) for which, entry in enumerate(entries[:2]))


def _pith(entry: Table, at_m: float, walk: Walk, most_m: float, which: int) -> PithReading:
    distance = entry.need("from_middle", walk.measures.length_from(0.0, most_m), 0.0)
    towards = entry.take("clock", clock)
    if towards is None and distance > 0.0 and not entry.has("clock"):
        entry.note("from_middle", "a pith off the middle needs its clock position too.")
    return PithReading(at_m, clock_to_xy(12.0 if towards is None else towards, distance), which)


@dataclass(frozen=True)
class Outlined:
    """A traced end, and what its outline runs round."""

    end: TracedEnd
    over: Inside


def outline(table: Table, which: End, walk: Walk, read: RoundReading | None) -> Outlined | None:
    """The table [butt.outline] or [top.outline]; None when it is wrong, which is noted.

    points, pith: as they lie in the picture, x to the right and y down; scale: two points and the length between them, or none
    where the end's diameter was read too; up: the clock position, always the butt's, that is up in the picture.
    """
    walk.tried.append(table.dotted("points"))
    points = table.need("points", list_of(_point), NO_POINTS)
    scale = table.inside("scale")
    up = table.take("up", clock)
    seen = table.take("pith", _points) or ()
    over = table.take("over", choice(OVER)) or (read.over if read else Inside.WOOD)
    if scale is None and read is None and not table.has("scale"):
        table.note("scale", "this is needed: { from = [x, y], to = [x, y], length = ... }, or the diameter of this end.")
    if not points:
        return None
    try:
        size = _scale(scale, walk) if scale else scale_by_diameter(points, as_read(read) if read else 1.0)
        found = traced_end(Picture(which, size, 12.0 if up is None else up), points, seen)
    except BadOutline as problem:
        table.note("points", str(problem))
        return None
    if not THINNEST_M <= found.diameter_m <= THICKEST_M:
        table.note("points", f"the outline comes out {found.diameter_m:.3f} m across; look at the scale and its unit.")
    return Outlined(found, over)


def _scale(table: Table, walk: Walk) -> float:
    """Metres for one step of the picture. Raises BadOutline when both points are the same."""
    start, end = table.need("from", _point, (0.0, 0.0)), table.need("to", _point, (1.0, 0.0))
    return scale_by_distance(start, end, table.need("length", walk.measures.length_from(0.01, THICKEST_M), 1.0))


def _point(value: object) -> Point:
    if not isinstance(value, list) or len(value) != 2:
        raise NotThat(f"{shown(value)} is not a point; write [x, y].")
    x, y = (number(-1e6, 1e6)(each) for each in value)
    return x, y


def _points(value: object) -> tuple[Point, ...]:
    """One point, or a list of one or two."""
    if isinstance(value, list) and value and not isinstance(value[0], list):
        return (_point(value),)
    points = list_of(_point)(value)
    if len(points) > 2:
        raise NotThat(f"{len(points)} points; mark one pith, or two.")
    return points
