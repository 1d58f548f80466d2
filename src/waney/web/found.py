"""Found: rows of a form that tell of metal, rot and other things in a log, written as tables of its sheet."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from itertools import zip_longest

from waney.figures.problem import Problem
from waney.logs.measured import HiddenReading
from waney.logs.rounds import as_read
from waney.logs.sheet import log_sheet
from waney.logs.sheet_hidden import ALONG
from waney.units.length import length_of
from waney.web.forms import Sent
from waney.web.toml import as_number, counted_in, quoted

KINDS = tuple(kind.value for kind in ALONG)
LENGTHS = ("distance", "depth", "across", "to")
SUSPECTED = "suspected"


@dataclass(frozen=True)
class Found:
    """One row as it was typed: what, how far from the butt, at which clock position, how deep, how large, how far it goes."""

    kind: str = KINDS[0]
    sure: str = ""
    distance: str = ""
    clock: str = ""
    depth: str = ""
    across: str = ""
    to: str = ""


def found_of(sent: Sent) -> tuple[Found, ...]:
    """The rows of a form in which something was typed."""
    names = [each.name for each in fields(Found)]
    columns = zip_longest(*(sent.all(f"found_{name}") for name in names), fillvalue="")
    rows = (Found(*(text.strip() for text in row)) for row in columns)
    return tuple(row for row in rows if any((row.distance, row.clock, row.depth, row.across, row.to)))


def found_lines(one: Found, unit: str = "") -> tuple[str, ...]:
    """The fields of its table. unit: what a bare number counts, for a sheet that counts otherwise than the form."""
    told = [f"{name} = {quoted(counted_in(getattr(one, name), unit))}" for name in LENGTHS if getattr(one, name)]
    clock = [f"clock = {as_number(one.clock)}"] if one.clock else []
    return (*told, *clock, *(["sure = false"] if one.sure == SUSPECTED else []))


@dataclass(frozen=True)
class OnDrawing:
    """A log to tap on. length, across: counted in `unit`; grain: what a finger can mean; known: what is drawn, as JSON."""

    hidden: tuple[HiddenReading, ...]
    unit: str
    length: float
    across: float
    grain: int
    known: str


def grain_of(unit: str) -> int:
    """An inch, or a centimetre: nearer nobody points at a log."""
    return 10 if unit == "mm" else 1


def on_drawing(sheet: str, unit: str) -> OnDrawing | None:
    """The log of a sheet, to be drawn; None for a sheet that cannot be read any more."""
    try:
        log = log_sheet(sheet).log
    except Problem:
        return None
    one = length_of(1.0, unit)
    known = [
        {"words": each.kind.value, "distance": each.middle_m / one, "clock": each.clock_h, "depth": each.depth_m / one}
        for each in log.hidden
        if each.clock_h is not None
    ]
    across = as_read(log.rounds[0]) if log.rounds else 0.0
    return OnDrawing(log.hidden, unit, log.length_m / one, across / one, grain_of(unit), json.dumps(known))
