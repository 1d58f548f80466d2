"""Promised lists: which columns the lists of holds, quotes, wishes and custom jobs have. Names stand in all of them.

What is of a whole hold or quote stands in the row of its first piece, so that columns can be added up.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.listing import Field, Listing, amount, figures, in_money, length, length_unit, listing, size, size_unit
from waney.papers.words import Shop
from waney.units.way import way_of


@dataclass(frozen=True)
class HoldLine:
    """One piece of a hold. deposit_cents: of the whole hold."""

    piece: str
    buyer: str
    until: date
    deposit_cents: int | None
    state: str


@dataclass(frozen=True)
class QuoteLine:
    """One piece of a quote. cents: before tax; gone: somebody else has it, or it is no more; goes_to: a state or country."""

    quoted: date
    piece: str
    buyer: str
    cents: int
    until: date
    state: str
    gone: bool
    goes_to: str = ""


@dataclass(frozen=True)
class WishLine:
    """A wish; None: any. fits: names of what is free and fits."""

    buyer: str
    species: str
    thickness_m: float | None
    most_thickness_m: float | None
    width_m: float | None
    length_m: float | None
    until: date
    fits: tuple[str, ...]


@dataclass(frozen=True)
class JobLine:
    """A custom job. hours: told of sawing, None while nobody told; billed_cents: with tax, None without an invoice."""

    customer: str
    logs: tuple[str, ...]
    way_m: float
    way_hours: float
    paid_how: str
    agreed: date | None
    hours: float | None
    billed_cents: int | None
    paid_cents: int
    owed_cents: int
    state: str


def holds_list(rows: Sequence[HoldLine], currency: str) -> Listing:
    """Holds, piece by piece."""
    fields = (
        Field[HoldLine]("piece", lambda row: row.piece),
        Field[HoldLine]("kept for", lambda row: row.buyer),
        Field[HoldLine]("until", lambda row: row.until),
        Field[HoldLine](f"deposit for the whole hold{in_money(currency)}", lambda row: amount(row.deposit_cents)),
        Field[HoldLine]("state", lambda row: row.state),
    )
    return listing("Holds", fields, rows)


def quotes_list(rows: Sequence[QuoteLine], currency: str) -> Listing:
    """Quotes, piece by piece."""
    fields = (
        Field[QuoteLine]("quoted", lambda row: row.quoted),
        Field[QuoteLine]("piece", lambda row: row.piece),
        Field[QuoteLine]("buyer", lambda row: row.buyer),
        Field[QuoteLine](f"price before tax{in_money(currency)}", lambda row: amount(row.cents)),
        Field[QuoteLine]("good until", lambda row: row.until),
        Field[QuoteLine]("state", lambda row: row.state),
        Field[QuoteLine]("piece is gone", lambda row: "yes" if row.gone else ""),
        Field[QuoteLine]("goes to", lambda row: row.goes_to),
    )
    return listing("Quotes", fields, rows)


def wishes_list(rows: Sequence[WishLine], shop: Shop) -> Listing:
    """Wishes that stand."""
    small, long = size_unit(shop), length_unit(shop)
    fields = (
        Field[WishLine]("who asks", lambda row: row.buyer),
        Field[WishLine]("species", lambda row: row.species or "any"),
        Field[WishLine](f"thickness, at least [{small}]", lambda row: size(row.thickness_m, shop)),
        Field[WishLine](f"thickness, at most [{small}]", lambda row: size(row.most_thickness_m, shop)),
        Field[WishLine](f"width, at least [{small}]", lambda row: size(row.width_m, shop)),
        Field[WishLine](f"length, at least [{long}]", lambda row: length(row.length_m, shop)),
        Field[WishLine]("until", lambda row: row.until),
        Field[WishLine]("pieces that fit", lambda row: float(len(row.fits))),
        Field[WishLine]("their names", lambda row: ", ".join(row.fits)),
    )
    return listing("Wishes", fields, rows)


def jobs_list(rows: Sequence[JobLine], shop: Shop, currency: str) -> Listing:
    """Custom jobs."""
    far = way_of(not shop.sizes.metric)
    fields = (
        Field[JobLine]("customer", lambda row: row.customer),
        Field[JobLine]("logs", lambda row: float(len(row.logs))),
        Field[JobLine]("their names", lambda row: ", ".join(row.logs)),
        Field[JobLine](f"way there and back [{far.name}]", lambda row: figures(far.of(row.way_m))),
        Field[JobLine]("on the way [hours]", lambda row: row.way_hours),
        Field[JobLine]("paid how", lambda row: row.paid_how),
        Field[JobLine]("agreed", lambda row: row.agreed),
        Field[JobLine]("sawing [hours]", lambda row: row.hours),
        Field[JobLine](f"billed, with tax{in_money(currency)}", lambda row: amount(row.billed_cents)),
        Field[JobLine](f"paid{in_money(currency)}", lambda row: amount(row.paid_cents)),
        Field[JobLine](f"owed{in_money(currency)}", lambda row: amount(row.owed_cents)),
        Field[JobLine]("state", lambda row: row.state),
    )
    return listing("Custom jobs", fields, rows)
