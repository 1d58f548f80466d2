"""What a person asks before deciding: is a tree worth fetching, which log cannot wait, how to cut a stem."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.logs.sheet import log_sheet
from waney.prices.rules import Ranking
from waney.sawing.plan_file import read_plan
from waney.sawing.sheets.from_sheets import WANTS
from waney.sawing.sheets.wants_sheet import read_wants_sheet
from waney.trade.crosscut import Compared, compared
from waney.trade.fetch import Costs, Offer, worth_fetching
from waney.trade.reading import Reading, sheet_of
from waney.trade.waiting import Cost, Waiting, in_order, mean_since
from waney.wood.climate import Climate
from waney.yard.acts.settings import Setting
from waney.yard.book.book import Book
from waney.yard.book.looking import LogStands, logs, plan_file, settings
from waney.yard.book.offered import TreeStands, stem, tree
from waney.yard.problems import NotInBook


def value_offer(book: Book, ident: str, costs: Costs, scenarios: Scenarios, *, with_plan: bool = False) -> Offer:
    """Answer the offer of a tree of the book; nothing is written.

    with_plan: saw it in thought, by the shop's mill and wants sheets. Raises NotInBook.
    """
    found = tree(book, ident)
    if found is None:
        raise NotInBook("No such tree was offered; look at the list of trees.")
    return worth_fetching(reading_of(found), costs, found.asked_cents, scenarios, _sheets(book) if with_plan else None)


def reading_of(found: TreeStands) -> Reading:
    """What was read off a tree of the book."""
    return Reading(found.where, found.species, found.girth_m, found.small_end_m, found.length_m)


def waiting_logs(book: Book, today: date, scenarios: Scenarios, climate: Climate | None = None) -> tuple[Cost, ...]:
    """Logs that still lie there, the one that loses most in the coming week first; climate None: no place is known."""
    there = [log for log in logs(book, in_yard=True)]
    return in_order([_waiting(book, log, today, climate) for log in there], scenarios)


def compare_cuts(
    book: Book, ident: str, ways: Sequence[Sequence[float]], scenarios: Scenarios, *, with_plan: bool = False
) -> Compared:
    """Compare ways [m] to cut a stem of the book; what was read off its tree shapes it. Raises NotInBook, DoesNotFit."""
    found = stem(book, ident)
    if found is None:
        raise NotInBook("No such stem lies there; look at the list of stems.")
    read = Reading(length_m=found.length_m) if found.tree is None else reading_of(found.tree)
    length = found.length_m or read.length.likely
    own = Reading(read.name, found.species or read.species, read.girth_m, read.small_end_m, length)
    return compared(sheet_of(own, length), ways, scenarios, _sheets(book) if with_plan else None)


def _sheets(book: Book) -> Mapping[str, str] | None:
    """The shop's mill and wants sheets; None unless both are settled."""
    settled = settings(book)
    found = {role: settled.get(role, "") for role in (Setting.MILL.value, Setting.WANTS.value)}
    return found if all(found.values()) else None


def _waiting(book: Book, log: LogStands, today: date, climate: Climate | None) -> Waiting:
    read = log_sheet(log.sheet).log
    felled = date.fromisoformat(log.felled_on) if log.felled_on else None
    past = None if climate is None or felled is None else mean_since(climate, felled, today)
    return Waiting(
        log.name,
        log.species,
        None if felled is None else max((today - felled).days, 0),
        read.length_m,
        None,
        None if read.bark is None else not read.bark.none_left,
        None if climate is None else climate.months[today.month - 1],
        past,
        _value(book, log),
    )


def _value(book: Book, log: LogStands) -> Estimate | None:
    """What the chosen plan leaves, else the last; None without a plan that counts in money."""
    ident = log.chosen or (log.plans[-1] if log.plans else "")
    if not ident:
        return None
    plan, sheets = read_plan(plan_file(book, ident).decode("utf-8"))
    if (
        plan.outcome is None
        or read_wants_sheet(sheets[WANTS], log_sheet(log.sheet).log.length_m).wants.rules.ranking is not Ranking.MONEY
    ):
        return None
    cents = plan.outcome.cents
    points = sorted((max(cents.bad, 0.0), max(cents.likely, 0.0), max(cents.good, 0.0)))
    return Estimate(points[1], points[0], points[2], Basis(Ground.READING, "the saw plan"), 0.0)
