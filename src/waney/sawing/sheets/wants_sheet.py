"""Wants sheet: what somebody would like from a log (TOML, `waney-wants/1`) becomes Wants, and every blank is said.

Three answers are enough: what first, what from the rest, the least width worth keeping.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import ceil
from typing import TypeVar

from waney.prices.rules import PriceRules, Ranking
from waney.sawing.flat_rolls import ALL_ROUND, Rolls
from waney.sawing.sheets.defaults import Default, Fields
from waney.sawing.sheets.lost_fields import read_lost
from waney.sawing.sheets.price_fields import PER_AREA, PER_VOLUME, ranking_of
from waney.sawing.sheets.product_fields import Offer, Wanted, read_product
from waney.sawing.sheets.product_words import spelled_out
from waney.sawing.wants import Pattern, Tip, Wants
from waney.units.length import length_of
from waney.units.number import Comma
from waney.units.share import print_share
from waney.units.sheet import Reader, Table, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import NotThat, anything, choice, list_of, number, shown, yes_no
from waney.wood.limits import SHRINKAGE_START

T = TypeVar("T")

FORMAT = "waney-wants/1"
NOTHING: object = "nothing"
"""rest = "nothing": what is left over is not wanted"""
LEAST_MC = 0.03
TARGET_MC = 0.08
SHARE_FINISHING = 0.95
METAL_MARGIN_M = {True: length_of(0.5, "in"), False: 0.012}
"""By whether the sheet is in inches or feet."""
ROLLS_EVERY_DEG = 10.0
PATTERNS = {str(pattern): pattern for pattern in Pattern}
TIPS = {"as it lies": Tip.AS_IT_LIES, "pith": Tip.PITH, "bark": Tip.BARK}
STARTS = {"log": True, "cant": False, "flitch": False, "thick piece": False}


@dataclass(frozen=True)
class WantsSheet:
    """Wants as they were typed in, and every default."""

    wants: Wants
    defaults: tuple[Default, ...]


def read_wants_sheet(text: str, length_m: float, comma: Comma = Comma.ASK, rolls: Rolls = ALL_ROUND) -> WantsSheet:
    """The wants of a sheet for a log of this length [m]; `comma` is the shop's setting; `rolls` of the log's flats go in where
    the sheet lists none. Raises SheetProblems with everything."""
    sheet = open_sheet(text, FORMAT)
    m, fields = Measures.of(sheet, comma), Fields(sheet, [])
    least_width = sheet.need("least_width", m.length_from(0.01, 3.0), 0.1)
    _refuse_other_starts(sheet)
    tables = _product_tables(sheet)
    rules, finishing = _costs(fields, m, ranking_of(tables))
    offer = Offer(length_m, least_width, rules.ranking, finishing, read_lost(sheet, m))
    read = [read_product(Fields(table, fields.filled), m, offer) for table in tables]
    wanted = _named_apart([each for each in read if each is not None])
    wants = Wants(
        products=tuple(each.product for each in wanted),
        rules=rules,
        allowances={each.product.name: each.allowance for each in wanted},
        target_mc=fields.fill("target_mc", _dry(m), TARGET_MC, print_share(TARGET_MC)),
        least_width_m=least_width,
        share_finishing=fields.fill(
            "share_finishing", m.percent, SHARE_FINISHING, f"{print_share(SHARE_FINISHING)} of the pieces"
        ),
        own_settings=fields.fill("own_settings", yes_no, False, "no, one green thickness for all pieces of a product"),
        metal_margin_m=fields.fill("metal_margin", m.length_from(0.0, 0.5), *_margin(m)),
    )
    wants = _with_search(Fields(sheet.inside("search") or sheet.spelled_out("search", {}), fields.filled), m, wants, rolls)
    sheet.check()
    return WantsSheet(wants, tuple(fields.filled))


def _refuse_other_starts(sheet: Table) -> None:
    if sheet.take("start", choice(STARTS)) is False:
        sheet.note("start", "what it begins with is told by the log sheet, in [[flat]] and [trimmed]; leave this out.")


def _product_tables(sheet: Table) -> list[Table]:
    """First, then, rest; each in a few words or as a table of fields."""
    found = [_product_table(sheet, "first"), *_further_tables(sheet), _product_table(sheet, "rest")]
    return [table for table in found if table is not None]


def _product_table(sheet: Table, key: str) -> Table | None:
    written = sheet.need(key, anything, NOTHING)
    if written == NOTHING and key == "rest":
        return None
    if isinstance(written, str):
        return sheet.spelled_out(key, spelled_out(written))
    return sheet.inside(key)


def _further_tables(sheet: Table) -> list[Table]:
    written = sheet.take("then", anything)
    words = [written] if isinstance(written, str) else written
    if isinstance(words, list) and words and all(isinstance(each, str) for each in words):
        return [sheet.spelled_out("then", spelled_out(each), place) for place, each in enumerate(words)]
    return list(sheet.entries("then"))


def _named_apart(wanted: list[Wanted]) -> list[Wanted]:
    """Two products of one name get numbers: pieces and drying allowances are found by name."""
    taken: set[str] = set()
    apart = []
    for each in wanted:
        name, number_ = each.product.name, 1
        while name in taken:
            number_ += 1
            name = f"{each.product.name} ({number_})"
        taken.add(name)
        apart.append(replace(each, product=replace(each.product, name=name)))
    return apart


def _costs(fields: Fields, m: Measures, ranking: Ranking) -> tuple[PriceRules, float]:
    """The rates of [costs], and what finishing costs [cents per m2]. Without prices none of them is counted."""
    typed = fields.table.inside("costs")
    costs = Fields(typed or fields.table.spelled_out("costs", {}), fields.filled if ranking is Ranking.MONEY else [])
    salvage = _rate(costs, m, "salvage", "salvage_per", PER_VOLUME, "wood that is none of the products earns nothing")
    drying = _rate(costs, m, "drying_a_day", "drying_per", PER_VOLUME, "drying costs nothing in the plans")
    edging = costs.blank("edging", m.rate, "not typed, so edging costs nothing, and nothing is saved by edging together")
    finishing = _rate(costs, m, "finishing", "finishing_per", PER_AREA, "flattening and planing cost nothing in the plans")
    if ranking is not Ranking.MONEY:
        if typed is not None:
            fields.note("costs", "not counted, because the products have no prices", None)
        return PriceRules(ranking), 0.0
    return PriceRules(ranking, m.currency, salvage, drying, edging or 0.0), finishing


def _rate(costs: Fields, m: Measures, key: str, per_key: str, measures: Mapping[str, float], blank: str) -> float:
    """Cents for one m3 or m2; 0 when nothing was typed."""
    cents = costs.blank(key, m.rate, f"not typed, so {blank}")
    if cents is None:
        costs.table.has(per_key)
        return 0.0
    return cents / costs.table.need(per_key, choice(measures), 1.0)


def _dry(m: Measures) -> Reader[float]:
    def read(value: object) -> float:
        mc = m.mc(value)
        if not LEAST_MC <= mc <= SHRINKAGE_START:
            raise NotThat(
                f"{shown(value)} cannot be; wood in use or dried has {print_share(LEAST_MC)} to {print_share(SHRINKAGE_START)}."
            )
        return mc

    return read


def _margin(m: Measures) -> tuple[float, str]:
    return METAL_MARGIN_M[m.imperial], m.written(METAL_MARGIN_M[m.imperial])


def _with_search(fields: Fields, m: Measures, wants: Wants, rolls: Rolls) -> Wants:
    """How wide the search goes: patterns, rolls, tips, the grid of cant faces."""
    return replace(
        wants,
        patterns=_some(fields, "patterns", PATTERNS, wants.patterns),
        rolls_deg=_rolls(fields, rolls),
        tips=_some(fields, "tips", TIPS, wants.tips),
        face_step_m=fields.blank("face_step", m.length_from(0.0005, 0.1), "every step of the bed scale"),
    )


def _some(fields: Fields, key: str, words: Mapping[str, T], usual: tuple[T, ...]) -> tuple[T, ...]:
    says = ", ".join(word for word, meaning in words.items() if meaning in usual)
    some = fields.fill(key, list_of(choice(words)), usual, says)
    if not some:
        fields.table.note(key, "name at least one, or leave this out.")
    return tuple(dict.fromkeys(some))


def _rolls(fields: Fields, rolls: Rolls) -> tuple[float, ...]:
    """Rolls as listed; else every so many degrees of the full turn and those of the log's flats, or only these."""
    listed = fields.table.take("rolls", list_of(number(0.0, 360.0)))
    every = fields.table.take("rolls_every", number(1.0, 360.0))
    if listed:
        return tuple(sorted({roll % 360.0 for roll in listed}))
    if rolls.only_flats:
        return rolls.flats_deg
    if every is None:
        every = ROLLS_EVERY_DEG
        fields.note("rolls_every", f"{every:g} degrees")
    return rolls.among(tuple(i * every for i in range(ceil(360.0 / every - 1e-9))))
