"""Meter sheet: what the maker of a moisture meter prints, typed once (TOML, `waney-meter/1`). Nothing stands in for a blank.

format, units, comma
called, made_for            what it is called; the temperature of wood at which it reads right
[[wood]] species, reads, is what it reads on a wood, in rising order, and what that wood then holds
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waney.drying.meter import OWN_C, Correction
from waney.figures.problem import Problem
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import list_of, text
from waney.wood.species import species

FORMAT = "waney-meter/1"
NONE: tuple[float, ...] = ()


@dataclass(frozen=True)
class MeterSheet:
    """called: as the shop calls it; own_c: temperature it is made for [°C]; tables: corrections by the id of the species."""

    called: str = ""
    own_c: float = OWN_C
    tables: Mapping[str, Correction] = field(default_factory=dict)


NOT_TYPED = MeterSheet()
"""A meter of which nobody typed in what its maker prints."""


def read_meter_sheet(content: str) -> MeterSheet:
    """The meter of a sheet. Raises SheetProblems with all that is wrong in it, each with its line."""
    sheet = open_sheet(content, FORMAT)
    measures = Measures.of(sheet)
    called = sheet.take("called", text) or ""
    own = sheet.take("made_for", measures.temperature)
    tables = dict(found for table in sheet.entries("wood") if (found := _wood(table, measures)))
    sheet.check()
    return MeterSheet(called, OWN_C if own is None else own, tables)


def _wood(table: Table, measures: Measures) -> tuple[str, Correction] | None:
    wood = table.need("species", lambda value: species(text(value)), None)
    reads, means = (table.need(key, list_of(measures.mc), NONE) for key in ("reads", "is"))
    if len(reads) != len(means):
        table.note("is", f"{len(means)} figures stand beside {len(reads)} in `reads`; one belongs to each.")
        return None
    try:
        return None if wood is None or not reads else (wood.id, Correction(tuple(zip(reads, means, strict=True))))
    except Problem as problem:
        table.note("reads", str(problem))
        return None
