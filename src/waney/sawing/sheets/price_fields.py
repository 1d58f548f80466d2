"""Prices as a wants sheet knows them: money for a measure, else an order of liking, else usable dry volume."""

from __future__ import annotations

from collections.abc import Sequence

from waney.pieces.measures import BOARD_FOOT_M3, FOOT_M
from waney.prices.product import Edges, Per, PriceRule, WidthRule
from waney.prices.rules import Ranking
from waney.sawing.sheets.defaults import Fields
from waney.units.sheet import Table
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, number, yes_no

CENTS_PER_M3 = 100_000.0
"""A litre of usable dry wood is one point, kept in hundredths as money is."""

PER: dict[str, tuple[Per, float]] = {
    "board foot": (Per.BOARD_FOOT, 1.0),
    "thousand board feet": (Per.BOARD_FOOT, 1000.0),
    "m3": (Per.CUBIC_METRE, 1.0),
    "cubic foot": (Per.CUBIC_METRE, FOOT_M**3),
    "square foot": (Per.SQUARE_FOOT, 1.0),
    "m2": (Per.SQUARE_METRE, 1.0),
    "foot": (Per.FOOT, 1.0),
    "m": (Per.METRE, 1.0),
    "piece": (Per.PIECE, 1.0),
}
"""How a price may be written: the measure it is paid for, and how many of it."""
PER_VOLUME = {"board foot": BOARD_FOOT_M3, "thousand board feet": 1000 * BOARD_FOOT_M3, "m3": 1.0, "cubic foot": FOOT_M**3}
"""m3"""
PER_AREA = {"square foot": FOOT_M**2, "m2": 1.0}
"""m2"""
ONLY_WITH_PRICE = ("per", "by_nominal", "thin_counts_as_inch", "wider")
WIDTH_RULES = {str(rule): rule for rule in WidthRule}


def ranking_of(products: Sequence[Table]) -> Ranking:
    """Money when the products have prices, else liking when one has a ratio, else volume. A price on some only is noted."""
    priced = [table.has("price") for table in products]
    for table, has_price in zip(products, priced, strict=True):
        if any(priced) and not has_price:
            table.note("price", "other products have a price and this one has none; give all of them one, or none.")
    if any(priced):
        return Ranking.MONEY
    return Ranking.LIKING if any([table.has("liking") for table in products]) else Ranking.VOLUME


def price_rule(fields: Fields, m: Measures, ranking: Ranking, edges: Edges) -> PriceRule:
    """The rule of one product: as typed, or points for each m3 of its own dry, finished size."""
    width = _width_rule(fields, edges)
    if ranking is Ranking.MONEY:
        fields.table.has("liking")  # may stand beside a price and is then not used
        return _money_rule(fields, m, width)
    for key in ONLY_WITH_PRICE:
        if fields.table.has(key):
            fields.table.note(key, "this belongs to a price, and there is no line `price`.")
    liking = fields.table.take("liking", number(0.0, 1000.0))
    if ranking is Ranking.LIKING and liking is None:
        fields.note("liking", "1")
    return PriceRule(Per.CUBIC_METRE, CENTS_PER_M3 * (1.0 if liking is None else liking), width, by_nominal=False)


def _width_rule(fields: Fields, edges: Edges) -> WidthRule:
    typed = fields.table.take("width_rule", choice(WIDTH_RULES))
    if typed is None and edges is Edges.LIVE:
        fields.note("width_rule", str(WidthRule.NARROW_FACE))
    return typed or WidthRule.NARROW_FACE


def _money_rule(fields: Fields, m: Measures, width: WidthRule) -> PriceRule:
    per, many = fields.table.need("per", choice(PER), (Per.PIECE, 1.0))
    cents = (fields.table.take("price", m.rate) or 0.0) / many  # a missing price was noted by ranking_of
    volume = per in (Per.BOARD_FOOT, Per.CUBIC_METRE)
    nominal, thin = fields.table.take("by_nominal", yes_no), fields.table.take("thin_counts_as_inch", yes_no)
    if volume and nominal is None:
        fields.note("by_nominal", "yes, the nominal thickness is paid")
    if per is Per.BOARD_FOOT and thin is None:
        fields.note("thin_counts_as_inch", "yes, under 1 in is paid as 1 in")
    return PriceRule(per, cents, width, nominal is not False, thin is not False, _wide_factors(fields.table, m))


def _wide_factors(table: Table, m: Measures) -> tuple[tuple[float, float], ...]:
    steps = [
        (entry.need("from_width", m.length_from(0.01, 5.0), 0.0), entry.need("factor", number(0.0, 100.0), 1.0))
        for entry in table.entries("wider")
    ]
    return tuple(sorted(steps))
