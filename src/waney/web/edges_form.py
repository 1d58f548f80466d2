"""Edges form: both edges of a piece, read from a straight line at places along it, written as tables of its sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from waney.figures.problem import Problem
from waney.logs.sheet_text import with_fields, with_table, without_table
from waney.units.length import parse_length
from waney.web.asked.planned import PlannedAnswer
from waney.web.forms import BadField, Sent
from waney.web.heights_form import listed
from waney.web.piece_told import Told, slip_of

CELLS = ("at", "left", "right", "under_left", "under_right")
PAIRS = {"edges": ("left", "right"), "under": ("under_left", "under_right")}
"""tables of a sheet, and the fields of their two edges"""
USUAL, SPARE, MOST = 5, 2, 380
"""rows of an empty form, rows left to add to, and rows of one form: more would be more fields than are taken"""


@dataclass
class EdgesForm:
    """Rows of text by the names of CELLS. planned: they stand as the plan has them, nobody has read them yet; wrong: a sentence
    for each field that cannot be read, by name and number of its row; thickness, read: what was typed and ticked beside them;
    some_of: how many places of a sheet stand here, and of how many, where they are too many for a form."""

    rows: list[dict[str, str]]
    planned: bool = False
    thickness: str = ""
    read: bool = False
    some_of: tuple[int, int] | None = None
    wrong: dict[str, str] = field(default_factory=dict)

    @classmethod
    def told(cls, told: Told) -> EdgesForm:
        """As the sheet has them, else empty."""
        found: dict[str, dict[str, str]] = {}
        for table, pair in PAIRS.items():
            for at, *cells in _in_table(told.content.get(table), told.unit):
                found.setdefault(at, dict.fromkeys(CELLS, "") | {"at": at}).update(zip(pair, cells, strict=True))
        kept = _some(list(found.values()), MOST - SPARE)
        some_of = (len(kept), len(found)) if len(found) > len(kept) else None
        return cls([*kept, *_empty(SPARE if found else USUAL)], some_of=some_of)

    @classmethod
    def as_planned(cls, answer: PlannedAnswer) -> EdgesForm:
        """As the plan has them, to be corrected."""
        return cls([*({name: getattr(one, name) for name in CELLS} for one in answer.stations), *_empty(SPARE)], planned=True)

    @classmethod
    def sent(cls, sent: Sent, told: Told) -> EdgesForm:
        """As it was sent. Raises BadField for fields that no page of ours sends."""
        cells = [list(map(str.strip, sent.all(name))) for name in CELLS]
        if len({len(column) for column in cells}) != 1 or len(cells[0]) > MOST:
            raise BadField("This form is not whole; load the page anew and send it again.")
        rows = [dict(zip(CELLS, row, strict=True)) for row in zip(*cells, strict=True)]
        form = cls(rows, bool(sent.text("planned")), sent.text("thickness"), bool(sent.text("read")))
        form.wrong.update(form._slips(told.unit))
        return form

    def _slips(self, unit: str) -> Iterator[tuple[str, str]]:
        for n, row in enumerate(self.rows):
            for name in CELLS:
                if slip := slip_of(row[name], unit, either_side=name != "at"):
                    yield f"{name}-{n}", slip
            if not row["at"] and any(row.values()):
                yield f"at-{n}", "Write how far from the end this was read."
            for left, right in PAIRS.values():
                if bool(row[left]) != bool(row[right]):
                    yield f"{right if row[left] else left}-{n}", "Read this edge too, or empty both."

    def on(self, text: str, unit: str) -> str:
        """The sheet with these edges in the place of any other shape. Raises CannotAdd."""
        after = without_table(with_fields(text, {"length": "", "width": ""}), "photo")
        rows = sorted((row for row in self.rows if row["at"]), key=lambda row: parse_length(row["at"], unit))
        for table, pair in PAIRS.items():
            read = [row for row in rows if row[pair[0]]]
            lines = [f"at = {listed([row['at'] for row in read])}"]
            lines += [f"{side} = {listed([row[name] for row in read])}" for side, name in zip(PAIRS["edges"], pair, strict=True)]
            after = with_table(after, (table,), lines) if read or table == "edges" else without_table(after, table)
        return after


def _empty(count: int) -> list[dict[str, str]]:
    return [dict.fromkeys(CELLS, "") for _ in range(count)]


def _some(rows: list[dict[str, str]], most: int) -> list[dict[str, str]]:
    """All where they are not too many, else evenly taken ones, the first and the last among them."""
    if len(rows) <= most:
        return rows
    return [rows[round(n * (len(rows) - 1) / (most - 1))] for n in range(most)]


def _in_table(had: Any, unit: str) -> Iterator[tuple[str, str, str]]:
    """Place, left and right edge as texts; nothing for a table in another form."""
    if not isinstance(had, dict) or not all(isinstance(had.get(side), list) for side in PAIRS["edges"]):
        return
    at = had.get("at")
    try:
        places = at if isinstance(at, list) else _evenly(str(had["every"]), len(had["left"]), unit)
    except (KeyError, Problem):
        return
    for cells in zip(places, had["left"], had["right"], strict=False):
        at_text, left, right = map(str, cells)
        yield at_text, left, right


def _evenly(every: str, count: int, unit: str) -> list[str]:
    step = parse_length(every, unit)
    return [f"{n * step:.4f} m" for n in range(count)]
