"""Costs sheet: what fetching takes and what wood earns, typed once (TOML, `waney-costs/1`). Nothing stands in for a blank.

format, units, comma, currency
driving, hourly, loading, bears          the way to a tree and back
board_foot, sawing, drying, loss         what dry boards earn, where no plan prices them
blade, sealing, sure                     metal, coated ends, how sure an answer must be
shed, sharing                            an area of shed for a year; how pieces share what their log has cost

Money and shares may be a range in quotes, "2 to 4": the low and the high end of what is usual, the likely one in the middle.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from waney.figures.estimate import Basis, Estimate, Ground
from waney.sawing.sheets.mill_sheet import read_mill_sheet
from waney.trade.costing import Sharing
from waney.trade.fetch import SURE, Costs
from waney.units.area import AREA, SQUARE_FOOT, SQUARE_METRE
from waney.units.duration import DURATION, HOUR
from waney.units.number import Comma
from waney.units.sheet import Reader, open_sheet
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, low_to_high
from waney.units.way import KILOMETRE, WAY, way_of

FORMAT = "waney-costs/1"
TYPED = Basis(Ground.READING, "what the shop typed")
"""basis of every figure of this sheet"""
ASKS: Mapping[str, str] = MappingProxyType(
    {
        "driving": "what a mile or kilometre costs",
        "hourly": "what an hour costs",
        "loading": "what loading costs",
        "bears": "what the trailer bears",
        "board_foot": "what a dry board foot earns",
        "sawing": "what sawing a board foot costs",
        "drying": "what drying a board foot costs",
        "loss": "what is lost in drying",
        "blade": "what a blade costs",
        "sealing": "what coating both ends of a log costs",
    }
)
"""The fields that no page can do without, and what each asks for."""
NOTHING = Costs()


@dataclass(frozen=True)
class ShopCosts:
    """costs: without a way and hours, which belong to a tree; sure: share of the cases [-] in which money must be left.

    shed_cents: a m2 of shed floor for a year; sharing: what pieces share the costs of their log by.
    not_known: what nobody typed, in words, in the order of the sheet; from_mill: what was taken from the mill sheet.
    """

    costs: Costs = NOTHING
    sealing_cents: float | None = None
    sure: float = SURE
    shed_cents: float | None = None
    sharing: Sharing = Sharing.VOLUME
    not_known: tuple[str, ...] = tuple(ASKS.values())
    from_mill: tuple[str, ...] = ()

    def on_the_way(self, way_m: float | None, hours: float | None) -> Costs:
        """What one tree takes. way_m: there and back; hours: everybody's together, taken as give or take a quarter."""
        about = None if hours is None else Estimate(hours, 0.75 * hours, 1.25 * hours, TYPED, 0.0)
        return replace(self.costs, way_km=None if way_m is None else KILOMETRE.of(way_m), hours=about)


def read_costs_sheet(text: str, comma: Comma = Comma.ASK) -> ShopCosts:
    """The costs of a sheet; empty text: nothing is known. Raises SheetProblems with everything that is wrong."""
    if not text.strip():
        return ShopCosts()
    sheet = open_sheet(text, FORMAT)
    m = Measures.of(sheet, comma)
    driving = sheet.take("driving", m.rate_for(WAY, way_of(m.imperial)))
    loading = sheet.take("loading", m.rate)
    costs = Costs(
        currency=m.currency,
        km_cents=None if driving is None else driving / KILOMETRE.of(way_of(m.imperial).in_si(1.0)),
        hour_cents=sheet.take("hourly", m.rate_for(DURATION, HOUR)),
        loading_cents=None if loading is None else round(loading),
        bears_kg=sheet.take("bears", m.mass),
        per_board_foot_cents=sheet.take("board_foot", ranged(m.rate)),
        sawing_cents=sheet.take("sawing", m.rate),
        drying_cents=sheet.take("drying", m.rate),
        loss=sheet.take("loss", ranged(m.percent)),
        blade_cents=sheet.take("blade", m.rate),
    )
    sealing, sure = sheet.take("sealing", m.rate), sheet.take("sure", m.percent)
    floor = SQUARE_FOOT if m.imperial else SQUARE_METRE
    shed = sheet.take("shed", m.rate_for(AREA, floor))
    shed_cents = None if shed is None else shed / floor.in_si(1.0)
    sharing = sheet.take("sharing", choice({str(each): each for each in Sharing})) or Sharing.VOLUME
    not_known = tuple(words for key, words in ASKS.items() if not sheet.has(key))
    sheet.check()
    return ShopCosts(costs, sealing, SURE if sure is None else sure, shed_cents, sharing, not_known)


def ranged(read: Reader[float]) -> Reader[Estimate]:
    """A reader of one figure, or of "2 to 4": low to high, the likely one half way."""

    def both(value: object) -> Estimate:
        low, high = low_to_high(read)(value)
        return Estimate.known(low, TYPED) if low == high else Estimate(0.5 * (low + high), low, high, TYPED, 0.0)

    return both


def with_mill(shop: ShopCosts, mill_sheet: str) -> ShopCosts:
    """An hour and a blade that only the mill sheet names, where it counts in the same money. Raises SheetProblems."""
    if not mill_sheet.strip():
        return shop
    read, costs = read_mill_sheet(mill_sheet), shop.costs
    if costs.currency not in ("", read.currency):
        return shop
    taken = {
        key: cents
        for key, field, cents in (
            ("hourly", "hour_cents", read.mill.hourly_cents),
            ("blade", "blade_cents", read.mill.blade_cents),
        )
        if cents is not None and getattr(costs, field) is None
    }
    if not taken:
        return shop
    filled = replace(
        costs,
        currency=read.currency,
        hour_cents=taken.get("hourly", costs.hour_cents),
        blade_cents=taken.get("blade", costs.blade_cents),
    )
    words = tuple(ASKS[key] for key in taken)
    return replace(shop, costs=filled, not_known=tuple(each for each in shop.not_known if each not in words), from_mill=words)
