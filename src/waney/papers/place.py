"""Place: where one piece lay in its log: the butt end with the piece's outline chalked on it, as it was sawn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from waney.papers import marks
from waney.papers.ends import LogEnd, log_end
from waney.papers.ink import CHALK, LARGE, PLAIN, Ink
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import ABOVE, Sheet
from waney.papers.words import Measure
from waney.sawing.facts.walk import Part, SectionPlane
from waney.sawing.mill import End

SIDE_MM, TOP_MM, FOOT_MM = 14.0, 16.0, 10.0


@dataclass(frozen=True)
class AsSawn:
    """What was told of a piece at the mill. cut: from 1, None: it stayed on the bed last; None: as the plan has it. Metres."""

    name: str
    cut: int | None
    height_m: float | None = None
    """of the blade over the bed"""
    thickness_m: float | None = None


def place_drawing(subject: Subject, sawn: AsSawn, ink: Ink, width_mm: float) -> Sheet:
    """The end of the log at which the piece shows: the butt, or the top where it does not reach the butt. 12 o'clock is up."""
    which, end, area = _shown(subject, sawn)
    left, top, right, bottom = Onto(None, which, 1.0).extent(end.bark)
    scale = (width_mm - 2 * SIDE_MM) / (right - left)
    onto = Onto(None, which, scale, (SIDE_MM - scale * left, TOP_MM - scale * top))
    title = f"{sawn.name} in log {subject.plan.log}, {which.value} end"
    sheet = Sheet(width_mm, TOP_MM + scale * (bottom - top) + FOOT_MM, ink, title)
    marks.outlines(sheet, onto, end.bark, end.wood)
    marks.rings(sheet, onto, end, end.wood)
    marks.pith(sheet, onto, end)
    for outline in onto.outlines(area):
        sheet.line(outline, CHALK, closed=True)
    marks.hidden(sheet, onto, subject.shape.zones)
    _name(sheet, onto, subject, sawn, Part(sawn.name, 0, area, area), end.planes[_part(end, sawn).lie])
    marks.clock(sheet, onto, end.bark, end.bark)
    sheet.letters((1.0, 5.0), f"{which.value.capitalize()} end", LARGE, bold=True)
    marks.scale_bar(sheet, subject, (SIDE_MM, sheet.height - 2.5), scale)
    return sheet


def piece_area(subject: Subject, end: LogEnd, sawn: AsSawn) -> shapely.Geometry:
    """The wood of the piece on one end, log frame: between its lower and its upper face as they were sawn."""
    part = _part(end, sawn)
    if sawn.height_m is None and sawn.cut is not None:
        return part.area
    plane, there = end.planes[part.lie], end.on_bed[part.lie].intersection(end.wood)
    low = 0.0 if sawn.cut is None or sawn.height_m is None else sawn.height_m + subject.mill.kerf_m
    area = there.intersection(plane.above(low))
    if sawn.thickness_m is None:
        return part.area if sawn.cut is None else area
    return area.difference(plane.above(low + sawn.thickness_m))


def _part(end: LogEnd, sawn: AsSawn) -> Part:
    at = len(end.parts) - 1 if sawn.cut is None else sawn.cut - 1
    return end.parts[min(max(at, 0), len(end.parts) - 1)]


def _shown(subject: Subject, sawn: AsSawn) -> tuple[End, LogEnd, shapely.Geometry]:
    for which in (End.BUTT, End.TOP):
        end = log_end(subject.plan, subject.shape, subject.mill, which)
        area = piece_area(subject, end, sawn)
        if not area.is_empty:
            break
    return which, end, area


def _name(sheet: Sheet, onto: Onto, subject: Subject, sawn: AsSawn, part: Part, plane: SectionPlane) -> None:
    chord = marks.middle_chord(part, plane)
    if chord is None:
        return
    a, b = np.array(chord)
    size = min(PLAIN, 0.7 * marks.tallness(part, Onto(plane, End.BUTT, onto.scale)))
    thickness: Measure | None = subject.shop.read(sawn.thickness_m) if sawn.thickness_m else None
    x, y = onto.spot((float(a[0] + b[0]) / 2, float(a[1] + b[1]) / 2))
    with sheet.turned(onto.angle((float(b[0] - a[0]), float(b[1] - a[1]))), (x, y)):
        marks.name_and_size(sheet, (x, y + ABOVE * size), sawn.name, thickness, size)
