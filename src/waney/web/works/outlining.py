"""Outlining: the work that says how the edges of a piece run as its plan has them, before somebody measures it."""

from __future__ import annotations

from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.ink import SCREEN
from waney.papers.outline_drawing import planned_drawing
from waney.papers.planned_words import planned_edges, planned_rows
from waney.papers.words import INCHES, METRIC
from waney.sawing.facts.planned_outline import Heights, planned_outline
from waney.sawing.facts.sawn_piece import planned_at
from waney.sawing.plan import PlannedPiece
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import ready
from waney.web.asked.packing import as_bytes, read_back
from waney.web.asked.place import PlaceAsked
from waney.web.asked.planned import EdgesPlanned, PlannedAnswer
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)


def outline_of_plan(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be told is answered with its sentence. Raises Problem for what is no plan."""
    asked = read_back(given, PlaceAsked)
    plan, sheets = read_plan(asked.plan)
    planned = planned_at(plan, asked.cut)
    if planned is None:
        return as_bytes(PlannedAnswer(sentence="Its plan has nothing but an outside slab at this cut."))
    progress(0.1, "cutting it out of the logs that the readings allow")
    shop, at_hand = METRIC if asked.metric else INCHES, ready(sheets)
    try:
        found = planned_outline(
            plan, planned, at_hand.bench, at_hand.measured.shapes(SCENARIOS), _told(asked, planned, at_hand.bench.mill.kerf_m)
        )
    except Problem as why:
        return as_bytes(PlannedAnswer(sentence=str(why)))
    stations = tuple(EdgesPlanned(*cells) for cells in planned_edges(found, shop))
    rows = tuple(planned_rows(found, planned.piece, at_hand.bench.log.shrinking, shop))
    return as_bytes(PlannedAnswer(rows, stations, planned_drawing(found, SCREEN)))


def _told(asked: PlaceAsked, planned: PlannedPiece, kerf_m: float) -> Heights | None:
    """The heights told at the mill, as far as they were; None for those of the plan."""
    if asked.height_m is None and (asked.cut is not None or asked.thickness_m is None):
        return None
    return Heights.sawn(asked.height_m, asked.thickness_m, planned, kerf_m)
