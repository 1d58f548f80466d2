"""Papers that take longer than a blink to set: what is asked of a worker."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any

from waney.papers.listing import Listing
from waney.web.asked.packing import as_bytes


@dataclass(frozen=True)
class SheetsAsked:
    """How tags are printed: stock as it is written, a bare size in `unit`; used: places that are gone from the first sheet."""

    stock: str
    unit: str
    printed: str
    used: int = 0
    right_mm: float = 0.0
    down_mm: float = 0.0
    size: float = 1.0
    stapled: bool = True


@dataclass(frozen=True)
class TagsAsked:
    """Tags: names by code and number, the same lines on each."""

    code: str
    numbers: tuple[int, ...]
    lines: tuple[str, ...]
    sheets: SheetsAsked


@dataclass(frozen=True)
class LabelAsked:
    """A price label: the piece's name by code and number, what stands large, the lines below."""

    code: str
    number: int
    large: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class LabelsAsked:
    """Price labels, on the stock of tags."""

    labels: tuple[LabelAsked, ...]
    sheets: SheetsAsked


@dataclass(frozen=True)
class ListAsked:
    """A list as it is to be written: a spreadsheet (xlsx), else CSV."""

    made: Listing
    printed: str
    xlsx: bool


@dataclass(frozen=True)
class PlanPaperAsked:
    """A paper of a plan file. paper: boule or crayon."""

    paper: str
    plan: str
    metric: bool
    printed: str


Asked = TagsAsked | LabelsAsked | ListAsked | PlanPaperAsked


def asked_bytes(asked: Asked) -> bytes:
    """The input of the job; the same question gives the same bytes."""
    return json.dumps(_list_told(asked), sort_keys=True).encode("utf-8") if isinstance(asked, ListAsked) else as_bytes(asked)


def _list_told(asked: ListAsked) -> dict[str, object]:
    """A list as JSON; a day stands in brackets, so that it stays a day."""
    rows = [[[cell.isoformat()] if isinstance(cell, date) else cell for cell in row] for row in asked.made.rows]
    return {
        "title": asked.made.title, "headings": asked.made.headings, "rows": rows,
        "printed": asked.printed, "xlsx": asked.xlsx,
    }  # fmt: skip


def list_heard(given: bytes) -> ListAsked:
    """The list that was asked for."""
    told: dict[str, Any] = json.loads(given)
    rows = tuple(tuple(date.fromisoformat(cell[0]) if isinstance(cell, list) else cell for cell in row) for row in told["rows"])
    return ListAsked(Listing(told["title"], tuple(told["headings"]), rows), told["printed"], told["xlsx"])


@dataclass(frozen=True)
class PieceOnPaper:
    """A piece of a stack as a paper draws it; kg: its last weight, None is not known."""

    name: str
    wood: str
    layer: int | None
    thickness_m: float | None
    length_m: float | None
    width_m: float | None
    kg: float | None
    weighed: bool


@dataclass(frozen=True)
class StackPaperAsked:
    """A stack sheet. facts: words and what they are of; top_kg_m2, bearer_kg, ground_kg_m2: weight on top, and what somebody who
    looked said that a bearer and the ground bear."""

    name: str
    below: str
    facts: tuple[tuple[str, str], ...]
    pieces: tuple[PieceOnPaper, ...]
    sticker_m: float | None
    apart_m: float | None
    metric: bool
    printed: str
    top_kg_m2: float = 0.0
    bearer_kg: float | None = None
    ground_kg_m2: float | None = None
