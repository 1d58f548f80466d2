"""The round readings, outlines and piths of a log sheet: tables [butt], [middle], [top] and [[section]]."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import hypot, pi

import numpy as np

from waney.logs.frames import butt_view, clock_to_xy, top_view
from waney.logs.measured import Inside, PithReading, Point, RoundReading
from waney.logs.outline import BadOutline, centroid, size_of, traced
from waney.units.sheet import Reader, Table
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, choice, list_of, number, shown

THINNEST_M, THICKEST_M = 0.03, 5.0
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
class Traced:
    """An end that was traced on a picture: its outline and the piths marked on it."""

    reading: RoundReading
    piths: tuple[PithReading, ...]


def traced_end(end: Table, at_m: float, walk: Walk) -> Traced | None:
    """The table [butt.outline] or [top.outline]; None when there is none or it is wrong, which is noted.

    points, pith: as they lie in the picture, x to the right and y down; scale: two points and the length between them;
    up: the clock position, always the butt's, that is up in the picture.
    """
    table = end.inside("outline")
    if table is None:
        return None
    walk.tried.append(table.dotted("points"))
    if not table.has("points"):
        table.note("points", "this is needed: the outline, point by point round the end, as [[x, y], [x, y], ...].")
    if not table.has("scale"):
        table.note("scale", "this is needed: two points and the length between, { from = [x, y], to = [x, y], length = ... }.")
    points = table.take("points", list_of(_point)) or ()
    scale = table.inside("scale")
    size = _scale(scale, walk) if scale else None
    over = table.take("over", choice(OVER)) or Inside.WOOD
    up = table.take("up", clock)
    seen = table.take("pith", _points) or ()
    if size is None or not points:
        return None
    return _placed(table, at_m, over, 12.0 if up is None else up, size, points, seen)


def _placed(
    table: Table, at_m: float, over: Inside, up_h: float, size: float, points: tuple[Point, ...], seen: tuple[Point, ...]
) -> Traced | None:
    outline = tuple(_to_log(point, at_m, up_h, size) for point in points)
    try:
        across = size_of(traced(outline))
    except BadOutline as problem:
        table.note("points", str(problem))
        return None
    if not THINNEST_M <= across <= THICKEST_M:
        table.note("scale", f"the outline comes out {across:.3f} m across; look at the scale and its unit.")
        return None
    middle = [float(c) for c in centroid(np.array(outline))]
    marks = (_to_log(point, at_m, up_h, size) for point in seen)
    found = tuple(PithReading(at_m, (x - middle[0], y - middle[1]), which) for which, (x, y) in enumerate(marks))
    return Traced(RoundReading(at_m, over, trace_m=outline), found)


def _to_log(point: Point, at_m: float, up_h: float, size: float) -> Point:
    """From a picture of an end (x right, y down) to the log frame; each view is its own inverse."""
    view = butt_view if at_m == 0.0 else top_view
    x, y = view(size * point[0], -size * point[1])
    up_x, up_y = clock_to_xy(up_h, 1.0)
    return x * up_y + y * up_x, y * up_y - x * up_x


def _scale(table: Table, walk: Walk) -> float | None:
    """Metres for one step of the picture; None when wrong."""
    start, end = table.need("from", _point, (0.0, 0.0)), table.need("to", _point, (1.0, 0.0))
    length = table.need("length", walk.measures.length_from(0.01, THICKEST_M), 1.0)
    apart = hypot(end[0] - start[0], end[1] - start[1])
    if apart > 0.0:
        return length / apart
    table.note("to", "both points of the scale are the same.")
    return None


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
