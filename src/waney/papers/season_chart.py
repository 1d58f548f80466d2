"""Season chart: the width of a piece through the year of a room, with its range, and what it measured."""

from __future__ import annotations

from dataclasses import dataclass

from waney.figures.estimate import Estimate
from waney.papers.ink import CHALK, DIMENSION, EDGE, LATER, PLAIN, SMALL, Ink
from waney.papers.season_words import month_name
from waney.papers.svg import Sheet, Spot
from waney.papers.words import Shop
from waney.pieces.seasons import Seasons

WIDE_MM, TALL_MM = 100.0, 62.0
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 5.0, 5.0, 9.0, 8.0
UNDER_WORDS = 6
"""months that the words beside an outer line stand over"""
DOT_MM = 1.1
ROOM = 0.16
"""of the height, above and below what is drawn"""


def season_chart(year: Seasons, width_m: float, ink: Ink, shop: Shop) -> str:
    """SVG. Dashed: the width as it was measured, where that lies in the picture."""
    return _Chart(year, width_m, Sheet(WIDE_MM, TALL_MM, ink, "Its width through the year"), shop).drawn()


@dataclass(frozen=True)
class _Chart:
    year: Seasons
    width_m: float
    sheet: Sheet
    shop: Shop

    @property
    def ends_m(self) -> tuple[float, float]:
        """From where to where the widths go."""
        low, high = min(month.low for month in self.year.months), max(month.high for month in self.year.months)
        spare = max((high - low) * ROOM, 1e-4)
        return low - spare, high + spare

    def at(self, month: int, width_m: float) -> Spot:
        """month: from 0."""
        low, high = self.ends_m
        x = LEFT_MM + (WIDE_MM - LEFT_MM - RIGHT_MM) * (month + 0.5) / 12.0
        return x, TOP_MM + (TALL_MM - TOP_MM - BOTTOM_MM) * (high - width_m) / (high - low)

    def drawn(self) -> str:
        floor = TALL_MM - BOTTOM_MM
        self.sheet.line([(LEFT_MM, floor), (WIDE_MM - RIGHT_MM, floor)], DIMENSION)
        for month in range(12):
            x, _ = self.at(month, self.width_m)
            self.sheet.line([(x, floor), (x, floor + 1.2)], DIMENSION)
            self.sheet.letters((x, floor + 5.2), month_name(month + 1)[0], SMALL, anchor="middle")
        for pick, stroke in ((_low, EDGE), (_high, EDGE), (_likely, CHALK)):
            self.sheet.line([self.at(n, pick(month)) for n, month in enumerate(self.year.months)], stroke)
        self._measured()
        for pick, words, outer, below_mm in (
            (_high, "one in twenty is wider", min, -1.4),
            (_low, "one in twenty is narrower", max, 4.2),
        ):
            along = [self.at(n, pick(self.year.months[n])) for n in range(UNDER_WORDS)]
            self.sheet.letters((along[0][0], outer(y for _, y in along) + below_mm), words, SMALL)
        self._end(max(range(12), key=lambda n: self.year.months[n].likely), -2.6)
        self._end(min(range(12), key=lambda n: self.year.months[n].likely), 5.2)
        return self.sheet.text()

    def _measured(self) -> None:
        low, high = self.ends_m
        if low < self.width_m < high:
            _, y = self.at(0, self.width_m)
            self.sheet.line([(LEFT_MM, y), (WIDE_MM - RIGHT_MM, y)], LATER)
            self.sheet.letters((LEFT_MM + 1.0, y - 1.2), "as measured", SMALL)

    def _end(self, month: int, below_mm: float) -> None:
        width_m = self.year.months[month].likely
        x, y = self.at(month, width_m)
        self.sheet.filled([(x - DOT_MM, y), (x, y - DOT_MM), (x + DOT_MM, y), (x, y + DOT_MM)])
        anchor = "start" if month < 2 else "end" if month > 9 else "middle"
        self.sheet.measure((x, y + below_mm), self.shop.read(width_m), PLAIN, anchor=anchor, bold=True)


def _low(month: Estimate) -> float:
    return month.low


def _high(month: Estimate) -> float:
    return month.high


def _likely(month: Estimate) -> float:
    return month.likely
