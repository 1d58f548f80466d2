"""Edges and ends as a person types them: in a sheet, or behind an option."""

from __future__ import annotations

from waney.drying.sides import BadSides, Sides
from waney.units.sheet import Table
from waney.units.sheet_readers import choice

EDGES = {"open": True, "bark": False}
"""Sawn, or the bark is off; or bark was left on."""
ENDS = {"coated": False, "bare": True}


def sides_told(table: Table, width_m: float | None, length_m: float | None) -> Sides:
    """Open edges and coated ends where the sheet does not say."""
    edges, ends = table.take("edges", choice(EDGES)), table.take("ends", choice(ENDS))
    return Sides(width_m, length_m, edges_open=edges is not False, ends_open=ends is True)


def sides_said(edges: str, ends: str, width_m: float | None = None, length_m: float | None = None) -> Sides:
    """From two words. Raises BadSides for others."""
    for option, word, words in (("edges", edges, EDGES), ("ends", ends, ENDS)):
        if word not in words:
            raise BadSides(f"--{option}: {word!r} is none of {', '.join(words)}.")
    return Sides(width_m, length_m, edges_open=EDGES[edges], ends_open=ENDS[ends])
