"""Prices sheet: what the shop asks for wood on its shelf (TOML, `waney-prices/1`).

format, units, comma, currency
width, thin_counts_as_inch, set_whole
[[wood]]     species, board_foot or cubic_metre, square_foot or square_metre, piece
[[thicker]]  from_thickness, factor
[[wider]]    from_width, factor
[[older]]    from_months, factor
[[figure]]   word, factor
"""

from __future__ import annotations

from collections.abc import Mapping

from waney.prices.product import Per, PriceRule, WidthRule
from waney.prices.shelf import Factors, ShelfPrices, Steps
from waney.units.duration import YEAR_DAYS
from waney.units.number import Comma
from waney.units.sheet import Reader, Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, number, text, yes_no
from waney.wood.species import species

FORMAT = "waney-prices/1"
DAYS_A_MONTH = YEAR_DAYS / 12.0
PER: Mapping[str, Per] = {
    "board_foot": Per.BOARD_FOOT,
    "cubic_metre": Per.CUBIC_METRE,
    "square_foot": Per.SQUARE_FOOT,
    "square_metre": Per.SQUARE_METRE,
    "piece": Per.PIECE,
}
ONE_OF = (("board_foot", "cubic_metre"), ("square_foot", "square_metre"))
WIDTHS = {str(rule): rule for rule in WidthRule}


def read_price_sheet(words: str, comma: Comma = Comma.ASK) -> ShelfPrices:
    """The prices of a sheet; empty text: none. Raises SheetProblems with everything that is wrong."""
    if not words.strip():
        return ShelfPrices()
    sheet = open_sheet(words, FORMAT)
    m = Measures.of(sheet, comma)
    width = sheet.take("width", choice(WIDTHS)) or WidthRule.NARROW_FACE
    thin = sheet.take("thin_counts_as_inch", yes_no) is not False
    woods = dict(_wood(entry, m, width, thin) for entry in sheet.entries("wood"))
    length, months = m.length_from(0.0, 5.0), number(0.0, 1200.0)
    factors = Factors(
        thick=_steps(sheet, "thicker", "from_thickness", length),
        wide=_steps(sheet, "wider", "from_width", length),
        old=tuple((least * DAYS_A_MONTH, factor) for least, factor in _steps(sheet, "older", "from_months", months)),
        figure={entry.need("word", text, "").lower(): _factor(entry) for entry in sheet.entries("figure")},
        set_whole=sheet.take("set_whole", number(0.0, 100.0)) or 1.0,
    )
    sheet.check()
    return ShelfPrices(m.currency, width, woods, factors)


def _wood(entry: Table, m: Measures, width: WidthRule, thin: bool) -> tuple[str, tuple[PriceRule, ...]]:
    for one, other in ONE_OF:
        if entry.has(one) and entry.has(other):
            entry.note(other, f"{one} and {other} say the same price twice; leave one out.")
    priced = ((per, entry.take(key, m.rate)) for key, per in PER.items())
    rules = tuple(PriceRule(per, cents, width, False, thin) for per, cents in priced if cents is not None)
    wood = entry.need("species", lambda value: species(text(value)), None)
    return ("" if wood is None else wood.id), rules


def _steps(sheet: Table, key: str, least: str, read: Reader[float]) -> Steps:
    return tuple(sorted((entry.need(least, read, 0.0), _factor(entry)) for entry in sheet.entries(key)))


def _factor(entry: Table) -> float:
    return entry.need("factor", number(0.0, 100.0), 1.0)
