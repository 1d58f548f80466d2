"""waney waiting: which log in the yard loses most by another week."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.books import YARD, FilesIn, Where, lies_at
from waney.cli.days import parse_day
from waney.cli.views import Json
from waney.units.share import print_share

if TYPE_CHECKING:
    from waney.cli.answers import WaitingLog, WaitingLogs
    from waney.trade.waiting import Cost


@answering
def waiting(
    book: Where = YARD,
    files: FilesIn = None,
    state: Annotated[str | None, typer.Option(help="Two letters; with --place, for the weather.")] = None,
    place: Annotated[str | None, typer.Option(help="The nearest station; `waney emc --state` lists them.")] = None,
    on: Annotated[str | None, typer.Option(metavar="<date>", help="The day the week begins; else today.")] = None,
    json: Json = None,
) -> None:
    """Logs in the yard, the one that loses most by another week first: by stain and end checks, with ranges and their sources.

    A wood that no table knows has no value and stands last. Without a place here or in the settings the weather may be any.
    """
    from waney.cli.answers import WaitingLogs
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.wood.climate import climate_of, station
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings
    from waney.yard.services.waiting import waiting_logs

    can_be_written(json)
    if (state is None) != (place is None):
        raise WrittenWrong("The weather needs both --state and --place.")
    today = _day(on)
    opened = open_book(lies_at(book, files))
    climate = climate_of(settings(opened).get("place", "")) if state is None or place is None else station(state, place)
    with working("Looking at the logs"):
        costs = waiting_logs(opened, today, SCENARIOS, climate)
    answer = WaitingLogs(tuple(_one(cost) for cost in costs), costs[0].not_counted if costs else ())
    say(answer, json, lambda: _lines(answer))


def _day(text: str | None) -> date:
    return date.today() if text is None else parse_day(text, "--on")


def _one(cost: Cost) -> WaitingLog:
    from waney.cli.answers import WaitingLog, range_of, ranged

    log = cost.log
    shares = (range_of(cost.stain), ranged(cost.checks), range_of(cost.share), range_of(cost.cents))
    return WaitingLog(log.name, log.species, log.days, cost.trouble, *shares, cost.reason)


def _lines(answer: WaitingLogs) -> Iterator[str]:
    if not answer.logs:
        yield "No log waits."
        return
    yield "Lost by another week, of the log's value:"
    for log in answer.logs:
        if log.share is None:
            yield f"  {log.log} ({log.species}): {log.reason}: {print_share(log.end_checks.likely, 1)}."
            continue
        share = f"{print_share(log.share.likely, 1)}, {print_share(log.share.low, 1)} to {print_share(log.share.high, 1)}"
        cents = (
            ""
            if log.cents is None
            else f"; likely {log.cents.likely / 100:.2f}, {log.cents.low / 100:.2f} to {log.cents.high / 100:.2f} in money"
        )
        yield f"  {log.log} ({log.species}): {share}{cents}. {log.reason[:1].upper()}{log.reason[1:]}. From {log.share.basis}."
    yield from (f"Not counted: {line}." for line in answer.not_counted)
