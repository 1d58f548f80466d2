"""Printing: work that sets papers which take longer than a blink; values in, a file out."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from waney.figures.scenarios import Scenarios
from waney.papers.boule_planned import boule_map_of_plan
from waney.papers.crayon import crayon_sheet
from waney.papers.label_stock import label_stock
from waney.papers.listing import csv_text
from waney.papers.offered import offered
from waney.papers.paper import paper_pdf
from waney.papers.spreadsheet import spreadsheet
from waney.papers.subject import Subject
from waney.papers.tags import Calibration, Tag, laid_out, tags_pdf
from waney.papers.words import INCHES, METRIC
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import ready
from waney.web.asked.packing import read_back
from waney.web.asked.paper import LabelsAsked, PlanPaperAsked, SheetsAsked, TagsAsked, list_heard
from waney.work.apart import Progress
from waney.yard.names import Name

SCENARIOS = Scenarios(seed=1)


def print_tags(given: bytes, _progress: Progress) -> bytes:
    """Tags as PDF."""
    asked = read_back(given, TagsAsked)
    return _on_sheets([Tag(Name(asked.code, number), asked.lines) for number in asked.numbers], asked.sheets, "Tags")


def print_labels(given: bytes, _progress: Progress) -> bytes:
    """Price labels as PDF."""
    asked = read_back(given, LabelsAsked)
    labels = [Tag(Name(one.code, one.number), one.lines, one.large) for one in asked.labels]
    return _on_sheets(labels, asked.sheets, "Price labels")


def _on_sheets(tags: Sequence[Tag], asked: SheetsAsked, title: str) -> bytes:
    calibration = Calibration(asked.right_mm, asked.down_mm, asked.size)
    laid = laid_out(tags, label_stock(asked.stock, asked.unit), calibration, used=asked.used, stapled=asked.stapled, title=title)
    return tags_pdf(laid, date.fromisoformat(asked.printed))


def write_list(given: bytes, _progress: Progress) -> bytes:
    """A list as CSV or as a spreadsheet."""
    asked = list_heard(given)
    if asked.xlsx:
        return spreadsheet(asked.made, date.fromisoformat(asked.printed))
    return csv_text(asked.made).encode("utf-8-sig")  # with its mark, so that spreadsheet programs read the letters right


def print_of_plan(given: bytes, _progress: Progress) -> bytes:
    """The boule map of a plan, or what to crayon on the butt, as PDF."""
    asked = read_back(given, PlanPaperAsked)
    plan, sheets = read_plan(asked.plan)
    prepared = ready(sheets)
    best = offered(prepared, (plan,), SCENARIOS, full=False).best
    subject = Subject(best.plan, prepared.bench.log.shape, prepared.bench.mill, METRIC if asked.metric else INCHES)
    printed = date.fromisoformat(asked.printed)
    made = boule_map_of_plan if asked.paper == "boule" else crayon_sheet
    return paper_pdf(made(subject, best.name, printed), printed)
