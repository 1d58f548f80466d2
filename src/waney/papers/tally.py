"""Tally: what came off a log, piece by piece; printed blank with names ahead, to be filled in by pencil, or filled in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.paper import Cell, Column, Paper, Sentence, Table, cell, paper, warn
from waney.papers.words import Shop, said

ROW_MM = 11.5
"""A row for a pencil in a glove; common practice, no source."""
BLANK_ROWS = 30


@dataclass(frozen=True)
class TallyLine:
    """One piece in the order it came off; what is not known is left to the pencil. Green sizes in metres, volume in m3."""

    name: str
    species: str = ""
    thickness_m: float | None = None
    butt_width_m: float | None = None
    top_width_m: float | None = None
    length_m: float | None = None
    volume_m3: float | None = None
    remark: str = ""


def blank_lines(names: Sequence[str] = (), rows: int = BLANK_ROWS) -> tuple[TallyLine, ...]:
    """Lines with free names ahead, filled up with empty ones."""
    return tuple(TallyLine(names[i] if i < len(names) else "") for i in range(max(rows, len(names))))


def tally_sheet(name: str, below: str, lines: Sequence[TallyLine], shop: Shop, printed: date) -> Paper:
    """The tally of a log or a day's sawing (`name`, `below`: what stands in the corner)."""
    unit = "mm" if shop.sizes.metric else "in"
    columns = (
        Column("name", 1.75),
        Column(f"thick {unit}", 1.1, figures=True),
        Column(f"wide, butt {unit}", 1.1, figures=True),
        Column(f"wide, top {unit}", 1.1, figures=True),
        Column("long mm" if shop.sizes.metric else "long ft in", 1.25, figures=True),
        Column("remark", 1.6),
    )
    rows = tuple(_row(line, shop) for line in lines)
    parts = (
        warn("heavy piece", "at the blade"),
        Sentence(said("In the order they come off. Widths between the bark, on the narrower face.")),
        Table(columns, rows, ROW_MM, strong=1),
        Sentence(said("Sawn by ______________________     Day ______________")),
    )
    return paper("Tally", name, below, parts, shop, printed)


def _row(line: TallyLine, shop: Shop) -> tuple[Cell, ...]:
    sizes = (line.thickness_m, line.butt_width_m, line.top_width_m)
    measured = tuple(cell(None if size is None else shop.have(size)) for size in sizes)
    long = cell(None if line.length_m is None else shop.long(line.length_m))
    return (cell(line.name), *measured, long, cell(line.remark))
