"""waney year: what logs and woods really earned, by log, hour and shed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING, Annotated

import typer

from waney.cli.app import answering
from waney.cli.books import YARD, FilesIn, Where, lies_at
from waney.cli.views import Json, Units, View

if TYPE_CHECKING:
    from waney.cli.answers_money import EarnedRow, YearEarned
    from waney.trade.earned import Earned


@answering
def year(
    of: Annotated[int | None, typer.Argument(help="Else all of the book.", metavar="{year}", min=1900, max=9999)] = None,
    book: Where = YARD,
    files: FilesIn = None,
    units: Units = View.INCHES,
    json: Json = None,
) -> None:
    """What each log earned beside its plan, by species, by hour of work and by area of shed.

    For a year: what was sold in it, beside what just those pieces have cost.
    """
    from waney.cli.answers_money import YearEarned
    from waney.cli.files import can_be_written
    from waney.cli.money import currency_of
    from waney.cli.saying import say
    from waney.trade.earned import by_species, summed
    from waney.yard.book.book import open_book
    from waney.yard.book.looking import settings
    from waney.yard.services.earning import Yard, sawn_for_others, year_of_logs

    can_be_written(json)
    opened = open_book(lies_at(book, files))
    yard = Yard.of(opened, date.today())
    rows, others = year_of_logs(yard, of), sawn_for_others(yard, of)
    whole = _row(summed("all", rows)) if rows else None
    currency = currency_of(settings(opened))
    by_others = None if others is None else _row(others)
    answer = YearEarned(of, currency, tuple(map(_row, rows)), tuple(map(_row, by_species(rows))), whole, by_others)
    say(answer, json, lambda: _lines(answer, units))


def _row(earned: Earned) -> EarnedRow:
    from waney.cli.answers_money import EarnedRow

    return EarnedRow(
        earned.name, earned.species, earned.spent_cents, earned.sold_cents, earned.net_cents, earned.standing_cents,
        earned.planned_cents, str(earned.beside), earned.hours, earned.hourly_cents, earned.shed_m2_years,
        earned.shed_cents, earned.pieces_sold, earned.pieces_left, earned.without_price, earned.kept_cents,
        earned.shared, earned.why_shared,
    )  # fmt: skip


def _lines(answer: YearEarned, units: View) -> Iterator[str]:
    if answer.for_others is not None:
        yield _told(answer.for_others, answer, units)
    if answer.whole is None:
        yield "Nothing was sold or spent." if answer.year is None else f"Nothing was sold in {answer.year}."
        return
    yield f"Logs, {'all of the book' if answer.year is None else answer.year}:"
    counted = [row for row in answer.logs if _counts(row)]
    for row in counted:
        yield f"  {_told(row, answer, units)}"
    if len(counted) < len(answer.logs):
        yield f"  {len(answer.logs) - len(counted)} more: nothing was spent on them that the book knows of, and nothing sold."
    yield "Woods, what earned most first:"
    for row in filter(_counts, answer.woods):
        yield f"  {_told(row, answer, units)}"
    yield _told(answer.whole, answer, units)


def _counts(row: EarnedRow) -> bool:
    return bool(row.spent_cents or row.sold_cents or row.kept_cents or row.standing_cents)


def _told(row: EarnedRow, answer: YearEarned, units: View) -> str:
    from waney.cli.money import said
    from waney.pieces.measures import FOOT_M

    def money(cents: float) -> str:
        return said(cents, answer.currency)

    kept = f"kept of returns and deposits {money(row.kept_cents)}, " if row.kept_cents else ""
    cost = f"cost {money(row.spent_cents)}{f' (shared {_by(row.shared)})' if row.shared else ''}"
    parts = [f"{row.name}: sold {money(row.sold_cents)}, {kept}{cost}, earned {money(row.net_cents)}"]
    if row.why_shared:
        parts.append(f"not shared as settled: {row.why_shared}")
    if row.standing_cents:
        priced = row.pieces_left - row.without_price
        parts.append(f"{priced} of {row.pieces_left} pieces left have a price, together {money(row.standing_cents)}")
    if row.planned_cents and (row.sold_cents or row.standing_cents):
        bad, likely, good = row.planned_cents
        parts.append(f"beside its plan ({money(bad)}, {money(likely)}, {money(good)}): {row.beside}")
    if row.hourly_cents is not None:
        parts.append(f"{money(row.hourly_cents)} an hour")
    if row.shed_cents_per_m2_year is not None and row.sold_cents:
        feet = units is View.INCHES
        rate = row.shed_cents_per_m2_year * (FOOT_M**2 if feet else 1.0)
        parts.append(f"{money(rate)} a {'square foot' if feet else 'm2'} of shed and year")
    return "; ".join(parts)


def _by(shared: str) -> str:
    from waney.trade.earned import SEVERAL_WAYS

    return shared if shared == SEVERAL_WAYS else f"by {shared}"
