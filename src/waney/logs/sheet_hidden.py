"""What a log sheet says is hidden in a log: [[metal]] and the like along it, [[butt.hollow]] and the like on ends, [crotch]."""

from __future__ import annotations

from waney.logs.hidden import SEEN_ON_END_M
from waney.logs.measured import Hidden, HiddenReading
from waney.logs.sheet_rounds import THICKEST_M, Walk, clock, within
from waney.units.sheet import Table
from waney.units.sheet_readers import text, yes_no

ALONG = (Hidden.METAL, Hidden.ROT, Hidden.HOLLOW, Hidden.STAIN, Hidden.KNOT, Hidden.SPLIT)
ON_ENDS = (Hidden.HOLLOW, Hidden.ROT, Hidden.STAIN)
SUSPECTED = 0.5
"""Chance of a thing that is only suspected, unless the sheet says how likely it is. Common practice, no source."""
USUAL_ACROSS_M = {Hidden.METAL: 0.06}
"""Room that is given to a nail or staple whose size nobody knows. Common practice, no source."""
OTHER_ACROSS_M = 0.10
DEEP_M = 0.15
"""A nail whose depth nobody knows is looked for down to here (6 in; some lie deeper). Common practice, no source."""


def hidden_along(sheet: Table, walk: Walk) -> tuple[HiddenReading, ...]:
    """Every [[metal]], [[rot]], ... by distance from the butt, clock position and depth."""
    return tuple(_along(entry, kind, walk) for kind in ALONG for entry in sheet.entries(kind.value))


def _along(entry: Table, kind: Hidden, walk: Walk) -> HiddenReading:
    m = walk.measures
    at = entry.need("distance", within(walk), 0.0)
    across = entry.take("across", m.length_from(0.001, THICKEST_M))
    end = entry.take("to", m.length_from(at, walk.length_m))
    towards = entry.take("clock", clock)
    depth = entry.take("depth", m.length_from(0.0, THICKEST_M))
    if across is None:
        across = DEEP_M if kind is Hidden.METAL and depth is None else USUAL_ACROSS_M.get(kind, OTHER_ACROSS_M)
        walk.assumed.append(f"{entry.dotted('across')}: {m.written(across)} (common practice, no source)")
    if towards is None:
        walk.assumed.append(f"{entry.dotted('clock')}: about the pith")
    start, end = (at - 0.5 * across, at + 0.5 * across) if end is None else (at, end)
    start, end = max(start, 0.0), min(end, walk.length_m)
    return HiddenReading(kind, start, end, towards, depth or 0.0, across, _chance(entry, walk), entry.take("note", text) or "")


def _chance(entry: Table, walk: Walk) -> float:
    """1 when sure (the default), `chance` when it is given, else the usual one of a suspicion."""
    sure = entry.take("sure", yes_no)
    chance = entry.take("chance", walk.measures.percent)
    if chance is not None:
        if sure is not None:
            entry.note("chance", "`sure` stands here too; keep one of them.")
        return chance
    if sure is False:
        walk.assumed.append(f"{entry.dotted('chance')}: {100 * SUSPECTED:.0f} % (common practice, no source)")
        return SUSPECTED
    return 1.0


def hidden_on_end(end: Table, at_m: float, walk: Walk) -> tuple[HiddenReading, ...]:
    """Hollow, rot and stain seen on an end face; `goes_in` is how far, when somebody probed it."""
    return tuple(_on_end(entry, kind, at_m, walk) for kind in ON_ENDS for entry in end.entries(kind.value))


def _on_end(entry: Table, kind: Hidden, at_m: float, walk: Walk) -> HiddenReading:
    m = walk.measures
    across = entry.need("across", m.length_from(0.005, THICKEST_M), OTHER_ACROSS_M)
    depth = entry.take("depth", m.length_from(0.0, THICKEST_M))
    towards = entry.take("clock", clock)
    goes_in = entry.take("goes_in", m.length_from(2.0 * SEEN_ON_END_M, walk.length_m)) or 0.0
    start, end = (0.0, goes_in) if at_m == 0.0 else (at_m - goes_in, at_m)
    if depth is not None and towards is None and not entry.has("clock"):
        entry.note("depth", "a depth needs its clock position too; without both it lies about the pith.")
    return HiddenReading(kind, start, end, towards, depth or 0.0, across, _chance(entry, walk), entry.take("note", text) or "")


def crotch(sheet: Table, walk: Walk, thickest_m: float) -> tuple[HiddenReading, ...]:
    """[crotch]: from where the stem divides to the top."""
    table = sheet.inside("crotch")
    if table is None:
        return ()
    start = table.need("from", within(walk), 0.0)
    across = table.take("across", walk.measures.length_from(0.02, THICKEST_M))
    if across is None:
        across = 0.5 * thickest_m
        walk.assumed.append(f"{table.dotted('across')}: {walk.measures.written(across)}, half of the thickest reading")
    note = table.take("note", text) or ""
    return (HiddenReading(Hidden.CROTCH, start, walk.length_m, None, 0.0, across, 1.0, note),)
