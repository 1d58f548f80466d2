"""Which log cannot wait: those that lie there, and what waiting took of those that were sawn."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.logs.sheet import log_sheet
from waney.trade.waited import Waited, stain_took
from waney.trade.waiting import Cost, Own, Waiting, in_order, mean_since
from waney.wood.climate import Climate, climate_of
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.looking import settings
from waney.yard.services.lying import LaySo, Lying, logs_that_lay, lying
from waney.yard.services.woods import wood_of


def waiting_logs(book: Book, today: date, scenarios: Scenarios, climate: Climate | None = None) -> tuple[Cost, ...]:
    """Logs that still lie there, the one that loses most in the coming week first; climate None: no place is known."""
    own = stain_of(logs_that_lay(book), climate)
    return in_order([waiting_of(log, today, climate) for log in lying(book)], scenarios, own)


def own_stain(book: Book) -> Own:
    """What stain took of the shop's own logs, by wood, in the weather of the place that is settled."""
    return stain_of(logs_that_lay(book), climate_settled(settings(book)))


def climate_settled(settled: Mapping[str, str]) -> Climate | None:
    """The weather of the settled place; None: none is settled, or one that no table knows."""
    try:
        return climate_of(settled.get(Setting.PLACE, ""))
    except Problem:
        return None


def stain_of(logs: Iterable[LaySo], climate: Climate | None) -> Own:
    """What stain took of them, by wood. A log whose sheet cannot be read says nothing."""
    found = []
    for one in logs:
        try:
            log = waiting_of(one.log, date.fromisoformat(one.sawn_on), climate)
        except Problem:
            continue
        found.append(Waited(log, one.lost))
    return stain_took(found)


def waiting_of(log: Lying, today: date, climate: Climate | None) -> Waiting:
    """What is known of a log that waits. Raises the sentences of the readers of sheets."""
    read = log_sheet(log.sheet).log
    felled = date.fromisoformat(log.felled_on) if log.felled_on else None
    past = None if climate is None or felled is None else mean_since(climate, felled, today)
    return Waiting(
        log.name,
        read.species or _id(log.species) or log.species,
        None if felled is None else max((today - felled).days, 0),
        read.length_m,
        True if log.sealed_on else None,
        None if read.bark is None else not read.bark.none_left,
        None if climate is None else climate.months[today.month - 1],
        past,
        _value(log.money_cents),
    )


def _value(money_cents: tuple[int, ...]) -> Estimate | None:
    """What its plan leaves; None without a plan that counts in money."""
    if not money_cents:
        return None
    bad, likely, good = (max(float(cents), 0.0) for cents in money_cents)
    return Estimate(likely, bad, good, Basis(Ground.READING, "the saw plan"), 0.0)


def _id(wood: str) -> str:
    found = wood_of(wood)
    return "" if found is None else found.id
