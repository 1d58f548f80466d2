"""Apart: one lie from the sawyer's end, every part a group of its own, so that a page slides them apart cut by cut.

Groups bear what they are in `data-`: `left` (what lies on the bed after so many cuts, outlines only), `part` (what a cut takes
off: its `rim` counts once it is cut), `ahead` (a cut while it is still to come), `edges` (where boards end once they are edged).
Numbers are those of the cuts over all lies; what stays last bears the number after the last cut.
"""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from waney.papers import marks
from waney.papers.ends import LogEnd, log_end
from waney.papers.ink import BARK, BED, CHALK, LATER, PLAIN, WOOD, Ink
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import Sheet
from waney.sawing.facts.walk import Part

SIDE_MM, TOP_MM, FOOT_MM = 6.0, 11.0, 5.0
GAP_MM = 4.0
"""between parts that were slid apart; the sheet says it in `data-gap`"""
PLACES = (0.3, 0.7)


def apart_drawings(subject: Subject, ink: Ink, width_mm: float) -> tuple[str, ...]:
    """SVG of each lie, in order, at one scale."""
    end = log_end(subject.plan, subject.shape, subject.mill, subject.mill.sawyer_stands_at)
    return tuple(_Apart(subject, end, ink, lie, width_mm).drawn().text() for lie in range(len(subject.plan.lies)))


class _Apart:
    def __init__(self, subject: Subject, end: LogEnd, ink: Ink, lie: int, width_mm: float) -> None:
        self.subject, self.end, self.lie = subject, end, lie
        self.here = subject.mill.sawyer_stands_at
        self.numbers = [cut.number for cut in end.cuts if cut.lie == lie]
        boxes = [Onto(plane, self.here, 1.0).extent(there) for plane, there in zip(end.planes, end.on_bed, strict=True)]
        scale = (width_mm - 2 * SIDE_MM) / max(right - left for left, _, right, _ in boxes)
        left, top, right, _ = boxes[lie]
        self.bed_y = TOP_MM + GAP_MM * len(self.numbers) - scale * top
        x0 = width_mm / 2 - scale * (left + right) / 2
        self.onto = Onto(end.planes[lie], self.here, scale, (x0, self.bed_y))
        title = f"{subject.plan.log} on the bed, lie {lie + 1}, taken apart, seen from the {self.here.value} end"
        self.sheet = Sheet(width_mm, self.bed_y + FOOT_MM, ink, title)

    def drawn(self) -> Sheet:
        """Everything; a page hides what a state does not have."""
        for number, left in self._lefts():
            with self.sheet.group(left=number):
                marks.outlines(self.sheet, self.onto, left, left.intersection(self.end.wood))
        parts = list(self._parts())
        for i, (number, part) in enumerate(parts):
            with self.sheet.group(part=number):
                self._part(part, PLACES[i % 2])
        self._stays()
        for cut in self.end.cuts:
            if cut.lie == self.lie and cut.stroke:
                with self.sheet.group(ahead=cut.number):
                    marks.cut(self.sheet, self.onto, cut.stroke, LATER)
        self.sheet.line([(SIDE_MM / 2, self.bed_y), (self.sheet.width - SIDE_MM / 2, self.bed_y)], BED)
        self.sheet.letters((1.0, 5.0), f"From the {self.here.value} end", PLAIN, bold=True)
        return self.sheet

    def _lefts(self) -> Iterator[tuple[int, shapely.Geometry]]:
        """What lies there after each cut of this lie, and before the first, by the number of cuts made."""
        left = self.end.on_bed[self.lie]
        yield (self.numbers[0] - 1 if self.numbers else len(self.end.cuts)), left
        plane, step = self.end.planes[self.lie], self.subject.mill.step_m
        for cut in self.end.cuts:
            if cut.lie == self.lie:
                left = left.difference(plane.above(cut.height_steps * step))
                if not left.is_empty:
                    yield cut.number, left

    def _parts(self) -> Iterator[tuple[int, Part]]:
        """With the number of the cut that takes it off; what stays last comes off with none, and has the number after them."""
        return ((number, part) for number, part in enumerate(self.end.parts, 1) if part.lie == self.lie)

    def _part(self, part: Part, place: float) -> None:
        kept = self.subject.kept(part.name)
        if part.with_bark.is_empty:
            return
        with self.sheet.group(rim=""):
            for outline in self.onto.outlines(part.with_bark):
                self.sheet.line(outline, BARK, closed=True)
            for outline in self.onto.outlines(part.area):
                self.sheet.line(outline, CHALK if kept else WOOD, closed=True)
        self._inside(part.area, rings=kept)
        if kept:
            with self.sheet.group(edges=""):
                marks.edges(self.sheet, self.onto, self.subject.planned[part.name], self.end.planes[part.lie])
            marks.label(self.sheet, self.onto, part, self.subject, place)

    def _stays(self) -> None:
        """What is turned after this lie."""
        for there in self.end.on_bed[self.lie + 1 : self.lie + 2]:
            self._inside(there.intersection(self.end.wood), rings=True)

    def _inside(self, area: shapely.Geometry, *, rings: bool) -> None:
        """Rings, pith and hidden things go with the wood that holds them."""
        if rings:
            marks.rings(self.sheet, self.onto, self.end, area)
        piths = tuple(point for point in self.end.piths if area.contains(shapely.Point(point)))
        for point in piths:
            marks.cross(self.sheet, self.onto, point)
        zones = tuple(zone for zone in self.subject.shape.zones if area.contains(shapely.Point(zone.x_m, zone.y_m)))
        marks.hidden(self.sheet, self.onto, zones)
