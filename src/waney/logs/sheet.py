"""Log sheet: what somebody typed about a log (TOML, `waney-log/1`) becomes a MeasuredLog. Fields stand in the order one walks.

format, units, comma, currency; name, species, felled, place, paid, notes; length, butt_log
[butt]      diameter (one or two at right angles) or girth, over, clock, error; [butt.outline] traced on a picture;
            [[butt.pith]] one or two; [[butt.hollow]], rot, stain
[bark]      thickness, per_cent of the wood's volume, or debarked
[middle]    diameter or girth half way
[[section]] the same at any distance from the butt
[sweep] and [[crook]]  depth and clock, a crook its distance too;  [crotch] from
[[metal]], rot, hollow, stain, knot, split: distance, clock, depth, across, to, sure or chance, note
[top]       as [butt]
[trimmed]   butt, top: cut off the ends since;  [[flat]] clock, from_pith, past_pith or thickness, at_top; or halved, kerf
[scan]      a scanned cloud or mesh in a file beside the sheet
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from itertools import pairwise
from math import dist

from waney.logs.measured import BarkReading, BendReading, Hidden, HiddenReading, Inside, MeasuredLog, PithReading, RoundReading
from waney.logs.rounds import AT_AN_END_M, as_read
from waney.logs.scan import Point3, Pose, off_the_line
from waney.logs.sheet_flats import flats, trimmed
from waney.logs.sheet_hidden import crotch, hidden_along, hidden_on_end
from waney.logs.sheet_rounds import OVER, THICKEST_M, Walk, clock, outline, piths, round_reading, sections, within
from waney.logs.trace import End
from waney.units.length import LengthUnit, parse_length, parse_length_unit
from waney.units.number import Comma
from waney.units.sheet import Reader, Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, choice, day, number, shown, text, yes_no
from waney.wood.species import species

FORMAT = "waney-log/1"
SHORTEST_M, LONGEST_M = 0.2, 30.0
NOT_KNOWN = ("", "unknown", "not known", "?")


@dataclass(frozen=True)
class ScanPart:
    """[scan]: a file beside the sheet and how the log lies in it; points in metres, in the scan's own frame."""

    file: str
    unit_m: float
    """metres for one unit of the file"""
    pose: Pose
    over: Inside


@dataclass(frozen=True)
class LogSheet:
    """A log as it was typed in, its currency ("" when the sheet names none), what was assumed, and what looks odd."""

    log: MeasuredLog
    currency: str
    assumed: tuple[str, ...]
    remarks: tuple[str, ...]
    scan: ScanPart | None = None


def read_log_sheet(text: str, comma: Comma = Comma.ASK) -> MeasuredLog:
    """The log of a sheet; `comma` is the shop's setting. Raises SheetProblems with everything that is wrong."""
    return log_sheet(text, comma).log


def log_sheet(text: str, comma: Comma = Comma.ASK) -> LogSheet:
    """The whole sheet. Raises SheetProblems with everything that is wrong, each with its line."""
    sheet = open_sheet(text, FORMAT)
    measures = Measures.of(sheet, comma)
    scan = _scan(sheet)
    length = _length(sheet, measures, scan)
    walk = Walk(measures, length, [], [])
    log = _log(sheet, walk, scan, hashlib.sha256(text.encode()).hexdigest())
    sheet.check()
    return LogSheet(log, measures.currency, tuple(walk.assumed), _remarks(log), scan)


def _length(sheet: Table, m: Measures, scan: ScanPart | None) -> float:
    read = m.length_from(SHORTEST_M, LONGEST_M)
    if scan is None:
        return sheet.need("length", read, LONGEST_M)
    return sheet.take("length", read) or dist(scan.pose.butt_m, scan.pose.top_m)


def _log(sheet: Table, walk: Walk, scan: ScanPart | None, sha256: str) -> MeasuredLog:
    """In the order one walks; the order of the calls is the order in which assumptions are listed."""
    name = sheet.take("name", text) or ""
    wood = sheet.need("species", _species, "")
    felled, place, notes = sheet.take("felled", day), sheet.take("place", text), sheet.take("notes", text)
    paid, butt_log = sheet.take("paid", _paid(walk.measures)), sheet.take("butt_log", yes_no)
    butt, bark = _end(sheet, End.BUTT, 0.0, walk), _bark(sheet, walk)
    middle, along = _middle(sheet, walk), sections(sheet, walk)
    bends, inside = _bends(sheet, walk), hidden_along(sheet, walk)
    top = _end(sheet, End.TOP, walk.length_m, walk)
    rounds = _ordered(sheet, (*butt.rounds, *middle, *along, *top.rounds))
    if not rounds and scan is None and not walk.tried:
        sheet.note("", "no diameter or girth stands anywhere; write one, as in [top] and diameter = 18 below it.")
    fork = crotch(sheet, walk, max((as_read(r) for r in rounds), default=0.5))
    return MeasuredLog(
        name=name,
        species=wood,
        length_m=walk.length_m,
        rounds=rounds,
        piths=(*butt.piths, *top.piths),
        bark=bark,
        bends=bends,
        hidden=(*butt.hidden, *fork, *inside, *top.hidden),
        butt_log=butt_log,
        felled_on=felled,
        place=place or "",
        paid_cents=paid,
        notes=notes or "",
        flats=flats(sheet, walk),
        trimmed=trimmed(sheet, walk),
        sheet_sha256=sha256,
    )


@dataclass(frozen=True)
class _End:
    rounds: tuple[RoundReading, ...] = ()
    piths: tuple[PithReading, ...] = ()
    hidden: tuple[HiddenReading, ...] = ()


def _end(sheet: Table, end: End, at_m: float, walk: Walk) -> _End:
    table = sheet.inside(end.value)
    if table is None:
        return _End()
    reading = round_reading(table, at_m, walk, Inside.WOOD)
    picture = table.inside("outline")
    traced = outline(picture, end, walk, reading) if picture else None
    if traced is not None:
        reading = traced.end.reading(at_m, traced.over)
    most = 0.5 * max(reading.diameters_m or (as_read(reading),)) if reading else 0.5 * THICKEST_M
    seen, marked = piths(table, at_m, walk, most), traced.end.pith_readings(at_m) if traced else ()
    if seen and marked:
        table.note("pith", "the outline marks the pith too; keep one of the two.")
    return _End((reading,) if reading else (), seen or marked, hidden_on_end(table, at_m, walk))


def _bark(sheet: Table, walk: Walk) -> BarkReading | None:
    table = sheet.inside("bark")
    if table is None:
        return None
    thickness = table.take("thickness", walk.measures.length_from(0.0, 0.15))
    share = table.take("per_cent", walk.measures.percent)
    none_left = table.take("debarked", yes_no) or False
    if (thickness is not None) + (share is not None) + none_left > 1:
        table.note("", "write one of thickness, per_cent and debarked.")
    return BarkReading(thickness, share, none_left)


def _middle(sheet: Table, walk: Walk) -> tuple[RoundReading, ...]:
    table = sheet.inside("middle")
    reading = round_reading(table, 0.5 * walk.length_m, walk, None) if table else None
    return (reading,) if reading else ()


def _bends(sheet: Table, walk: Walk) -> tuple[BendReading, ...]:
    sweep = sheet.inside("sweep")
    sweeps = (_bend(sweep, None, walk),) if sweep else ()
    crooks = (_bend(entry, entry.need("distance", within(walk), 0.5), walk) for entry in sheet.entries("crook"))
    return (*sweeps, *crooks)


def _bend(table: Table, at_m: float | None, walk: Walk) -> BendReading:
    if at_m is not None and not 0.0 < at_m < walk.length_m:
        table.note("distance", "a crook lies between the two ends.")
    depth = table.need("depth", walk.measures.length_from(0.0, 0.25 * walk.length_m), 0.0)
    return BendReading(depth, table.need("clock", clock, 12.0), at_m)


def _ordered(sheet: Table, rounds: tuple[RoundReading, ...]) -> tuple[RoundReading, ...]:
    ordered = tuple(sorted(rounds, key=lambda r: (r.at_m, r.over)))
    for a, b in pairwise(ordered):
        if b.at_m - a.at_m < AT_AN_END_M and a.over is b.over:
            places = f"{a.at_m:.3f} and {b.at_m:.3f} m from the butt"
            sheet.note("section", f"two readings {a.over} stand {places}, as good as at one place; keep one.")
    return ordered


def _species(value: object) -> str:
    name = text(value)
    return "" if name.lower() in NOT_KNOWN else species(name).id


def _paid(m: Measures) -> Reader[int]:
    def read(value: object) -> int:
        cents = m.rate(value)
        if cents != round(cents):
            raise NotThat(f"{shown(value)} holds a part of a cent; write whole cents, for instance 12.50.")
        return round(cents)

    return read


def _scan(sheet: Table) -> ScanPart | None:
    table = sheet.inside("scan")
    if table is None:
        return None
    unit = parse_length("1", table.take("unit", _unit) or LengthUnit.METRE)
    point = _point3(unit)
    butt, top = table.need("butt", point, (0.0, 0.0, 0.0)), table.need("top", point, (0.0, 0.0, 1.0))
    pose = Pose(
        butt_m=butt,
        top_m=top,
        mark=off_the_line(butt, top, table.need("mark", point, (0.0, 1.0, 0.0))),
        mark_clock_h=table.take("mark_clock", clock) or 12.0,
        reach_m=_times(table.take("reach", number(1e-6, 1e6)), unit),
    )
    if not any(pose.mark):
        table.note("mark", "this point lies on the line between both ends; name a point on the outside of the log.")
    if not SHORTEST_M <= dist(pose.butt_m, pose.top_m) <= LONGEST_M:
        table.note("top", "butt and top lie too near together or too far apart; look at the points and at `unit`.")
    return ScanPart(table.need("file", _file, ""), unit, pose, table.take("over", choice(OVER)) or Inside.BARK)


def _times(value: float | None, unit: float) -> float | None:
    return None if value is None else value * unit


def _unit(value: object) -> LengthUnit:
    return parse_length_unit(text(value))


def _file(value: object) -> str:
    name = text(value)
    if not name or "/" in name or "\\" in name:
        raise NotThat(f"{shown(value)} is not the name of a file beside this sheet; write the name alone, without folders.")
    return name


def _point3(unit: float) -> Reader[Point3]:
    def read(value: object) -> Point3:
        if not isinstance(value, list) or len(value) != 3:
            raise NotThat(f"{shown(value)} is not a point of the scan; write [x, y, z] as numbers in the file's unit.")
        x, y, z = (unit * number(-1e9, 1e9)(each) for each in value)
        return x, y, z

    return read


def _remarks(log: MeasuredLog) -> tuple[str, ...]:
    """What is possible but odd."""
    forked = any(h.kind is Hidden.CROTCH for h in log.hidden)
    if forked or len(log.rounds) < 2 or log.rounds[0].over is not log.rounds[-1].over:
        return ()
    low, high = as_read(log.rounds[0]), as_read(log.rounds[-1])
    if high <= 1.02 * low:
        return ()
    return ("The log reads thicker towards the top than at the butt: look whether the ends were swapped.",)
