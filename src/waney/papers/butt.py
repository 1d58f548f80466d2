"""Butt: the butt end as the log stood when it was measured, 12 o'clock up, with the plan chalked on it."""

from __future__ import annotations

import numpy as np
import shapely

from waney.logs.frames import xy_to_clock
from waney.papers import marks
from waney.papers.ends import LogEnd, log_end
from waney.papers.ink import CHALK, CRAYON, LARGE, LATER, Ink
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import Sheet
from waney.papers.words import clock
from waney.sawing.facts.walk import Cut, Point
from waney.sawing.mill import End
from waney.sawing.plan import Plan

SIDE_MM, TOP_MM, FOOT_MM = 14.0, 21.0, 17.0


def up_clock(plan: Plan) -> float:
    """The clock position that is up in the first lie [h]."""
    up = plan.lies[0].turn[1]
    return xy_to_clock(up[0], up[1])


def butt_drawing(subject: Subject, ink: Ink, width_mm: float, *, names: bool = True) -> Sheet:
    """The butt end. With `names` the whole plan is on it; without, only the line to crayon."""
    end = log_end(subject.plan, subject.shape, subject.mill, End.BUTT)
    left, top, right, bottom = Onto(None, End.BUTT, 1.0).extent(end.bark)
    side = SIDE_MM if names else SIDE_MM + 2.0
    scale = (width_mm - 2 * side) / (right - left)
    onto = Onto(None, End.BUTT, scale, (side - scale * left, TOP_MM - scale * top))
    sheet = Sheet(width_mm, TOP_MM + scale * (bottom - top) + FOOT_MM, ink, f"{subject.plan.log}, butt end")
    _draw(sheet, onto, subject, end, names)
    return sheet


def _draw(sheet: Sheet, onto: Onto, subject: Subject, end: LogEnd, names: bool) -> None:
    kept = [part for part in end.parts if subject.kept(part.name)]
    marks.outlines(sheet, onto, end.bark, end.wood)
    marks.rings(sheet, onto, end, shapely.unary_union([part.area for part in kept]) if names else end.wood)
    marks.pith(sheet, onto, end)
    if names:
        for cut in end.cuts:
            _cut(sheet, onto, cut)
        for i, part in enumerate(kept):
            marks.edges(sheet, onto, subject.planned[part.name], end.planes[part.lie])
            marks.label(sheet, onto, part, subject, (0.3, 0.7)[i % 2], end.planes[part.lie])
    else:
        crayon_line(sheet, onto, subject, end)
    marks.hidden(sheet, onto, subject.shape.zones)
    marks.clock(sheet, onto, end.bark, end.bark)
    sheet.letters((1.0, 5.0), "Butt end", LARGE, bold=True)
    _foot(sheet, onto, subject, end)


def _cut(sheet: Sheet, onto: Onto, cut: Cut) -> None:
    """Cuts of the first lie in chalk, of later lies dashed."""
    if cut.stroke:
        marks.cut(sheet, onto, cut.stroke, CHALK if cut.lie == 0 else LATER)


def crayon_line(sheet: Sheet, onto: Onto, subject: Subject, end: LogEnd) -> None:
    """From the pith to the bark on the side that goes up, with its clock position outside."""
    start, rim = up_line(subject, end)
    (x0, y0), (x1, y1) = onto.spots(np.array([start, rim]))
    sheet.line([(x0, y0), (x1, y1)], CRAYON)
    out, anchor = (3.0, "start") if x1 >= x0 else (-3.0, "end")
    sheet.letters((x1 + out, y1 - 1.5 if y1 < y0 else y1 + 4.5), clock(up_clock(subject.plan)), LARGE, anchor=anchor, bold=True)


def up_line(subject: Subject, end: LogEnd) -> tuple[Point, Point]:
    """From the first pith straight up, as the log will lie, to the outside of the bark; log frame."""
    pith = np.array(end.piths[0])
    up = np.array(subject.plan.lies[0].turn[1][:2])
    ray = end.bark.boundary.intersection(shapely.LineString([pith, pith + up / float(np.hypot(*up)) * 10]))
    rim = shapely.get_coordinates(ray)[-1] if not ray.is_empty else pith + up
    return (float(pith[0]), float(pith[1])), (float(rim[0]), float(rim[1]))


def _foot(sheet: Sheet, onto: Onto, subject: Subject, end: LogEnd) -> None:
    left, _, right, bottom = onto.extent(end.bark)
    y = bottom + 8.5  # below the clock position of a crayon line that points down
    marks.dimension(sheet, (left, y), (right, y), subject.shop.read((right - left) / onto.scale))
    marks.scale_bar(sheet, subject, (left, bottom + FOOT_MM - 2.5), onto.scale)
