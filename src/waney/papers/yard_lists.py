"""Yard lists: which columns the lists of stacks, kiln loads, readings, offered trees, money spent and stock counts have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from waney.papers.listing import (
    Field,
    Listing,
    amount,
    figures,
    in_money,
    length,
    length_unit,
    listing,
    mass,
    mass_unit,
    size,
    size_unit,
)
from waney.papers.words import Shop
from waney.units.temperature import fahrenheit
from waney.units.way import way_of


@dataclass(frozen=True)
class StackLine:
    """A stack. sticker_m: thickness of the stickers; apart_m: from one to the next."""

    stack: str
    spot: str
    pieces: int
    built: date
    sticker_m: float | None
    apart_m: float | None
    state: str


@dataclass(frozen=True)
class LoadLine:
    """A load of a kiln. out: None while it is in; whose: empty for our own kiln; fee: empty for who may not see it."""

    kiln: str
    whose: str
    pieces: int
    went_in: date
    out: date | None
    state: str
    fee: str
    words: str


@dataclass(frozen=True)
class ReadingLine:
    """A moisture that was read [-] or a weight [kg], the other None. wood_c: None, not told."""

    on: date
    clock: str
    what: str
    mc: float | None
    mass_kg: float | None
    read_by: str
    depth: str
    wood_c: float | None
    corrected: bool


@dataclass(frozen=True)
class OfferLine:
    """A tree or log that was offered. planned_cents: bad, likely, good, or nothing."""

    species: str
    girth_m: float | None
    small_end_m: float | None
    length_m: float | None
    asked_cents: int | None
    where: str
    way_m: float | None
    hours: float | None
    reply: str
    reason: str
    planned_cents: tuple[int, ...]
    words: str


@dataclass(frozen=True)
class SpentLine:
    """Money or hours that went into a log or a piece."""

    on: date
    into: str
    what: str
    cents: int | None
    hours: float | None
    words: str


@dataclass(frozen=True)
class TagLine:
    """A tag that was seen at a stock count; empty where none was. known: whether it stands on a piece of the book."""

    begun: date
    where: str
    state: str
    tag: str
    known: bool


def stacks_list(rows: Sequence[StackLine], shop: Shop) -> Listing:
    """Stacks."""
    small = size_unit(shop)
    fields = (
        Field[StackLine]("stack", lambda row: row.stack),
        Field[StackLine]("spot", lambda row: row.spot),
        Field[StackLine]("pieces", lambda row: float(row.pieces)),
        Field[StackLine]("built", lambda row: row.built),
        Field[StackLine](f"stickers, thick [{small}]", lambda row: size(row.sticker_m, shop)),
        Field[StackLine](f"stickers, apart [{small}]", lambda row: size(row.apart_m, shop)),
        Field[StackLine]("state", lambda row: row.state),
    )
    return listing("Stacks", fields, rows)


def loads_list(rows: Sequence[LoadLine]) -> Listing:
    """Loads of kilns, our own and others'."""
    fields = (
        Field[LoadLine]("kiln", lambda row: row.kiln),
        Field[LoadLine]("whose", lambda row: row.whose),
        Field[LoadLine]("pieces", lambda row: float(row.pieces)),
        Field[LoadLine]("went in", lambda row: row.went_in),
        Field[LoadLine]("came out", lambda row: row.out),
        Field[LoadLine]("state", lambda row: row.state),
        Field[LoadLine]("fee", lambda row: row.fee),
        Field[LoadLine]("note", lambda row: row.words),
    )
    return listing("Kiln loads", fields, rows)


def readings_list(rows: Sequence[ReadingLine], shop: Shop) -> Listing:
    """Moisture and weights, one after another."""
    metric = shop.sizes.metric

    def degrees(wood_c: float | None) -> float | None:
        return None if wood_c is None else figures(wood_c if metric else fahrenheit(wood_c))

    fields = (
        Field[ReadingLine]("day", lambda row: row.on),
        Field[ReadingLine]("time", lambda row: row.clock),
        Field[ReadingLine]("what", lambda row: row.what),
        Field[ReadingLine]("moisture [% of dry mass]", lambda row: None if row.mc is None else figures(row.mc * 100)),
        Field[ReadingLine](f"weight [{mass_unit(shop)}]", lambda row: mass(row.mass_kg, shop)),
        Field[ReadingLine]("read with", lambda row: row.read_by),
        Field[ReadingLine]("where in the thickness", lambda row: row.depth),
        Field[ReadingLine](f"wood [{'°C' if metric else '°F'}]", lambda row: degrees(row.wood_c)),
        Field[ReadingLine](
            "put right for wood and temperature", lambda row: "" if row.mc is None else "yes" if row.corrected else "no"
        ),
    )
    return listing("Moisture readings", fields, rows)


def offers_list(rows: Sequence[OfferLine], shop: Shop, currency: str) -> Listing:
    """What was offered, and what was answered."""
    small, long, far, money = size_unit(shop), length_unit(shop), way_of(not shop.sizes.metric), in_money(currency)

    def way(row: OfferLine) -> float | None:
        return None if row.way_m is None else figures(far.of(row.way_m))

    def planned(row: OfferLine, n: int) -> float | None:
        return amount(row.planned_cents[n]) if row.planned_cents else None

    fields = (
        Field[OfferLine]("species", lambda row: row.species),
        Field[OfferLine](f"girth [{small}]", lambda row: size(row.girth_m, shop)),
        Field[OfferLine](f"small end [{small}]", lambda row: size(row.small_end_m, shop)),
        Field[OfferLine](f"length [{long}]", lambda row: length(row.length_m, shop)),
        Field[OfferLine](f"asked{money}", lambda row: amount(row.asked_cents)),
        Field[OfferLine]("where", lambda row: row.where),
        Field[OfferLine](f"way there and back [{far.name}]", way),
        Field[OfferLine]("loading and on the way [hours]", lambda row: row.hours),
        Field[OfferLine]("answer", lambda row: row.reply or "not answered yet"),
        Field[OfferLine]("why", lambda row: row.reason),
        Field[OfferLine](f"left, bad{money}", lambda row: planned(row, 0)),
        Field[OfferLine](f"left, likely{money}", lambda row: planned(row, 1)),
        Field[OfferLine](f"left, good{money}", lambda row: planned(row, 2)),
        Field[OfferLine]("note", lambda row: row.words),
    )
    return listing("Offered trees", fields, rows)


def spent_list(rows: Sequence[SpentLine], currency: str) -> Listing:
    """What went into logs and pieces."""
    fields = (
        Field[SpentLine]("told", lambda row: row.on),
        Field[SpentLine]("went into", lambda row: row.into),
        Field[SpentLine]("for", lambda row: row.what),
        Field[SpentLine](f"money{in_money(currency)}", lambda row: amount(row.cents)),
        Field[SpentLine]("hours", lambda row: row.hours),
        Field[SpentLine]("note", lambda row: row.words),
    )
    return listing("Money spent", fields, rows)


def counts_list(rows: Sequence[TagLine]) -> Listing:
    """Stock counts, tag by tag."""
    fields = (
        Field[TagLine]("begun", lambda row: row.begun),
        Field[TagLine]("where", lambda row: row.where),
        Field[TagLine]("state", lambda row: row.state),
        Field[TagLine]("tag seen", lambda row: row.tag),
        Field[TagLine]("on a piece of the book", lambda row: "" if not row.tag else "yes" if row.known else "no"),
    )
    return listing("Stock counts", fields, rows)
