"""Placing: the work that draws where a piece lay in its log, from the plan it was sawn by and what was told at the mill."""

from __future__ import annotations

from waney.papers.ink import SCREEN
from waney.papers.place import AsSawn, place_drawing
from waney.papers.subject import Subject
from waney.papers.words import INCHES, METRIC
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import ready
from waney.web.asked.packing import read_back
from waney.web.asked.place import PlaceAsked
from waney.work.apart import Progress

WIDE_MM = 120.0


def draw_place(given: bytes, _progress: Progress) -> bytes:
    """The job. Raises Problem for what is no plan."""
    asked = read_back(given, PlaceAsked)
    plan, sheets = read_plan(asked.plan)
    bench = ready(sheets).bench
    subject = Subject(plan, bench.log.shape, bench.mill, METRIC if asked.metric else INCHES)
    sawn = AsSawn(asked.name, asked.cut, asked.height_m, asked.thickness_m)
    return place_drawing(subject, sawn, SCREEN, WIDE_MM).text().encode("utf-8")
