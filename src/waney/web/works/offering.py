"""Offering: the work that answers an offered tree: fetch, only if free, leave; with weight, wood and money."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from waney.figures.estimate import Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.logs.from_sheet import LOG
from waney.papers.fitting import first_line
from waney.papers.ranges import spread
from waney.papers.words import INCHES, METRIC
from waney.sawing.bench import Over
from waney.sawing.fitting import Fitting
from waney.sawing.sheets.from_sheets import ready
from waney.trade.costs_sheet import ShopCosts
from waney.trade.fetch import Costs, Offer, worth_fetching
from waney.trade.learned import Learned
from waney.trade.reading import How, Reading, sheet_of
from waney.trade.record import Record
from waney.units.money import print_money
from waney.units.share import print_share
from waney.web.asked.figure import Figure
from waney.web.asked.offer import OfferAnswer, OfferAsked
from waney.web.asked.packing import as_bytes, read_back
from waney.web.works.figures import bad_likely_good, board_feet, boards, figure, mass, own_money, per_cent, wood
from waney.work.apart import Progress
from waney.yard.acts.settings import Setting
from waney.yard.services.woods import known_wood
from waney.yard.services.worth import shop_costs, shop_sheets

SCENARIOS = Scenarios(seed=1)


def answer_offer(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be answered is answered with its sentence."""
    asked = read_back(given, OfferAsked)
    progress(0.1, "weighing and valuing it")
    try:
        return as_bytes(_answered(asked, map))
    except Problem as why:
        return as_bytes(OfferAnswer(asked.tree, sentence=str(why)))


def _answered(asked: OfferAsked, over: Over) -> OfferAnswer:
    settled: Mapping[str, str] = {Setting.COSTS: asked.costs, Setting.MILL: asked.mill, Setting.WANTS: asked.wants}
    shop = shop_costs(settled)
    read = Reading.told(
        (asked.where, asked.species),
        (asked.girth_m, asked.small_end_m, asked.length_m),
        How(asked.how),
        girth_at_m=asked.girth_at_m,
        yard_tree=asked.yard_tree,
        off=(asked.girth_off, asked.small_end_off, asked.length_off),
    )
    wood_id = known_wood(asked.species)
    record = Record(losses=asked.losses, prices={wood_id: asked.prices}, metal={asked.yard_tree: asked.metal})
    costs = record.for_fetching(shop.on_the_way(asked.way_m, asked.hours), wood_id, asked.yard_tree)
    sheets = shop_sheets(settled)
    unit = (METRIC if asked.metric else INCHES).weight
    found = worth_fetching(read, costs, asked.asked_cents, SCENARIOS, sheets, over, shop.sure, unit)
    return OfferAnswer(
        asked.tree,
        "" if found.reply is None else str(found.reply),
        found.reason,
        spread(found.weight_kg, mass(asked.metric)),
        bad_likely_good(found.money_cents, found.currency) if found.money_cents else "",
        _three(found.money_cents),
        (*_figures(asked, found, shop), *_learned(costs, found.currency), _metal(record.met_metal(asked.yard_tree))),
        found.would_change,
        found.missing,
        (*found.remarks, *_does_not_fit(read, sheets, asked.metric)),
    )


def _does_not_fit(read: Reading, sheets: Mapping[str, str] | None, metric: bool) -> Iterator[str]:
    """A log that this mill cannot take whole gives less in the quick plan than is in it: then the mill decides."""
    if sheets is None or not read.species:
        return
    whole = {**sheets, LOG: sheet_of(read, read.length.likely)}
    try:
        fit = Fitting.of(whole, ready(whole)).fit
    except Problem:
        return
    if fit.limits:
        yield first_line("As it was read, it", fit, METRIC if metric else INCHES)


def _three(money: Estimate | None) -> tuple[int, ...]:
    return () if money is None else (round(money.low), round(money.likely), round(money.high))


def _figures(asked: OfferAsked, found: Offer, shop: ShopCosts) -> Iterator[Figure]:
    """In the order one asks: can I carry it, what is in it, what does it earn."""
    heavy, currency, bears = mass(asked.metric), found.currency, shop.costs.bears_kg
    yield figure("Weight, green with bark", found.weight_kg, heavy, "no table has its density")
    if found.weight_kg is not None:
        writes = METRIC if asked.metric else INCHES
        yield Figure("Lift and haul for", writes.heavy(found.weight_kg.high), "the high end of its weight")
    yield Figure("The trailer bears", "not known" if bears is None else heavy(bears), "the costs sheet")
    yield figure("Wood inside bark", found.wood_m3, wood(asked.metric))
    yield figure("Log scale, International 1/4-inch", found.board_feet, board_feet)
    if found.usable_m3 is not None:
        yield figure("Dry boards by a quick plan", found.usable_m3, boards(asked.metric))
    if not currency:
        return
    yield own_money("It would earn", found.worth_cents, currency, "nobody said what boards earn")
    known = found.fetching_cents if found.fetching_cents.high > 0.0 or not found.missing else None
    yield own_money("Fetching takes", known, currency, "nobody typed what it takes")
    said = "nobody named a price" if asked.asked_cents is None else print_money(asked.asked_cents, currency)
    yield Figure("They ask", said, "the offer")
    yield own_money("Left at that price", found.money_cents, currency, "nobody said what boards earn")


def _metal(met: Learned) -> Figure:
    """The chance of metal that counts a blade, beside what is built in and how many of our own logs say otherwise."""
    start = "" if met.start is None else per_cent(met.start.likely)
    if met.now is None or met.own is None:
        return Figure("Chance of metal", start, "common practice, no source; no log of our own that grew so was sawn to the end")
    ours = f"metal in {met.times} of {met.count} such logs of our own; built in: {start}"
    return Figure("Chance of metal", per_cent(met.now.likely), f"{ours}; ours count {print_share(met.weight)}", own=True)


def _learned(costs: Costs, currency: str) -> Iterator[Figure]:
    """What the shop's own record moved."""
    price, loss = costs.per_board_foot_cents, costs.loss
    if price is not None and price.basis.ground is Ground.HISTORY and currency:
        yield own_money("A dry board foot gets", price, currency)
    if loss is not None and loss.basis.ground is Ground.HISTORY:
        yield figure("Lost in drying", loss, per_cent)
