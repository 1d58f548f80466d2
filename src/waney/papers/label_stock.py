"""Label stock: the sheets and rolls that tags are printed on, and where on a sheet each label lies. In mm, from the top left.

Sizes that are sold everywhere stand in `data/label_stock.csv`; any other is typed: `letter, 2 x 5 of 4 in x 2 in`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from waney.figures.problem import Problem
from waney.figures.tables import Row, table
from waney.units.length import length_of, parse_length

DUST_MM = 0.02
"""Printed sizes are rounded to so much: a label may stand over the edge by as little."""
MOST_ACROSS = 50
PAGES = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""width and height [mm]; ANSI/ASME Y14.1 size A and ISO 216, from memory"""
EXAMPLE = "letter, 2 x 5 of 4 in x 2 in, from 5/32 in x 1/2 in, every 4 3/16 in x 2 in; or: roll, 4 in x 2 in"
_TIMES = r"\s*(?:x|×)\s*"
_SIZE = rf"([^,]+?){_TIMES}([^,]+?)"
_SHEET = re.compile(
    rf"(?P<page>letter|a4|{_SIZE})\s*,\s*(?P<columns>\d+){_TIMES}(?P<rows>\d+)\s+of\s+(?P<label>{_SIZE})"
    rf"(?:\s*,\s*from\s+(?P<first>{_SIZE}))?(?:\s*,\s*every\s+(?P<pitch>{_SIZE}))?",
    re.IGNORECASE,
)
_ROLL = re.compile(rf"roll\s*,\s*(?P<label>{_SIZE})", re.IGNORECASE)

Pair = tuple[float, float]


class BadStock(Problem):
    """A sheet or roll that cannot be, or that no tag has room on."""


@dataclass(frozen=True)
class Place:
    """Where one label lies on its sheet [mm]."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class LabelStock:
    """A sheet of labels, or a roll (one label a sheet). Pairs are across and down [mm]. Raises BadStock."""

    name: str
    page: Pair
    grid: tuple[int, int]
    label: Pair
    first: Pair
    """the top left corner of the first label"""
    pitch: Pair
    """from one label to the next"""

    def __post_init__(self) -> None:
        for way, page, count, label, first, pitch in zip(
            ("across", "down"), self.page, self.grid, self.label, self.first, self.pitch, strict=True
        ):
            if not 1 <= count <= MOST_ACROSS or label <= 0 or first < 0:
                raise BadStock(f'"{self.name}": no sheet has {count} labels of {label:g} mm {way}; write for instance {EXAMPLE}.')
            if count > 1 and pitch < label - DUST_MM:
                raise BadStock(
                    f'"{self.name}": labels of {label:g} mm {way} that begin every {pitch:g} mm lie over each other; '
                    "measure from the edge of one label to the same edge of the next."
                )
            reach = first + (count - 1) * pitch + label
            if reach > page + DUST_MM:
                raise BadStock(f'"{self.name}": the labels reach {reach:.1f} mm {way}, the sheet {page:.1f} mm; measure again.')

    @property
    def each_sheet(self) -> int:
        """Labels on a sheet."""
        return self.grid[0] * self.grid[1]

    def places(self) -> tuple[Place, ...]:
        """Every label of a sheet, row by row."""
        return tuple(self._places())

    def _places(self) -> Iterator[Place]:
        for row in range(self.grid[1]):
            for column in range(self.grid[0]):
                yield Place(self.first[0] + column * self.pitch[0], self.first[1] + row * self.pitch[1], *self.label)


@cache
def sold_everywhere() -> dict[str, LabelStock]:
    """The table of common sizes, by name."""
    return {row["name"]: _of(row) for row in table("label_stock")}


def _of(row: Row) -> LabelStock:
    def pair(across: str, down: str) -> Pair:
        return _mm(length_of(float(row[across]), row["unit"])), _mm(length_of(float(row[down]), row["unit"]))

    return LabelStock(
        row["name"],
        pair("page_width", "page_height"),
        (int(row["columns"]), int(row["rows"])),
        pair("width", "height"),
        pair("left", "top"),
        pair("across", "down"),
    )


def label_stock(written: str, unit: str | None = None) -> LabelStock:
    """A size by its name in the table, or as it is typed. `unit`: what a bare number counts.

    Margins and distances that are not typed: labels touch each other and stand in the middle of the sheet.
    Raises BadStock, and what `parse_length` raises.

    >>> label_stock("roll, 4 in x 2 in").label
    (101.6, 50.8)
    >>> label_stock("a4, 2 x 4 of 95 mm x 65 mm").first
    (10.0, 18.5)
    """
    known = sold_everywhere().get(" ".join(written.lower().split()))
    if known is not None:
        return known
    if sheet := _SHEET.fullmatch(written.strip()):
        return _typed_sheet(written, sheet, unit)
    if roll := _ROLL.fullmatch(written.strip()):
        label = _pair(roll["label"], unit)
        return LabelStock(written, label, (1, 1), label, (0.0, 0.0), label)
    names = "; ".join(sold_everywhere())
    raise BadStock(f'"{written}" is no sheet or roll of the table ({names}); write your own as {EXAMPLE}.')


def _typed_sheet(written: str, sheet: re.Match[str], unit: str | None) -> LabelStock:
    page = PAGES.get(sheet["page"].lower()) or _pair(sheet["page"], unit)
    grid, label = (int(sheet["columns"]), int(sheet["rows"])), _pair(sheet["label"], unit)
    pitch = _pair(sheet["pitch"], unit) if sheet["pitch"] else label
    middle = tuple(
        round((whole - (count - 1) * step - size) / 2, 6) + 0.0
        for whole, count, step, size in zip(page, grid, pitch, label, strict=True)
    )
    first = _pair(sheet["first"], unit) if sheet["first"] else (middle[0], middle[1])
    if min(first) < 0:
        raise BadStock(f'"{written}": so many labels do not fit on the sheet; measure again.')
    return LabelStock(written, page, grid, label, first, pitch)


def _pair(written: str, unit: str | None) -> Pair:
    across, down = re.split(_TIMES, written.strip(), maxsplit=1)
    return _mm(parse_length(across, unit)), _mm(parse_length(down, unit))


def _mm(metres: float) -> float:
    return round(metres * 1000, 6)
