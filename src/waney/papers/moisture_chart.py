"""Moisture chart: moisture by date as the range in which nine in ten lie, without readings and with them, readings as dots with
their ranges. Words stand on the lines; there is no legend to decode."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil
from typing import Protocol

from waney.papers.ink import DIMENSION, PLAIN, SMALL, Ink, Stroke
from waney.papers.ranges import Points
from waney.papers.svg import Sheet, Spot

WIDE_MM, TALL_MM = 170.0, 96.0
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 15.0, 5.0, 5.0, 13.0
LIKELY = Stroke(0.8)
EDGE = Stroke(0.35)
BEFORE = Stroke(0.3, dash="1.6 1.2")
GOAL = Stroke(0.5, accent=True)
GRID = Stroke(0.15, strength=0.5)
DOT_MM = 1.1
MOST_LABELS = 9
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Curve(Protocol):
    """Days from the start, and 5, 50 and 95 % of the moisture there [-]."""

    @property
    def days(self) -> Sequence[float]:
        """Days from the start."""

    @property
    def low(self) -> Sequence[float]:
        """One in twenty is drier [-]."""

    @property
    def likely(self) -> Sequence[float]:
        """Half are drier [-]."""

    @property
    def high(self) -> Sequence[float]:
        """One in twenty is wetter [-]."""


class Point(Points, Protocol):
    """A reading: its day from the start; likely, low and high moisture [-]."""

    @property
    def day(self) -> float:
        """Days from the start."""


@dataclass(frozen=True)
class Charted:
    """since: the day from which days count; target: wanted moisture [-]; before: without readings, None where there are none."""

    name: str
    since: date
    target: float
    before: Curve | None
    after: Curve
    points: tuple[Point, ...]

    @property
    def last_day(self) -> float:
        """How far the chart goes [days]."""
        return max(1.0, self.after.days[-1], *(point.day for point in self.points))

    @property
    def most(self) -> float:
        """How high it goes [-], whole tenths."""
        tops = [*self.after.high, *(self.before.high if self.before else ()), *(point.likely for point in self.points)]
        return ceil(max(tops) * 10.0 - 1e-9) / 10.0


def moisture_chart(charted: Charted, ink: Ink) -> str:
    """The chart as SVG."""
    return _Drawing(charted, Sheet(WIDE_MM, TALL_MM, ink, f"Moisture of {charted.name} by date")).drawn()


@dataclass(frozen=True)
class _Drawing:
    charted: Charted
    sheet: Sheet

    def at(self, day: float, mc: float) -> Spot:
        x = LEFT_MM + (WIDE_MM - LEFT_MM - RIGHT_MM) * min(day / self.charted.last_day, 1.0)
        return x, TOP_MM + (TALL_MM - TOP_MM - BOTTOM_MM) * (1.0 - min(mc / self.charted.most, 1.0))

    def drawn(self) -> str:
        self._ruled()
        if self.charted.before is not None:
            self._curves(self.charted.before, BEFORE, BEFORE)
        self._curves(self.charted.after, EDGE, LIKELY)
        self._words()
        for point in self.charted.points:
            self._dot(point)
        return self.sheet.text()

    def _ruled(self) -> None:
        tenths = round(self.charted.most * 10)
        for tenth in range(0, tenths + 1, 1 if tenths <= 8 else 2):
            left, right = self.at(0.0, tenth / 10.0), self.at(self.charted.last_day, tenth / 10.0)
            self.sheet.line([left, right], DIMENSION if tenth == 0 else GRID)
            self.sheet.letters((left[0] - 1.5, left[1] + 1.1), f"{tenth * 10} %", SMALL, anchor="end")
        for day, words in _months(self.charted.since, self.charted.last_day):
            x, y = self.at(day, 0.0)
            self.sheet.line([(x, y), (x, y + 1.5)], DIMENSION)
            self.sheet.letters((x, y + 5.2), words, SMALL, anchor="middle")
        goal = [self.at(0.0, self.charted.target), self.at(self.charted.last_day, self.charted.target)]
        self.sheet.line(goal, GOAL)
        self.sheet.letters((goal[0][0] + 1.5, goal[0][1] + 4.4), f"wanted, {self.charted.target * 100:.0f} %", SMALL)

    def _curves(self, curve: Curve, edge: Stroke, middle: Stroke) -> None:
        for values, stroke in ((curve.low, edge), (curve.high, edge), (curve.likely, middle)):
            shown = [self.at(day, mc) for day, mc in zip(curve.days, values, strict=True) if day <= self.charted.last_day]
            if len(shown) > 1:
                self.sheet.line(shown, stroke)

    def _words(self) -> None:
        """On the lines, where they lie farthest apart: at a third of the way."""
        after = self.charted.after
        at = len(after.days) // 3
        for values, words, up in ((after.high, "one in twenty is wetter", True), (after.low, "one in twenty is drier", False)):
            x, y = self.at(after.days[at], values[at])
            self.sheet.letters((x + 1.0, y - 1.4) if up else (x - 1.0, y + 4.0), words, SMALL, anchor="start" if up else "end")
        x, y = self.at(after.days[at // 2], after.likely[at // 2])
        self.sheet.letters((x + 1.0, y - 1.0), "likely", PLAIN, bold=True)

    def _dot(self, point: Point) -> None:
        x, y = self.at(point.day, point.likely)
        self.sheet.line([self.at(point.day, point.low), self.at(point.day, point.high)], EDGE)
        self.sheet.filled([(x - DOT_MM, y), (x, y - DOT_MM), (x + DOT_MM, y), (x, y + DOT_MM)])


def _months(since: date, last_day: float) -> Iterator[tuple[float, str]]:
    """The first of months, as days from the start, with their names; so many that they do not touch."""
    firsts, day = [], date(since.year, since.month, 1)
    while day <= since + timedelta(last_day):
        if day >= since:
            firsts.append(day)
        day = (day + timedelta(32)).replace(day=1)
    every = max(1, ceil(len(firsts) / MOST_LABELS))
    for number, first in enumerate(firsts[::every]):
        year = f" {first.year}" if number == 0 or first.month == 1 else ""
        yield float((first - since).days), f"{MONTHS[first.month - 1]}{year}"
