"""The year: what logs and woods really earned beside their plans, by hour of work and by area of shed; the shop's own figures."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from datetime import date

from waney.papers.listing import Field, Listing, Value, figures, in_money, listing
from waney.papers.paper import Cell, Column, Heading, Paper, Part, Sentence, Table, cell, paper
from waney.papers.words import Shop, said
from waney.trade.earned import Earned
from waney.units.area import SQUARE_FOOT, SQUARE_METRE
from waney.units.quantity import Unit

Money = Callable[[float | None], str]
"""How the shop writes cents"""


def shed_unit(shop: Shop) -> Unit:
    """What shed is counted in."""
    return SQUARE_METRE if shop.sizes.metric else SQUARE_FOOT


def shed_rate(row: Earned, shop: Shop) -> float | None:
    """Cents that an area of shed earned in a year, in the shop's unit; None where nothing was sold or no shed used."""
    return None if row.shed_cents is None or not row.sold_cents else row.shed_cents * shed_unit(shop).in_si(1.0)


def counts(row: Earned) -> bool:
    """Whether there is anything to tell of it."""
    return bool(row.spent_cents or row.sold_cents or row.kept_cents or row.standing_cents)


def year_list(rows: Sequence[Earned], shop: Shop, currency: str, title: str = "Year") -> Listing:
    """Every row as numbers, money in whole units of the currency."""
    money, area = in_money(currency), shed_unit(shop)

    def planned(n: int) -> Callable[[Earned], Value]:
        return lambda row: _money(row.planned_cents[n]) if row.planned_cents else None

    fields = (
        Field[Earned]("name", lambda row: row.name),
        Field[Earned]("wood", lambda row: row.species),
        Field[Earned](f"sold{money}", lambda row: _money(row.sold_cents)),
        Field[Earned](f"kept of returns and deposits{money}", lambda row: _money(row.kept_cents)),
        Field[Earned](f"cost{money}", lambda row: _money(row.spent_cents)),
        Field[Earned]("cost shared by", lambda row: row.shared),
        Field[Earned]("why it is not shared as settled", lambda row: row.why_shared),
        Field[Earned](f"earned{money}", lambda row: _money(row.net_cents)),
        Field[Earned](f"asked for what is left{money}", lambda row: _money(row.standing_cents)),
        Field[Earned]("pieces sold", lambda row: float(row.pieces_sold)),
        Field[Earned]("pieces left", lambda row: float(row.pieces_left)),
        Field[Earned]("left without a price", lambda row: float(row.without_price)),
        Field[Earned](f"plan, bad{money}", planned(0)),
        Field[Earned](f"plan, likely{money}", planned(1)),
        Field[Earned](f"plan, good{money}", planned(2)),
        Field[Earned]("beside its plan", lambda row: str(row.beside)),
        Field[Earned]("hours", lambda row: figures(row.hours)),
        Field[Earned](f"an hour{money}", lambda row: None if row.hourly_cents is None else _money(row.hourly_cents)),
        Field[Earned](f"shed [{area.name}, years]", lambda row: figures(area.of(row.shed_m2_years))),
        Field[Earned](
            f"a {area.one} of shed and year{money}",
            lambda row: None if (rate := shed_rate(row, shop)) is None else _money(rate),
        ),
    )
    return listing(title, fields, rows)


def _money(cents: float) -> float:
    return round(cents) / 100.0


def year_paper(
    called: str, logs: Sequence[Earned], woods: Sequence[Earned], whole: Sequence[Earned], money: Money, shop: Shop, printed: date
) -> Paper:
    """The same on paper. called: the year, or all of the book; whole: all together, and what was sawn for others."""
    parts: list[Part] = [
        Sentence(said("What was sold, what just that has cost, what is left of it. Our own figures: not for customers.")),
        *_rows("Logs", "log", logs, money, shop),
        *_rows("Woods, what earned most first", "wood", woods, money, shop),
        *_rows("Together", "what", whole, money, shop),
        *(Sentence(said(sentence)) for sentence in _beside_the_tables(logs, money)),
    ]
    return paper("The year", called, "", parts, shop, printed)


def not_as_settled(logs: Sequence[Earned]) -> Iterator[str]:
    """Logs whose costs cannot be shared as the shop settled it, each with the reason."""
    return (f"The cost of {row.name} is shared by {row.shared}: {row.why_shared}" for row in logs if row.why_shared)


def _rows(heading: str, of: str, rows: Sequence[Earned], money: Money, shop: Shop) -> list[Part]:
    if not rows:
        return []
    columns = (
        Column(of, 1.4),
        *(Column(head, 1.0, figures=True) for head in ("sold", "cost", "earned", "an hour")),
        Column(f"a {shed_unit(shop).one} of shed, year", 1.3, figures=True),
        Column("beside its plan", 1.7),
    )
    return [Heading(heading), Table(columns, tuple(_row(row, money, shop) for row in rows), strong=1)]


def _beside_the_tables(logs: Sequence[Earned], money: Money) -> Iterator[str]:
    """By what costs are shared, log by log where that differs; what was kept, though nothing was sold for it."""
    ways: dict[str, list[str]] = {}
    for row in logs:
        if row.shared:
            ways.setdefault(row.shared, []).append(row.name)
    for way, names in ways.items():
        yield f"The cost of {'each log' if len(ways) == 1 else ', '.join(names)} is shared by {way} among its pieces."
    yield from not_as_settled(logs)
    kept = [f"{row.name} {money(row.kept_cents)}" for row in logs if row.kept_cents]
    if kept:
        yield f"Kept of money for pieces that came back and of deposits, and in what was earned: {', '.join(kept)}."


def _row(row: Earned, money: Money, shop: Shop) -> tuple[Cell, ...]:
    rates = (row.hourly_cents, shed_rate(row, shop))
    sums = (row.sold_cents, row.spent_cents, row.net_cents)
    beside = str(row.beside) if row.planned_cents else ""
    every = (*map(money, sums), *("" if rate is None else money(rate) for rate in rates))
    return (cell(row.name), *map(cell, every), cell(beside))
