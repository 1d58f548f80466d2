"""On edge: flitches that stand together on the bed, before the first cut and on their sawn edges, seen from the sawyer's end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from waney.papers.ink import BED, CHALK, LARGE, LATER, PLAIN, SMALL, WOOD, Ink
from waney.papers.subject import Subject
from waney.papers.svg import ABOVE, LETTER_WIDTH, Sheet, spread
from waney.sawing.edging.flitch import reach_of
from waney.sawing.mill import End
from waney.sawing.moves import EdgeTogether

TALLEST_MM, TOP_MM, FOOT_MM = 62.0, 11.0, 12.0
LEAST_WIDE_MM = 11.0
HEIGHT_MM = 26.0
"""room for a figure beside a cut"""
STOP_MM = 5.0
"""twice as wide as a backstop is drawn"""


def on_edge_drawing(subject: Subject, ink: Ink, move: EdgeTogether, width_mm: float) -> Sheet:
    """The group before its first cut on the left, on the sawn edges on the right. Heights to scale; boards as wide as names."""
    tall = [_height_m(subject, name) for name in move.names]
    scale = TALLEST_MM / max(tall)
    sheet = Sheet(width_mm, TOP_MM + TALLEST_MM + FOOT_MM, ink, f"{', '.join(move.names)} on edge")
    first = move.first_height_steps * subject.mill.step_m
    left = _Group(sheet, subject, move, scale, 4.0)
    left.stand(tall)
    left.cut({move.first_height_steps: range(len(tall))})
    left.words("first cut")
    right = _Group(sheet, subject, move, scale, width_mm / 2 + 4.0)
    right.stand([first] * len(tall))
    widths = move.widths_steps
    right.cut({steps: [i for i, width in enumerate(widths) if width == steps] for steps in move.then_height_steps})
    right.words("on the sawn edge")
    sheet.letters((1.0, 5.0), f"On edge, seen from the {subject.mill.sawyer_stands_at.value} end", LARGE, bold=True)
    return sheet


def _height_m(subject: Subject, name: str) -> float:
    low, high = reach_of(subject.planned[name].piece)
    return high - low


class _Group:
    """Boards side by side; the backstops are on the right seen from the butt end."""

    def __init__(self, sheet: Sheet, subject: Subject, move: EdgeTogether, scale: float, x: float) -> None:
        self.sheet, self.subject, self.move, self.scale = sheet, subject, move, scale
        self.stops_right = subject.mill.sawyer_stands_at is End.BUTT
        longest = max(len(subject.short(name)) for name in move.names)
        room = sheet.width / 2 - HEIGHT_MM - 4 * STOP_MM
        self.wide = min(max(LEAST_WIDE_MM, (longest + 1) * LETTER_WIDTH * PLAIN), room / len(move.names))
        self.left = x + (HEIGHT_MM if self.stops_right else 4 * STOP_MM)
        self.right = self.left + self.wide * len(move.names)
        self.bed = sheet.height - FOOT_MM

    def stand(self, heights_m: Sequence[float]) -> None:
        """Outlines, names, the bed and the backstop."""
        for i, height in enumerate(heights_m):
            x, y = self._x(i), self.bed - height * self.scale
            self.sheet.line([(x, self.bed), (x, y), (x + self.wide, y), (x + self.wide, self.bed)], WOOD, closed=True)
            name = self.subject.short(self.move.names[i])
            self.sheet.letters((x + self.wide / 2, self.bed - 4.0), name, PLAIN, anchor="middle", bold=True)
        self.sheet.line([(self.left - 4.0, self.bed), (self.right + 4.0, self.bed)], BED)
        stop = self.right + 2.0 if self.stops_right else self.left - 2.0
        lowest = min(self.move.then_height_steps) * self.subject.mill.step_m * self.scale
        top = self.bed - 0.7 * lowest
        wide = STOP_MM / 2 if self.stops_right else -STOP_MM / 2
        self.sheet.hatched([(stop, self.bed), (stop + wide, self.bed), (stop + wide, top), (stop, top)])
        self.sheet.letters((stop + wide / 2, self.bed + 4.0), "backstop", SMALL, anchor="middle")

    def _x(self, i: int) -> float:
        """The first board stands against the backstops."""
        place = len(self.move.names) - 1 - i if self.stops_right else i
        return self.left + place * self.wide

    def cut(self, boards_at: Mapping[int, Sequence[int]]) -> None:
        """For every height in steps, falling: a chalk line over the boards it finishes, and thin on to its figure."""
        wanted = [self.bed - steps * self.subject.mill.step_m * self.scale for steps in boards_at]
        beside = spread(wanted, 1.6 * LARGE, TOP_MM, self.bed)
        for (steps, boards), y, figure_y in zip(boards_at.items(), wanted, beside, strict=True):
            edges = [self._x(i) for i in boards]
            low, high = min(edges) - 1.5, max(edges) + self.wide + 1.5
            self.sheet.line([(low, y), (high, y)], CHALK)
            near, out = (low, -3.0) if self.stops_right else (high, 3.0)
            free = self.left + out if self.stops_right else self.right + out
            self.sheet.line([(near, y), (free, y), (free + out, figure_y)], LATER)
            anchor = "end" if self.stops_right else "start"
            at = (free + 1.3 * out, figure_y + ABOVE * LARGE)
            self.sheet.measure(at, self.subject.height(steps), LARGE, anchor=anchor, bold=True)

    def words(self, what: str) -> None:
        """What is seen here, under the bed."""
        self.sheet.letters(((self.left + self.right) / 2, self.bed + 9.0), what, PLAIN, anchor="middle")
