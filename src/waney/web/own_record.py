"""Our own record as the year shows it: ours, typed or built in, from how many, what counts now; and its way into plans."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from typing import TYPE_CHECKING

from waney.figures.problem import Problem
from waney.web.shop import Shop, currency_of, writes
from waney.web.showing import Figures

if TYPE_CHECKING:
    from waney.papers.words import Shop as Writes
    from waney.trade.learned import Learned
    from waney.trade.record import Record


@dataclass(frozen=True)
class RecordRow:
    """A figure as the shop's own cases have it, as it was typed or built in, from how many, and what counts now."""

    what: str
    own: str
    start: str
    count: int
    now: str


def record_rows(shop: Shop) -> tuple[tuple[RecordRow, ...], tuple[RecordRow, ...]]:
    """The record, and losses in drying by thickness; nothing for sheets that cannot be read."""
    from waney.yard.services.earning import shop_terms
    from waney.yard.services.record import own_record
    from waney.yard.services.worth import shop_costs

    settled = shop.settled()
    try:
        record, terms, costs = own_record(shop.book), shop_terms(settled), shop_costs(settled).costs
    except Problem:
        return (), ()
    money = money_in(currency_of(settled))
    return (
        _row(record.pace(terms), _feet, "sawn and tallied in an hour"),
        _row(record.over_scale(terms), _times, "tally for one board foot of International scale"),
        _row(record.loss(costs), _share, "of a log's boards lost in drying"),
        _row(record.until_mill(), _hours, "from beginning a sawing day to the first word from the mill, 5 minutes to 4 hours"),
        *(_row(record.met_metal(kind), _share, f"chance of metal, {words}") for kind, words in GREW.items()),
        *(_row(one, _share, f"{one.what} once it is all there, {woods}") for one, woods in _stains(record)),
        *(_row(record.price(costs, wood), money, f"a board foot of {Figures.wood(wood)}") for wood in record.prices),
    ), tuple(_losses(record, writes(settled)))


GREW = {True: "grown by a house or a road", False: "grown in the woods", None: "nobody told where it grew"}


def _stains(record: Record) -> list[tuple[Learned, str]]:
    """What stain takes of a log, of the woods of which an own log lay long."""
    from waney.trade.storage import keeping_of
    from waney.trade.waiting import stain_learned

    kept = [keeping for begins in record.stain if (keeping := keeping_of(begins)) is not None]
    return [(stain_learned(keeping, record.stain), keeping.begins.strip("_").replace("_", " ")) for keeping in kept]


def _losses(record: Record, write: Writes) -> list[RecordRow]:
    from waney.sawing.sheets.lost_fields import built_in

    rows, before = [], 0.0
    for one in built_in():
        over = f"over {write.have(before)} thick" if before else ""
        words = over if one.up_to_m == inf else f"up to {write.have(one.up_to_m)} thick"
        rows.append(_row(record.loss_up_to(one.up_to_m, one.share), _share, words))
        before = one.up_to_m
    return rows


def money_in(currency: str | None) -> Callable[[float | None], str]:
    """How an amount is written."""
    return lambda cents: Figures.money(None if cents is None else round(cents), currency)


def _row(found: Learned, say: Callable[[float], str], what: str) -> RecordRow:
    from waney.papers.ranges import spread

    own = "nothing yet" if found.own is None else say(found.own)
    start = "nobody typed it" if found.start is None else spread(found.start, say)
    return RecordRow(what, own, start, found.count, "too little" if found.now is None else spread(found.now, say))


def _feet(count: float) -> str:
    return f"{count:.0f} board feet"


def _hours(count: float) -> str:
    return f"{count:.1f} hours"


def _times(ratio: float) -> str:
    return f"{ratio:.2f}"


def _share(part: float) -> str:
    return f"{100 * part:.0f} %"
