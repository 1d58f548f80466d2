"""Tax lines of a terms sheet, read without the rest of it: a page that only sells needs no more."""

from __future__ import annotations

from fractions import Fraction

from waney.trade.tax import On, Rounding, Tax
from waney.units.number import Comma
from waney.units.sheet import Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, text

TERMS = "waney-terms/1"


def read_taxes(words: str, comma: Comma = Comma.ASK) -> tuple[Tax, ...]:
    """The taxes of a terms sheet that was read whole when it was settled; empty text: none. Raises SheetProblems."""
    if not words.strip():
        return ()
    sheet = open_sheet(words, TERMS)
    return taxes_in(sheet, Measures.of(sheet, comma))


def taxes_in(sheet: Table, m: Measures) -> tuple[Tax, ...]:
    """Its [[tax]] entries."""
    return tuple(_tax(entry, m) for entry in sheet.entries("tax"))


def _tax(entry: Table, m: Measures) -> Tax:
    share = entry.need("percent", m.percent, 0.0)
    return Tax(
        entry.need("name", text, "tax"),
        Fraction(f"{share:.9f}"),
        entry.need("on", choice({str(each): each for each in On}), On.SUM),
        entry.need("rounding", choice({str(each): each for each in Rounding}), Rounding.HALF_UP),
    )
