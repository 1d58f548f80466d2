"""Svg: a sheet of lines, hatching and letters in millimetres, x to the right, y down. Same calls, same bytes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from html import escape
from math import hypot

import shapely

from waney.papers.ink import DIMENSION, HATCH, HATCH_EDGE, Ink, Stroke
from waney.papers.words import Measure

Spot = tuple[float, float]

ABOVE = 0.36
"""from the base line to the middle of a figure, in letter heights"""
LETTER_WIDTH = 0.602
"""width of a figure in letter heights; exact for the paper's face, near enough for others"""
FRACTION = 0.72
"""size of numerator and denominator beside the whole number"""


@dataclass
class Sheet:
    """One drawing under way. Lengths in mm."""

    width: float
    height: float
    ink: Ink
    title: str
    _marks: list[str] = field(default_factory=list)

    def line(self, spots: Iterable[Spot], stroke: Stroke, *, closed: bool = False) -> None:
        """A stroke through the spots."""
        looks = f' stroke-dasharray="{stroke.dash}"' if stroke.dash else ""
        looks += f' stroke-opacity="{stroke.strength:g}"' if stroke.strength < 1 else ""
        colour = self.ink.accent if stroke.accent else self.ink.ink
        path = _path(spots) + ("Z" if closed else "")
        self._marks.append(f'<path d="{path}" stroke="{colour}" stroke-width="{_n(stroke.width)}"{looks}/>')

    def filled(self, spots: Iterable[Spot]) -> None:
        """A plain area of ink."""
        self._marks.append(f'<path d="{_path(spots)}Z" fill="{self.ink.ink}" stroke="none"/>')

    @contextmanager
    def turned(self, degrees: float, about: Spot) -> Iterator[None]:
        """What is drawn inside is turned clockwise about a spot."""
        self._marks.append(f'<g transform="rotate({_n(degrees)} {_n(about[0])} {_n(about[1])})">')
        yield
        self._marks.append("</g>")

    @contextmanager
    def group(self, **data: object) -> Iterator[None]:
        """What is drawn inside bears marks (`data-part="3"`) by which a page finds it again."""
        told = "".join(f' data-{name}="{escape(str(value))}"' for name, value in data.items())
        self._marks.append(f"<g{told}>")
        yield
        self._marks.append("</g>")

    def hatched(self, spots: Sequence[Spot], pitch: float = 1.1) -> None:
        """Slanting lines inside an outline, and the outline."""
        area = shapely.make_valid(shapely.Polygon(spots))
        left, top, right, bottom = area.bounds
        reach, start = bottom - top, pitch * ((left - bottom + top) // pitch)
        for i in range(int((right - start) / pitch) + 1):
            x = start + i * pitch
            stroke = shapely.LineString([(x, bottom), (x + reach, top)])
            for piece in lines_of(area.intersection(stroke)):
                self.line(piece, HATCH)
        self.line(spots, HATCH_EDGE, closed=True)

    def arrow(self, spots: Sequence[Spot], stroke: Stroke = DIMENSION, size: float = 2.2) -> None:
        """A stroke that ends in a filled head."""
        (x0, y0), (x1, y1) = spots[-2], spots[-1]
        long = hypot(x1 - x0, y1 - y0) or 1.0
        dx, dy = (x1 - x0) / long * size, (y1 - y0) / long * size
        self.line([*spots[:-1], (x1 - dx, y1 - dy)], stroke)
        self.filled([(x1, y1), (x1 - dx - dy / 2.4, y1 - dy + dx / 2.4), (x1 - dx + dy / 2.4, y1 - dy - dx / 2.4)])

    def letters(self, at: Spot, words: str, size: float, *, anchor: str = "start", bold: bool = False) -> None:
        """Words with their base line at a spot; the ground behind them is cleared."""
        looks = ' font-weight="700"' if bold else ""
        looks += f' text-anchor="{anchor}"' if anchor != "start" else ""
        looks += f' paint-order="stroke" stroke="{self.ink.ground}" stroke-width="{_n(size * 0.28)}"'
        self._marks.append(
            f'<text x="{_n(at[0])}" y="{_n(at[1])}" font-size="{_n(size)}" fill="{self.ink.ink}"{looks}>{escape(words)}</text>'
        )

    def measure(self, at: Spot, words: Measure, size: float, *, anchor: str = "start", bold: bool = False) -> None:
        """A figure with its built fraction; the spot is on the base line of the whole number."""
        x = at[0] - _SHIFT[anchor] * measure_width(words, size)
        x += LETTER_WIDTH * size * len(words.whole)
        self.letters((x, at[1]), words.whole, size, anchor="end", bold=bold)
        if words.under:
            x = self._fraction((x, at[1]), words, size, bold)
        self.letters((x + 0.18 * size, at[1]), words.unit, size * 0.8, bold=bold)

    def _fraction(self, at: Spot, words: Measure, size: float, bold: bool) -> float:
        """Numerator over bar over denominator; returns where it ends."""
        small = size * FRACTION
        wide = LETTER_WIDTH * small * max(len(words.over), len(words.under))
        x0 = at[0] + 0.12 * size
        bar = at[1] - 0.36 * size
        middle = x0 + wide / 2
        self.letters((middle, bar - 0.1 * size), words.over, small, anchor="middle", bold=bold)
        self.letters((middle, bar + 0.1 * size + 0.73 * small), words.under, small, anchor="middle", bold=bold)
        self.line([(x0, bar), (x0 + wide, bar)], Stroke(max(DIMENSION.width, 0.055 * size)))
        return x0 + wide

    def below(self, other: Sheet) -> None:
        """Puts another drawing under this one."""
        self._marks.append(f'<g transform="translate(0 {_n(self.height)})"><title>{escape(other.title)}</title>')
        self._marks += [*other._marks, "</g>"]
        self.width, self.height = max(self.width, other.width), self.height + other.height

    def text(self) -> str:
        """The drawing as an SVG document."""
        head = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(self.width)}mm" height="{_n(self.height)}mm" '
            f'viewBox="0 0 {_n(self.width)} {_n(self.height)}" role="img" font-family="{escape(self.ink.letters)}" '
            f'fill="none" stroke-linecap="round" stroke-linejoin="round">'
        )
        ground = f'<rect width="100%" height="100%" fill="{self.ink.ground}"/>'
        return "\n".join([head, f"<title>{escape(self.title)}</title>", ground, *self._marks, "</svg>", ""])


_SHIFT = {"start": 0.0, "middle": 0.5, "end": 1.0}


def measure_width(words: Measure, size: float) -> float:
    """How wide a figure stands [mm]."""
    fraction = FRACTION * max(len(words.over), len(words.under)) * LETTER_WIDTH + 0.12 if words.under else 0.0
    return size * (len(words.whole) * LETTER_WIDTH + fraction + 0.18 + 0.8 * LETTER_WIDTH * len(words.unit))


def lines_of(shape: shapely.Geometry) -> list[list[Spot]]:
    """Every stroke of a geometry, in the order it holds them."""
    parts = shape.geoms if hasattr(shape, "geoms") else [shape]
    return [list(part.coords) for part in parts if part.geom_type == "LineString" and len(part.coords) > 1]


def _path(spots: Iterable[Spot]) -> str:
    return "M" + "L".join(f"{_n(x)} {_n(y)}" for x, y in spots)


def _n(value: float) -> str:
    """Two decimals, no trailing zeros, never -0."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def spread(wanted: list[float], gap: float, low: float, high: float) -> list[float]:
    """Rising places as near to the wanted (rising) ones as a least gap allows, within low..high where there is room."""
    placed: list[float] = []
    for want in wanted:
        placed.append(max(want, placed[-1] + gap if placed else low))
    limit = max(high, low + gap * (len(wanted) - 1))
    for i in reversed(range(len(placed))):
        placed[i] = min(placed[i], limit)
        limit = placed[i] - gap
    return placed
