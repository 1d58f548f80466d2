"""Quoting: the work that quotes somebody's logs by the hour, by the board foot and on shares."""

from __future__ import annotations

from collections.abc import Iterator

from waney.figures.estimate import Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.papers.ranges import spread
from waney.trade.custom import Job, LogCount, QuotedWay, quoted
from waney.trade.record import Record
from waney.trade.terms import Terms, read_terms
from waney.units.money import print_money
from waney.web.asked.custom import CustomQuoteAnswer, CustomQuoteAsked, LogRow, WayRow
from waney.web.asked.packing import as_bytes, read_back
from waney.web.works.figures import bad_likely_good, board_feet, money
from waney.work.apart import Progress

SCENARIOS = Scenarios(seed=1)


def quote_custom(given: bytes, progress: Progress) -> bytes:
    """The job. What cannot be answered is answered with its sentence."""
    asked = read_back(given, CustomQuoteAsked)
    progress(0.1, "scaling the logs in every state they may be in")
    try:
        return as_bytes(_answered(asked))
    except Problem as why:
        return as_bytes(CustomQuoteAnswer(sentence=str(why)))


def _answered(asked: CustomQuoteAsked) -> CustomQuoteAnswer:
    record = Record(asked.paces, asked.yields)
    terms = record.for_quote(read_terms(asked.terms))
    found = quoted(Job(dict(asked.logs), asked.way_km, asked.way_hours), terms, SCENARIOS)
    return CustomQuoteAnswer(
        str(found.by),
        "a table ends before one of the logs" if found.scale is None else spread(found.scale, board_feet),
        spread(found.tally, board_feet),
        spread(found.hours, _hours),
        tuple(map(_log, found.logs)),
        tuple(_way(way, terms.currency) for way in found.ways),
        "" if terms.must_earn_cents is None else print_money(round(terms.must_earn_cents), terms.currency),
        found.not_counted,
        tuple(_learned(terms)),
    )


def _hours(hours: float) -> str:
    return f"{hours:.1f} hours"


def _log(log: LogCount) -> LogRow:
    read = next((counted.read for counted in log.scales.values()), "")
    scales = tuple((str(by), spread(found, board_feet)) for by, found in log.ranges.items())
    remarks = tuple(remark.replace(".over:", " end:") for remark in log.remarks)
    return LogRow(log.name, log.wood, read, scales, remarks)


def _way(way: QuotedWay, currency: str) -> WayRow:
    paid = "" if way.paid_cents is None else spread(way.paid_cents, money(currency))
    keeps = "" if way.keeps is None else spread(way.keeps, board_feet)
    return WayRow(str(way.how), paid, keeps, bad_likely_good(way.hourly_cents, currency), way.missing)


def _learned(terms: Terms) -> Iterator[str]:
    """What pace and yield stand on, as far as the shop's own record counts in them."""
    for what, estimate in (("pace", terms.pace), ("yield", terms.over_scale)):
        if isinstance(estimate, Estimate) and estimate.basis.ground is Ground.HISTORY:
            yield f"{what}: {estimate.basis}"
