"""What a person asks before deciding: is a tree worth fetching, which log cannot wait, how to cut a stem.

The money of it comes from the shop's settings: the costs sheet, what the mill sheet adds to it, the wants sheet with its prices.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.logs.sheet import log_sheet
from waney.trade.costs_sheet import ShopCosts, read_costs_sheet, with_mill
from waney.trade.reading import How, Reading, sheet_of
from waney.trade.waiting import Cost, Waiting, in_order, mean_since
from waney.wood.climate import Climate
from waney.wood.species import SeveralSpecies, UnknownSpecies, species
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.offered import StemStands, TreeStands
from waney.yard.services.lying import Lying, lying


def shop_costs(settled: Mapping[str, str]) -> ShopCosts:
    """What the shop has settled about money, by the names of the settings. Raises SheetProblems."""
    return with_mill(read_costs_sheet(settled.get(Setting.COSTS, "")), settled.get(Setting.MILL, ""))


def shop_sheets(settled: Mapping[str, str]) -> Mapping[str, str] | None:
    """The shop's mill and wants sheets; None unless both are settled."""
    found = {role: settled.get(role, "") for role in (Setting.MILL.value, Setting.WANTS.value)}
    return found if all(found.values()) else None


def reading_of(found: TreeStands) -> Reading:
    """What was read off a tree of the book."""
    how = How(found.how)
    sizes = (found.girth_m, found.small_end_m, found.length_m)
    return Reading(
        found.where, found.species, *sizes, girth_how=how, small_end_how=how, length_how=how, yard_tree=found.yard_tree
    )


def waiting_logs(book: Book, today: date, scenarios: Scenarios, climate: Climate | None = None) -> tuple[Cost, ...]:
    """Logs that still lie there, the one that loses most in the coming week first; climate None: no place is known."""
    return in_order([waiting_of(log, today, climate) for log in lying(book)], scenarios)


def stem_sheet(found: StemStands) -> str:
    """The log sheet of a whole stem, by what was read off its tree; without a tree by nothing but its length."""
    read = Reading(length_m=found.length_m) if found.tree is None else reading_of(found.tree)
    length = found.length_m or read.length.likely
    own = replace(read, species=_known(found.species or read.species), length_m=length)
    return sheet_of(own, length)


def _known(wood: str) -> str:
    """The wood where a table knows it; empty for any wood."""
    try:
        return species(wood).id if wood else ""
    except (UnknownSpecies, SeveralSpecies):
        return ""


def waiting_of(log: Lying, today: date, climate: Climate | None) -> Waiting:
    """What is known of a log that waits. Raises the sentences of the readers of sheets."""
    read = log_sheet(log.sheet).log
    felled = date.fromisoformat(log.felled_on) if log.felled_on else None
    past = None if climate is None or felled is None else mean_since(climate, felled, today)
    return Waiting(
        log.name,
        read.species or _known(log.species) or log.species,
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
