"""Side: the log on the bed from the side, with crossbars, blocks, pith and the passes of one lie."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.papers import marks
from waney.papers.ink import BARK, BED, DIMENSION, EDGE, LARGE, PITH_LINE, PLAIN, SMALL, WOOD, Ink, Stroke
from waney.papers.subject import Subject
from waney.papers.svg import Sheet, Spot
from waney.sawing.facts.blocks import Block

Array = NDArray[np.float64]

SIDE_MM, TOP_MM = 30.0, 14.0
FOOT_MM, BLOCK_FOOT_MM = 10.5, 21.0
LEAST_TALL_MM = 22.0
"""a thinner log is drawn with its heights stretched"""
BLOCK_MM = 6.0


def side_drawing(subject: Subject, ink: Ink, width_mm: float, blocks: tuple[Block, ...] = ()) -> Sheet:
    """The first lie from the side, the butt on the left."""
    return _Side(subject, ink, width_mm, blocks).drawn()


def pith_ends(subject: Subject) -> Array:
    """Where the first pith leaves the butt and the top end in the first lie: u, v, w, shape (2, 3) [m]."""
    return subject.plan.lies[0].there(subject.shape.rings.pith_ends())


class _Side:
    def __init__(self, subject: Subject, ink: Ink, width_mm: float, blocks: tuple[Block, ...]) -> None:
        self.subject, self.blocks = subject, blocks
        to_saw = subject.plan.lies[0]
        self.wood, self.bark = (to_saw.there(subject.shape.surface(bark=bark)) for bark in (False, True))
        self.low_w, self.high_w = float(self.bark[..., 2].min()), float(self.bark[..., 2].max())
        self.top_v = float(self.bark[..., 1].max())
        self.scale = (width_mm - 2 * SIDE_MM) / (self.high_w - self.low_w)
        self.stretch = max(1, int(np.ceil(LEAST_TALL_MM / (self.scale * self.top_v))))
        self.bed_y = TOP_MM + self.scale * self.stretch * self.top_v
        self.sheet = Sheet(
            width_mm, self.bed_y + (BLOCK_FOOT_MM if blocks else FOOT_MM), ink, f"{subject.plan.log} on the bed, from the side"
        )

    def spot(self, w: float, v: float) -> Spot:
        """A point of the saw frame on the sheet."""
        return SIDE_MM + self.scale * (w - self.low_w), self.bed_y - self.scale * self.stretch * v

    def drawn(self) -> Sheet:
        self._outline(self.bark, BARK)
        self._outline(self.wood, WOOD)
        for one in self.subject.passes(0):
            v = one.height_steps * self.subject.mill.step_m
            self.sheet.line([self.spot(self.low_w, v), self.spot(self.high_w, v)], EDGE)
        self._hidden()
        self._bed()
        for block in self.blocks:
            self._block(block)
        self._pith()
        self._words()
        return self.sheet

    def _outline(self, points: Array, stroke: Stroke) -> None:
        """Silhouette: highest and lowest line, and both ends."""
        every = np.arange(len(points))
        over, under = points[every, points[..., 1].argmax(axis=1)], points[every, points[..., 1].argmin(axis=1)]
        self.sheet.line([self.spot(float(w), float(v)) for _, v, w in (*over, *under[::-1])], stroke, closed=True)

    def _hidden(self) -> None:
        """Hatched boxes where something lies in the log."""
        for zone in self.subject.shape.zones:
            if zone.kind in marks.HATCHED:
                ends = np.array([(zone.x_m, zone.y_m, zone.from_m), (zone.x_m, zone.y_m, zone.to_m)])
                (_, v0, w0), (_, v1, w1) = self.subject.plan.lies[0].there(ends)
                radius = max(zone.radius_m, marks.LEAST_SPOT_M)
                corners = [(w0, v0 - radius), (w1, v1 - radius), (w1, v1 + radius), (w0, v0 + radius)]
                self.sheet.hatched([self.spot(w, v) for w, v in corners])
                x, y = self.spot(w1, v1 - radius)
                self.sheet.letters((x + 0.8, y), zone.kind.value, SMALL, bold=True)

    def _bed(self) -> None:
        y = self.bed_y
        left, right = self.spot(self.low_w, 0)[0] - 8, self.spot(self.high_w, 0)[0] + 8
        self.sheet.line([(left, y), (right, y)], BED)
        self.sheet.letters((left - 1.5, y + 4.6), "bed", PLAIN, anchor="end", bold=True)
        for number, at in enumerate(self.subject.mill.crossbars_m, 1):
            x = self.spot(at, 0)[0]
            if left <= x <= right:
                self.sheet.filled([(x - 1.6, y), (x + 1.6, y), (x + 1.6, y + 3.5), (x - 1.6, y + 3.5)])
                self.sheet.letters((x, y + 8.3), str(number), LARGE * 0.9, anchor="middle", bold=True)

    def _block(self, block: Block) -> None:
        """A block with its height; its foot on the bed."""
        x, top = self.spot(block.at_m, block.height_m)
        half = BLOCK_MM / 2
        self.sheet.hatched([(x - half, self.bed_y), (x + half, self.bed_y), (x + half, top), (x - half, top)], 0.8)
        words = self.subject.on_scale(block.height_m)
        y = self.bed_y + BLOCK_FOOT_MM - 3.0
        self.sheet.line([(x, self.bed_y + 10), (x, y - 5.0)], DIMENSION)
        self.sheet.letters((x - 1.5, y), "block", LARGE * 0.9, anchor="end", bold=True)
        self.sheet.measure((x + 1.0, y), words, LARGE * 0.9, bold=True)

    def _pith(self) -> None:
        """The pith's line and its height above the bed at both ends."""
        ends = pith_ends(self.subject)
        spots = [self.spot(float(w), float(v)) for _, v, w in ends]
        self.sheet.line(spots, PITH_LINE)
        for (_, v, w), out in zip(ends, (-1.0, 1.0), strict=True):
            x, y = self.spot(float(w), float(v))
            post = x + out * 4.5
            self.sheet.line([(x, y), (post + out * 1.5, y)], DIMENSION)
            self.sheet.arrow([(post, (y + self.bed_y) / 2), (post, y)])
            self.sheet.arrow([(post, (y + self.bed_y) / 2), (post, self.bed_y)])
            anchor = "end" if out < 0 else "start"
            middle = (y + self.bed_y) / 2
            self.sheet.letters((post + out * 2, middle - 2.6), "pith", PLAIN, anchor=anchor, bold=True)
            self.sheet.measure((post + out * 2, middle + 3.2), self.subject.on_scale(float(v)), LARGE, anchor=anchor, bold=True)

    def _words(self) -> None:
        for w, name in ((self.low_w, "butt"), (self.high_w, "top")):
            x, _ = self.spot(w, 0)
            self.sheet.letters((x, TOP_MM - 2.5), name, PLAIN, anchor="middle", bold=True)
        words = f"From the side; heights drawn {self.stretch} times as tall" if self.stretch > 1 else "From the side"
        self.sheet.letters((1.0, 5.0), words, LARGE, bold=True)
