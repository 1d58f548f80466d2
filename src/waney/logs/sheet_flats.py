"""What a log sheet says was done to the log since it was measured: [trimmed], and [[flat]] for every face sawn or hewn."""

from __future__ import annotations

from waney.logs.measured import FlatReading, From, Trimmed
from waney.logs.opened import LEAST_END_M
from waney.logs.sheet_rounds import THICKEST_M, Walk, clock
from waney.units.length import length_of
from waney.units.sheet import Table
from waney.units.sheet_readers import yes_no

GIVEN_BY = ("from_pith", "past_pith", "thickness")
CHAIN_SAW_KERF_M = {True: length_of(0.375, "in"), False: 0.010}
"""What a chain saw turns to chips, by whether the sheet is in inches. Common practice, no source."""
SAME_WAY_H = 0.02
"""Two flats whose clock positions differ by less than this face the same way."""


def trimmed(sheet: Table, walk: Walk) -> Trimmed:
    """[trimmed]: what was cut off the ends, square."""
    table = sheet.inside("trimmed")
    if table is None:
        return Trimmed()
    most = walk.measures.length_from(0.0, walk.length_m)
    off = Trimmed(table.take("butt", most) or 0.0, table.take("top", most) or 0.0)
    if off.butt_m + off.top_m > walk.length_m - LEAST_END_M:
        table.note("", "this takes the whole log away; write what was cut off each end.")
        return Trimmed()
    return off


def flats(sheet: Table, walk: Walk) -> tuple[FlatReading, ...]:
    """Every [[flat]], in the order of the sheet."""
    found: list[FlatReading] = []
    entries = sheet.entries("flat")
    for entry in entries:
        reading = _flat(entry, walk)
        if any(_hours_apart(reading.clock_h, other.clock_h) < SAME_WAY_H for other in found):
            entry.note("clock", "another flat faces the same way; keep the deeper one.")
        found.append(reading)
    for entry, reading in zip(entries, found, strict=True):
        if reading.measured_from is From.OPPOSITE and not _has_opposite(reading, found):
            entry.note("thickness", "no flat with its distance from the pith faces the other way (6 hours on).")
    return tuple(found)


def _hours_apart(a: float, b: float) -> float:
    return abs((a - b + 6.0) % 12.0 - 6.0)


def _has_opposite(reading: FlatReading, others: list[FlatReading]) -> bool:
    return any(o.measured_from is From.PITH and _hours_apart(o.clock_h + 6.0, reading.clock_h) < 1e-6 for o in others)


def _flat(entry: Table, walk: Walk) -> FlatReading:
    faces = entry.need("clock", clock, 12.0)
    halved, kerf = entry.take("halved", yes_no), entry.take("kerf", walk.measures.length_from(0.0, 0.05))
    given = [key for key in GIVEN_BY if entry.has(key)]
    if len(given) + bool(halved) != 1:
        entry.note("", f"say where it lies by one of these: {', '.join(GIVEN_BY)} or halved = true.")
    if halved:
        return _halved(entry, faces, kerf, walk)
    if kerf is not None:
        entry.note("kerf", "a kerf is asked only of a saw that halved the log; leave it out.")
    key = given[0] if given else "from_pith"
    read = walk.measures.length_from(0.0, THICKEST_M)
    butt = entry.take(key, read) or 0.0
    top = entry.take("at_top", read)
    sign = -1.0 if key == "past_pith" else 1.0
    measured_from = From.OPPOSITE if key == "thickness" else From.PITH
    return FlatReading(faces, sign * butt, sign * (butt if top is None else top), measured_from)


def _halved(entry: Table, faces: float, kerf: float | None, walk: Walk) -> FlatReading:
    """Sawn along the pith: half of the kerf went from either half."""
    if entry.has("at_top"):
        entry.note("at_top", "a halved log was sawn along the pith from end to end; leave this out, or give from_pith.")
    if kerf is None:
        kerf = CHAIN_SAW_KERF_M[walk.measures.imperial]
        walk.assumed.append(f"{entry.dotted('kerf')}: {walk.measures.written(kerf)}, a chain saw's (common practice, no source)")
    return FlatReading(faces, -0.5 * kerf, -0.5 * kerf)
