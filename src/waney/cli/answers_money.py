"""Answers as JSON of `waney price`, `quote`, `sell`, `shop-window`, `year`.

Money in whole cents; an hourly figure may be broken.
"""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range


@dataclass(frozen=True)
class PriceWay:
    """One way to price a piece. per: what the rate is for; factors: what, by how much; cents null: why says what is missing."""

    way: str
    per: str
    rate_cents: float | None
    measure: float | None
    factors: tuple[tuple[str, float], ...]
    cents: int | None
    why: str


@dataclass(frozen=True)
class PieceCosts:
    """The shop's own figures of a piece: what it has cost, how its log's costs are shared; null: why says what is missing.

    asked_below_cents: how far what is asked lies below it, 0 where it does not.
    """

    floor_cents: int | None
    sharing: str
    why: str
    asked_below_cents: int


@dataclass(frozen=True)
class PiecePrice:
    """A piece with its prices. ways and costs are empty and null for a buyer. promised: hold, lease, sale, or empty."""

    piece: str
    wood: str
    thickness_m: float | None
    length_m: float | None
    width_m: float | None
    width_rule: str
    currency: str
    asked_cents: int | None
    asked_way: str
    promised: str
    until: str
    ways: tuple[PriceWay, ...]
    costs: PieceCosts | None


@dataclass(frozen=True)
class LogQuoted:
    """One log by every rule. small_end_m: inside bark; read: what the rules were read at."""

    log: str
    wood: str
    small_end_m: float
    length_m: float
    read: str
    board_feet: tuple[tuple[str, Range], ...]
    remarks: tuple[str, ...]


@dataclass(frozen=True)
class WayQuoted:
    """One way to be paid. paid_cents: by the customer, before tax; hourly_cents: the sawyer's true hour; keeps_board_feet: of the
    tally, on shares."""

    how: str
    paid_cents: Range | None
    hourly_cents: Range | None
    keeps_board_feet: Range | None
    missing: tuple[str, ...]


@dataclass(frozen=True)
class JobQuoted:
    """A job three ways. scale_board_feet: by the rule named; tally_board_feet: what will likely be sawn."""

    currency: str
    rule: str
    scale_board_feet: Range | None
    tally_board_feet: Range
    hours: Range | None
    must_earn_cents: float | None
    logs: tuple[LogQuoted, ...]
    ways: tuple[WayQuoted, ...]
    not_counted: tuple[str, ...]


@dataclass(frozen=True)
class SoldLine:
    """One piece of a sale."""

    piece: str
    cents: int


@dataclass(frozen=True)
class SaleWritten:
    """A sale as it stands in the book. taxes: words and cents; owed_cents: still to be paid."""

    sale: str
    on: str
    buyer: str
    currency: str
    pieces: tuple[SoldLine, ...]
    taxes: tuple[tuple[str, int], ...]
    total_cents: int
    paid_by: str
    owed_cents: int


@dataclass(frozen=True)
class EarnedRow:
    """A log, a wood, or all. without_price: of the pieces left; planned_cents: bad, likely, good; beside: against it.

    hourly_cents, shed_cents_per_m2_year: null for no hours, no shed. kept_cents: stayed of returns and of deposits.
    shared: by what pieces share its cost, empty where nothing was spent; why_shared: why not as it is settled.
    """

    name: str
    wood: str
    spent_cents: int
    sold_cents: int
    net_cents: int
    standing_cents: int
    planned_cents: tuple[int, ...]
    beside: str
    hours: float
    hourly_cents: float | None
    shed_m2_years: float
    shed_cents_per_m2_year: float | None
    pieces_sold: int
    pieces_left: int
    without_price: int
    kept_cents: int
    shared: str
    why_shared: str


@dataclass(frozen=True)
class YearEarned:
    """What was earned: year null for all of the book. for_others: invoices of custom jobs; no wood of the shop."""

    year: int | None
    currency: str
    logs: tuple[EarnedRow, ...]
    woods: tuple[EarnedRow, ...]
    whole: EarnedRow | None
    for_others: EarnedRow | None


@dataclass(frozen=True)
class WindowWritten:
    """The pages of what is for sale, in a folder: names of the pieces, and of the files."""

    folder: str
    pieces: tuple[str, ...]
    files: tuple[str, ...]
