"""Bed: one lie of the log as the sawyer sees it from where they stand, with bed heights beside the cuts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import shapely

from waney.papers import marks
from waney.papers.ends import LogEnd, log_end
from waney.papers.ink import BED, CHALK, CRAYON, DIMENSION, FAR_END, LARGE, PLAIN, SMALL, Ink
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import ABOVE, Sheet, Spot, spread
from waney.sawing.facts.walk import Cut
from waney.sawing.mill import End

HEIGHTS_MM = 34.0
"""room for the column of bed heights"""
STOPS_MM = 20.0
"""room for backstops"""
TOP_MM, FOOT_MM = 15.0, 24.0
SEEN_BETTER_MM = 2.0
"""a name stands on the far end only when it has so much more room there"""
PLACES = (0.3, 0.7)
"""where across neighbouring thin pieces their names stand"""


def bed_drawing(subject: Subject, ink: Ink, lie: int, width_mm: float, highest_mm: float = 170.0) -> Sheet:
    """One lie (0 is the first), at most so wide and so high."""
    return _Bed(subject, ink, lie, width_mm, highest_mm).drawn()


class _Bed:
    def __init__(self, subject: Subject, ink: Ink, lie: int, width_mm: float, highest_mm: float) -> None:
        self.subject, self.lie = subject, lie
        self.stands = subject.mill.sawyer_stands_at
        self.end: LogEnd = log_end(subject.plan, subject.shape, subject.mill, self.stands)
        self.plane = self.end.planes[lie]
        self.on_bed = self.end.on_bed[lie]
        # the backstops stand where a face turned clockwise a quarter comes to rest: on the right, seen from the butt
        self.stops_right = self.stands is End.BUTT
        self.far = log_end(subject.plan, subject.shape, subject.mill, End.TOP if self.stands is End.BUTT else End.BUTT)
        left, top, right = self._reach(Onto(self.plane, self.stands, 1.0))
        tall = max(-top, subject.mill.step_m * max((cut.height_steps for cut in self.cuts), default=1))
        scale = min((width_mm - HEIGHTS_MM - STOPS_MM) / (right - left), (highest_mm - TOP_MM - FOOT_MM) / tall)
        self.bed_y = TOP_MM + scale * tall
        x0 = (STOPS_MM if not self.stops_right else HEIGHTS_MM) - scale * left
        x0 += (width_mm - HEIGHTS_MM - STOPS_MM - scale * (right - left)) / 2
        self.onto = Onto(self.plane, self.stands, scale, (x0, self.bed_y))
        self.sheet = Sheet(width_mm, self.bed_y + FOOT_MM, ink, self._title())
        self.left, self.top, self.right = self._reach(self.onto)

    def _reach(self, onto: Onto) -> tuple[float, float, float]:
        """left, top, right of both ends on the sheet."""
        far = replace(onto, plane=self.far.planes[self.lie]).extent(self.far.on_bed[self.lie])
        near = onto.extent(self.on_bed)
        return min(near[0], far[0]), min(near[1], far[1]), max(near[2], far[2])

    @property
    def cuts(self) -> list[Cut]:
        return [cut for cut in self.end.cuts if cut.lie == self.lie]

    def _title(self) -> str:
        return f"{self.subject.plan.log} on the bed, lie {self.lie + 1}, seen from the {self.stands.value} end"

    def drawn(self) -> Sheet:
        self._wood()
        self._far_end()
        self._bed()
        for cut in self.cuts:
            if cut.stroke:
                marks.cut(self.sheet, self.onto, cut.stroke, CHALK)
        marks.hidden(self.sheet, self.onto, self.subject.shape.zones)
        self._names()
        self._heights()
        self._backstop()
        self._up_line(marks.clock(self.sheet, self.onto, self.end.bark, self.on_bed))
        self._foot()
        self.sheet.letters((1.0, 5.0), f"Seen from the {self.stands.value} end", LARGE, bold=True)
        return self.sheet

    def _wood(self) -> None:
        marks.outlines(self.sheet, self.onto, self.on_bed, self.on_bed.intersection(self.end.wood))
        named = [part.area for part in self.end.parts if part.lie == self.lie and self.subject.kept(part.name)]
        marks.rings(self.sheet, self.onto, self.end, shapely.unary_union([*named, *self._stays()]))
        marks.pith(self.sheet, self.onto, self.end)

    def _stays(self) -> tuple[shapely.Geometry, ...]:
        """What is turned after this lie; nothing after the last."""
        return tuple(area.intersection(self.end.wood) for area in self.end.on_bed[self.lie + 1 : self.lie + 2])

    def _far_end(self) -> None:
        """The other end's wood, dashed: a piece must be there too."""
        if self.lie:
            return
        onto = replace(self.onto, plane=self.far.planes[self.lie])
        for outline in onto.outlines(self.far.wood):
            self.sheet.line(outline, FAR_END, closed=True)

    def _names(self) -> None:
        """Each name where its piece shows larger: on this end, or on the far one of a tapered log."""
        far = {part.name: part for part in self.far.parts}
        parts = [part for part in self.end.parts if part.lie == self.lie and self.subject.kept(part.name)]
        for i, part in enumerate(parts):
            marks.edges(self.sheet, self.onto, self.subject.planned[part.name], self.plane)
            seen = [(self.onto, part), (replace(self.onto, plane=self.far.planes[self.lie]), far[part.name])]
            onto, shown = max(seen, key=lambda pair: marks.tallness(pair[1], pair[0]) + (pair[1] is part) * SEEN_BETTER_MM)
            marks.label(self.sheet, onto, shown, self.subject, PLACES[i % 2])

    def _heights(self) -> None:
        """Cut number and bed height in a column, with a line to each cut."""
        cuts = sorted(self.cuts, key=lambda cut: -cut.height_steps)
        wanted = [self.bed_y - self.onto.scale * self.subject.mill.step_m * cut.height_steps for cut in cuts]
        size = LARGE
        for cut, want, y in zip(cuts, wanted, spread(wanted, 1.5 * size, TOP_MM - 4, self.bed_y - 2), strict=True):
            near, column = self._column(cut, want)
            x = column[0]
            turn = 3.0 if self.stops_right else -3.0
            self.sheet.line([near, (x + turn + turn, want), (x + turn, y), (x, y)], DIMENSION)
            base = y + ABOVE * size
            anchor, step = ("end", -1.0) if self.stops_right else ("start", 1.0)
            self.sheet.measure((x + step, base), self.subject.height(cut.height_steps), size, anchor=anchor, bold=True)

    def _column(self, cut: Cut, y: float) -> tuple[Spot, Spot]:
        """Where a height's line starts at the cut and where it ends beside its figure."""
        side = HEIGHTS_MM - 9.0
        x = side if self.stops_right else self.sheet.width - side
        if cut.stroke is None:
            return ((self.left if self.stops_right else self.right), y), (x, y)
        ends = self.onto.spots(np.array(cut.stroke))
        near = min(ends) if self.stops_right else max(ends)
        return near, (x, y)

    def _bed(self) -> None:
        y = self.bed_y
        self.sheet.line([(self.left - 6, y), (self.right + 6, y)], BED)
        # on the side of the backstop: the lowest height stands on the other
        at, anchor = (self.right + 7.5, "start") if self.stops_right else (self.left - 7.5, "end")
        self.sheet.letters((at, y + 1.4), "bed", PLAIN, anchor=anchor, bold=True)

    def _backstop(self) -> None:
        """A post as high as it may stand for the lowest pass of this lie."""
        passes = self.subject.passes(self.lie)
        if not passes:
            return
        top = min(one.backstop_at_most_m for one in passes)
        x = self.right + 1.5 if self.stops_right else self.left - 1.5
        wide = 2.5 if self.stops_right else -2.5
        y = self.bed_y - self.onto.scale * top
        self.sheet.hatched([(x, self.bed_y), (x + wide, self.bed_y), (x + wide, y), (x, y)])
        self.sheet.letters((x + 2 * wide, y - 2.0), "backstop", SMALL, anchor="end" if self.stops_right else "start")

    def _up_line(self, figures: list[Spot]) -> None:
        """The crayon line, in the first lie: it points straight up."""
        if self.lie:
            return
        x, y = self.onto.spot(self.end.piths[0])
        top = self.top
        self.sheet.line([(x, y), (x, top - 1.5)], CRAYON)
        crowded = any(0.0 <= spot[0] - x < 16.0 and spot[1] < top + 6.0 for spot in figures)
        self.sheet.letters(
            (x - 2.5 if crowded else x + 2.5, top - 3.0), "up", LARGE, anchor="end" if crowded else "start", bold=True
        )

    def _foot(self) -> None:
        y = self.bed_y + 11.0
        left, right = self.left, self.right
        marks.dimension(self.sheet, (left, y), (right, y), self.subject.shop.read((right - left) / self.onto.scale))
        for x in (left, right):
            self.sheet.line([(x, self.bed_y + 1.5), (x, y + 1.5)], DIMENSION)
        marks.scale_bar(self.sheet, self.subject, (left, self.bed_y + FOOT_MM - 3), self.onto.scale)
        if not self.lie:
            far = "top" if self.stands is End.BUTT else "butt"
            spot = (self.sheet.width - 1.0, self.bed_y + FOOT_MM - 3)
            self.sheet.letters(spot, f"dashed: the {far} end", SMALL, anchor="end")
