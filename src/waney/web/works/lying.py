"""Lying: the work that puts the logs of the yard in the order of what another week costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.ranges import spread
from waney.trade.learned import Learned
from waney.trade.storage import keeping_of
from waney.trade.waiting import Cost, Own, Waiting, cost_of_week, in_order_of_costs, stain_learned
from waney.units.share import print_share
from waney.units.temperature import Degree, print_temperature
from waney.web.asked.figure import Figure
from waney.web.asked.waiting import LogWaits, WaitingAnswer, WaitingAsked
from waney.web.works.figures import figure, money, per_cent, told_by
from waney.wood.climate import Climate, climate_of
from waney.work.apart import Progress
from waney.yard.services.lying import Lying
from waney.yard.services.waiting import waiting_of

SCENARIOS = Scenarios(seed=1)


def logs_waiting(given: bytes, progress: Progress) -> bytes:
    """The job."""
    asked = WaitingAsked.read(given)
    climate, remarks = _climate(asked.place)
    costs: list[tuple[Lying, Cost]] = []
    own = asked.own
    for number, log in enumerate(asked.logs, 1):
        try:
            costs.append((log, cost_of_week(waiting_of(log, date.fromisoformat(asked.today), climate), SCENARIOS, own)))
        except Problem as why:
            remarks.append(f"{log.name}: {why}")
        progress(number / len(asked.logs), f"log {number} of {len(asked.logs)}")
    ordered, by_money = in_order_of_costs([cost for _, cost in costs])
    of = {id(cost): log for log, cost in costs}
    rows = tuple(_row(of[id(cost)], cost, asked, climate, own) for cost in ordered)
    not_counted = ordered[0].not_counted if ordered else ()
    return WaitingAnswer(rows, asked.today, by_money and bool(asked.money), not_counted, tuple(remarks)).as_bytes()


def _climate(place: str) -> tuple[Climate | None, list[str]]:
    """The weather that is known, and what to say where none is."""
    try:
        found = climate_of(place)
    except Problem as why:
        return None, [f"The nearest place in the settings: {why}"]
    return found, [] if found else ["No place is settled, so the weather may be that of any month; the ranges are wide."]


def _row(log: Lying, cost: Cost, asked: WaitingAsked, climate: Climate | None, own: Own) -> LogWaits:
    said = "" if cost.cents is None or not asked.money else spread(cost.cents, money(asked.money))
    return LogWaits(
        log.id,
        "" if cost.share is None else spread(cost.share, per_cent),
        said,
        cost.reason,
        tuple(_figures(log, cost, asked, climate, own)),
    )


def _figures(log: Lying, cost: Cost, asked: WaitingAsked, climate: Climate | None, own: Own) -> Iterator[Figure]:
    kept = keeping_of(cost.log.species)
    if cost.stain is not None and kept is not None:
        yield figure(f"Lost to {cost.trouble}", cost.stain, per_cent)
        yield figure("The wood keeps, in warm weather", kept.weeks, lambda weeks: f"{weeks:.3g} weeks")
        yield _in_the_end(stain_learned(kept, own))
    yield figure("Lost to end checks", cost.checks, per_cent)
    waits = cost.log
    yield Figure("Since felling", "not known" if waits.days is None else f"{waits.days:.0f} days", "the log's sheet")
    yield Figure("Ends", f"sealed {log.sealed_on}" if log.sealed_on else "nobody said that they are sealed", "the book")
    yield Figure("Bark", {None: "not known", True: "on", False: "off"}[waits.bark_on], "the log's sheet")
    yield _weather(waits, climate, asked.metric)
    if cost.cents is not None and asked.money:
        yield replace(figure("In money", cost.cents, money(asked.money)), own=True)


def _in_the_end(stain: Learned) -> Figure:
    """What stain takes once it is all there: what counts, and our own and the table's beside it."""
    what = f"{stain.what.capitalize()} once it is all there"
    shown = figure(what, stain.now, per_cent)
    if stain.own is None or stain.start is None:
        return shown
    ours = f"ours {per_cent(stain.own)}, of {stain.count} logs that lay long; the table {spread(stain.start, per_cent)}"
    return replace(shown, basis=f"{ours}; ours count {print_share(stain.weight)}", source="", own=True)


def _weather(waits: Waiting, climate: Climate | None, metric: bool) -> Figure:
    if waits.air is None or climate is None:
        return Figure("Weather of the week", "not known", "no place is settled: any month")
    words, key = told_by(climate.basis)
    degrees = print_temperature(waits.air.temperature_c, Degree.CELSIUS if metric else Degree.FAHRENHEIT)
    return Figure("Weather of the week", f"{degrees}, {print_share(waits.air.humidity)} humidity", words, key)
