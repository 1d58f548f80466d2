"""waney quote: somebody's logs quoted by the hour, by the board foot and on shares."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import WrittenWrong, answering
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers import Range
    from waney.cli.answers_money import JobQuoted, LogQuoted, WayQuoted
    from waney.trade.custom import LogCount, Quoted, QuotedWay
    from waney.trade.terms import Terms


@answering
def quote(
    logs: Annotated[list[Path], typer.Argument(help="The log sheets of the job.")],
    terms: Annotated[Path | None, typer.Option(help="The terms sheet.")] = None,
    way: Annotated[str, typer.Option(help="To the logs and back: 38 mi or 60 km.")] = "0 km",
    way_hours: Annotated[float, typer.Option(help="Hours on the way, there and back.", min=0.0)] = 0.0,
    yard: Annotated[
        str | None,
        typer.Option(metavar="<folder|address>", help="A yard: its own record of pace and yield, its terms."),
    ] = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """Quote somebody's logs by the hour, by the board foot and on shares, bad, likely and good, with the sawyer's true hourly.

    Pace and yield go by the yard's own record as far as it goes.
    Half-measured logs give a wider range. A price by one log rule is never worked out by another.
    """
    from waney.cli.doubts import SCENARIOS
    from waney.cli.files import can_be_written, read_text
    from waney.cli.progress import working
    from waney.cli.saying import say
    from waney.cli.settled import record_in, settled_in
    from waney.trade.custom import Job, quoted
    from waney.trade.terms import read_terms
    from waney.units.sheet import called
    from waney.units.way import KILOMETRE, parse_way

    can_be_written(json)
    if len({path.stem for path in logs}) < len(logs):
        raise WrittenWrong("Two log sheets have the same name; give each log of the job its own.")
    settled = settled_in(yard, {"terms": terms})
    if "terms" not in settled:
        raise WrittenWrong("Name the terms sheet with --terms, or a yard that has settled one with --yard.")
    with called(str(terms or yard)):
        known = record_in(yard).for_quote(read_terms(settled["terms"]))
    job = Job({path.stem: read_text(path) for path in logs}, KILOMETRE.of(parse_way(way)), way_hours)
    with working("Scaling the logs in every state they may be in"):
        found = quoted(job, known, SCENARIOS)
    answer = _answer(found, known)
    say(answer, json, lambda: _lines(answer, units))


def _answer(found: Quoted, terms: Terms) -> JobQuoted:
    from waney.cli.answers import range_of, ranged
    from waney.cli.answers_money import JobQuoted

    return JobQuoted(
        terms.currency,
        str(found.by),
        range_of(found.scale),
        ranged(found.tally),
        range_of(found.hours),
        terms.must_earn_cents,
        tuple(map(_log, found.logs)),
        tuple(map(_way, found.ways)),
        found.not_counted,
    )


def _log(log: LogCount) -> LogQuoted:
    from waney.cli.answers import ranged
    from waney.cli.answers_money import LogQuoted

    read = next((counted.read for counted in log.scales.values()), "")
    feet = tuple((str(by), ranged(found)) for by, found in log.ranges.items())
    return LogQuoted(log.name, log.wood, log.small_end_m, log.length_m, read, feet, log.remarks)


def _way(way: QuotedWay) -> WayQuoted:
    from waney.cli.answers import range_of
    from waney.cli.answers_money import WayQuoted

    return WayQuoted(str(way.how), range_of(way.paid_cents), range_of(way.hourly_cents), range_of(way.keeps), way.missing)


def _lines(answer: JobQuoted, units: View) -> Iterator[str]:
    from waney.cli.money import ranged, said
    from waney.cli.views import shop_of

    shop = shop_of(units)
    for log in answer.logs:
        sizes = f"small end {shop.read(log.small_end_m)} inside bark, {shop.read(log.length_m)} long"
        yield f"{log.log}: {log.wood or 'wood not known'}, {sizes}; the rules read {log.read}"
        yield f"  {', '.join(f'{rule} {_feet(feet)}' for rule, feet in log.board_feet)}"
        yield from (f"  Note: {remark}" for remark in log.remarks)
    yield f"All logs by {answer.rule}: {_feet(answer.scale_board_feet)} board feet; likely tally {_feet(answer.tally_board_feet)}"
    if answer.hours is not None:
        hours = f"{answer.hours.likely:.1f} ({answer.hours.low:.1f} to {answer.hours.high:.1f})"
        yield f"Hours, the way and setting up included: {hours}"
    for way in answer.ways:
        yield f"{way.how[:1].upper()}{way.how[1:]}: {ranged(way.paid_cents, answer.currency)} before tax"
        if way.keeps_board_feet is not None:
            yield f"  the sawyer keeps {_feet(way.keeps_board_feet)} board feet"
        if way.hourly_cents is not None:
            yield f"  the sawyer's true hour: {ranged(way.hourly_cents, answer.currency)}"
        yield from (f"  not typed: {what}" for what in way.missing)
    if answer.must_earn_cents is not None:
        yield f"An hour must earn {said(answer.must_earn_cents, answer.currency)}."
    if answer.not_counted:
        yield f"Not counted, because nobody typed it: {', '.join(answer.not_counted)}."


def _feet(feet: Range | None) -> str:
    return "not known" if feet is None else f"{feet.likely:.0f} ({feet.low:.0f} to {feet.high:.0f})"
