"""Printing: jobs that set papers which take longer than a blink; values in, a file out."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any

from waney.figures.scenarios import Scenarios
from waney.figures.typed_json import Decoder, Encoder, parsed
from waney.papers.boule import boule_map_of_plan
from waney.papers.crayon import crayon_sheet
from waney.papers.label_stock import label_stock
from waney.papers.listing import Listing, csv_text, spreadsheet
from waney.papers.offered import offered
from waney.papers.paper import paper_pdf
from waney.papers.subject import Subject
from waney.papers.tags import Calibration, Tag, laid_out, tags_pdf
from waney.papers.words import INCHES, METRIC
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import ready
from waney.work.apart import Progress, Work
from waney.yard.names import Name

SCENARIOS = Scenarios(seed=1)


@dataclass(frozen=True)
class TagsAsked:
    """Tags: names by code and number, the same lines on each; stock as it is written, a bare size in `unit`."""

    code: str
    numbers: tuple[int, ...]
    lines: tuple[str, ...]
    stock: str
    unit: str
    printed: str
    used: int = 0
    right_mm: float = 0.0
    down_mm: float = 0.0
    size: float = 1.0
    stapled: bool = True


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


Asked = TagsAsked | ListAsked | PlanPaperAsked


def asked_bytes(asked: Asked) -> bytes:
    """The input of the job; the same question gives the same bytes."""
    told = _list_told(asked) if isinstance(asked, ListAsked) else Encoder().encode(asked, type(asked))
    return json.dumps(told, sort_keys=True).encode("utf-8")


def _list_told(asked: ListAsked) -> dict[str, object]:
    """A list as JSON; a day stands in brackets, so that it stays a day."""
    rows = [[[cell.isoformat()] if isinstance(cell, date) else cell for cell in row] for row in asked.made.rows]
    return {
        "title": asked.made.title, "headings": asked.made.headings, "rows": rows,
        "printed": asked.printed, "xlsx": asked.xlsx,
    }  # fmt: skip


def _list_heard(told: dict[str, Any]) -> ListAsked:
    rows = tuple(tuple(date.fromisoformat(cell[0]) if isinstance(cell, list) else cell for cell in row) for row in told["rows"])
    return ListAsked(Listing(told["title"], tuple(told["headings"]), rows), told["printed"], told["xlsx"])


def print_tags(given: bytes, _progress: Progress) -> bytes:
    """Tags as PDF."""
    asked: TagsAsked = Decoder().decode(parsed(given.decode("utf-8")), TagsAsked, "asked")
    tags = tuple(Tag(Name(asked.code, number), asked.lines) for number in asked.numbers)
    calibration = Calibration(asked.right_mm, asked.down_mm, asked.size)
    laid = laid_out(tags, label_stock(asked.stock, asked.unit), calibration, used=asked.used, stapled=asked.stapled)
    return tags_pdf(laid, date.fromisoformat(asked.printed))


def write_list(given: bytes, _progress: Progress) -> bytes:
    """A list as CSV or as a spreadsheet."""
    asked = _list_heard(json.loads(given))
    if asked.xlsx:
        return spreadsheet(asked.made, date.fromisoformat(asked.printed))
    return csv_text(asked.made).encode("utf-8-sig")  # with its mark, so that spreadsheet programs read the letters right


def print_of_plan(given: bytes, _progress: Progress) -> bytes:
    """The boule map of a plan, or what to crayon on the butt, as PDF."""
    asked: PlanPaperAsked = Decoder().decode(parsed(given.decode("utf-8")), PlanPaperAsked, "asked")
    plan, sheets = read_plan(asked.plan)
    prepared = ready(sheets)
    best = offered(prepared, (plan,), SCENARIOS, full=False).best
    subject = Subject(best.plan, prepared.bench.log.shape, prepared.bench.mill, METRIC if asked.metric else INCHES)
    printed = date.fromisoformat(asked.printed)
    made = boule_map_of_plan if asked.paper == "boule" else crayon_sheet
    return paper_pdf(made(subject, best.name, printed), printed)


TAGS, LIST, OF_PLAN = "tags", "list", "paper-of-plan"
WORKS: dict[str, Work] = {TAGS: print_tags, LIST: write_list, OF_PLAN: print_of_plan}
