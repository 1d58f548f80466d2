"""Listing: a list of pieces, logs or a tally, and the same as CSV. Numbers are numbers, their unit stands in the heading.

A cell of words is never a formula: in CSV, words that a spreadsheet program would take for one get a leading apostrophe.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from waney.papers.words import Shop
from waney.units.direction import Direction
from waney.units.length import INCH_NM, MM_NM, from_nanometres, to_nanometres
from waney.units.mass import POUND
from waney.units.quantity import Unit
from waney.units.volume import BOARD_FOOT, CUBIC_METRE

Value = str | float | date | None
"""A cell: words, a number, a day; None stays empty."""
Row = TypeVar("Row")

FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What a cell of words may not begin with: spreadsheet programs read it as a formula (OWASP, CSV injection; from memory)."""
APOSTROPHE = "'"
FIGURES = 4


@dataclass(frozen=True)
class Listing:
    """Headings and rows, ready to be written."""

    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


@dataclass(frozen=True)
class Field(Generic[Row]):
    """One column: its heading, and its value of a row."""

    heading: str
    of: Callable[[Row], Value]


def listing(title: str, fields: Sequence[Field[Row]], rows: Sequence[Row]) -> Listing:
    """A list of rows under these headings."""
    return Listing(
        title, tuple(field.heading for field in fields), tuple(tuple(field.of(row) for field in fields) for row in rows)
    )


def csv_text(made: Listing) -> str:
    """The list as CSV: a header line, commas, a point in numbers, days as 2026-05-04, lines end with CR LF (RFC 4180)."""
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([guarded(heading) for heading in made.headings])
    writer.writerows([_in_csv(value) for value in row] for row in made.rows)
    return out.getvalue()


def guarded(words: str) -> str:
    """Words that no spreadsheet program takes for a formula; the same words where there is nothing to fear.

    >>> guarded("=1+1"), guarded("AB-12-P"), guarded("'tis oak")
    ("'=1+1", 'AB-12-P', "''tis oak")
    """
    return APOSTROPHE + words if words.lstrip(" ").startswith((*FORMULA_SIGNS, APOSTROPHE)) else words


def unguarded(words: str) -> str:
    """The words as they were before `guarded`.

    >>> unguarded(guarded("@home")), unguarded("oak")
    ('@home', 'oak')
    """
    return words.removeprefix(APOSTROPHE)


def _in_csv(value: Value) -> str | float:
    if value is None:
        return ""
    if isinstance(value, date):
        return value.isoformat()
    return guarded(value) if isinstance(value, str) else value


def in_money(currency: str) -> str:
    """What a heading of money ends with."""
    return f" [{currency}]" if currency else ""


def amount(cents: int | None) -> float | None:
    """Money in whole units of the currency."""
    return None if cents is None else cents / 100


# figures in the shop's units


def size_unit(shop: Shop) -> str:
    """What sizes are counted in."""
    return "mm" if shop.sizes.metric else "in"


def size(metres: float | None, shop: Shop) -> float | None:
    """A size that is there, in whole grains of the shop, as a number of millimetres or inches."""
    if metres is None:
        return None
    grain = shop.sizes.value
    steps = to_nanometres(metres, Direction.HAVE) * 1.0 / grain
    return float(Direction.HAVE.whole(steps, 1e-6) * grain / (MM_NM if shop.sizes.metric else INCH_NM))


def length_unit(shop: Shop) -> str:
    """What lengths are counted in."""
    return "m" if shop.sizes.metric else "ft"


def length(metres: float | None, shop: Shop) -> float | None:
    """A length that is there: whole millimetres as metres, or eighths of an inch as feet."""
    if metres is None:
        return None
    grain = MM_NM if shop.sizes.metric else INCH_NM // 8
    whole = Direction.HAVE.whole(metres * 1e9 / grain, 1e-6) * grain
    return from_nanometres(whole) if shop.sizes.metric else round(whole / (12 * INCH_NM), 6)


def volume_unit(shop: Shop) -> Unit:
    """What wood is counted in: board feet of wood as it is, or m3."""
    return CUBIC_METRE if shop.sizes.metric else BOARD_FOOT


def volume(cubic_metres: float | None, shop: Shop) -> float | None:
    """A volume, to four figures."""
    return None if cubic_metres is None else figures(volume_unit(shop).of(cubic_metres))


def mass_unit(shop: Shop) -> str:
    """What weight is counted in."""
    return "lb" if shop.weight is POUND else shop.weight.name


def mass(kilograms: float | None, shop: Shop) -> float | None:
    """A weight, to four figures."""
    return None if kilograms is None else figures(shop.weight.of(kilograms))


def figures(count: float) -> float:
    """A number to four figures."""
    return float(f"{count:.{FIGURES}g}")
