"""Lists: which columns the lists of pieces, of logs and of sales have, in inches and board feet or in millimetres and m3."""

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
    volume,
    volume_unit,
)
from waney.papers.words import Shop
from waney.units.quantity import Unit
from waney.units.volume import CUBIC_FOOT, CUBIC_METRE


@dataclass(frozen=True)
class PieceLine:
    """One piece of a list; None or "": not known. Metres, m3, kg; shares of oven-dry mass, the last that was read."""

    name: str
    species: str
    log: str = ""
    state: str = ""
    thickness_m: float | None = None
    least_width_m: float | None = None
    most_width_m: float | None = None
    length_m: float | None = None
    volume_m3: float | None = None
    mass_kg: float | None = None
    shell_mc: float | None = None
    core_mc: float | None = None
    mc: float | None = None
    spot: str = ""
    sawn: date | None = None
    remark: str = ""


@dataclass(frozen=True)
class LogLine:
    """One log of a list; None or "": not known. Diameters inside bark [m], m3, kg."""

    name: str
    species: str
    butt_diameter_m: float | None = None
    top_diameter_m: float | None = None
    length_m: float | None = None
    volume_m3: float | None = None
    mass_kg: float | None = None
    felled: date | None = None
    spot: str = ""
    remark: str = ""


@dataclass(frozen=True)
class SaleLine:
    """A piece for sale as anybody may read it: of the piece its sizes and moistures alone are listed; asked before tax."""

    piece: PieceLine
    asked_cents: int
    of_set: bool
    on: date


@dataclass(frozen=True)
class SoldLine:
    """One piece of a sale. paid_cents, owed_cents, way: of the whole sale, in the row of its first piece; owed below zero: given
    too much."""

    on: date
    piece: str
    buyer: str
    cents: int
    tax_cents: int
    paid_cents: int | None
    way: str
    owed_cents: int | None
    remark: str = ""


def _sizes(shop: Shop) -> tuple[Field[PieceLine], ...]:
    """Which piece, and how large."""
    small, long = size_unit(shop), length_unit(shop)
    return (
        Field[PieceLine]("name", lambda row: row.name),
        Field[PieceLine]("species", lambda row: row.species),
        Field[PieceLine]("log", lambda row: row.log),
        Field[PieceLine]("state", lambda row: row.state),
        Field[PieceLine](f"thickness [{small}]", lambda row: size(row.thickness_m, shop)),
        Field[PieceLine](f"width at narrowest [{small}]", lambda row: size(row.least_width_m, shop)),
        Field[PieceLine](f"width at widest [{small}]", lambda row: size(row.most_width_m, shop)),
        Field[PieceLine](f"length [{long}]", lambda row: length(row.length_m, shop)),
    )


MOISTURES = (
    Field[PieceLine]("moisture of shell [% of dry mass]", lambda row: _percent(row.shell_mc)),
    Field[PieceLine]("moisture of core [% of dry mass]", lambda row: _percent(row.core_mc)),
    Field[PieceLine]("moisture, depth not told [% of dry mass]", lambda row: _percent(row.mc)),
)


def _of_its_piece(field: Field[PieceLine]) -> Field[SaleLine]:
    return Field(field.heading, lambda row: field.of(row.piece))


def for_sale_list(rows: Sequence[SaleLine], shop: Shop, currency: str, title: str = "For sale") -> Listing:
    """The list of pieces for sale: nothing of the shop's own figures, nobody's name."""
    asked = f"asked, before tax [{currency}]" if currency else "asked, before tax"
    fields = (
        *map(_of_its_piece, (*_sizes(shop), *MOISTURES)),
        Field[SaleLine](asked, lambda row: row.asked_cents / 100),
        Field[SaleLine]("set", lambda row: "belongs to a set" if row.of_set else ""),
        Field[SaleLine]("on", lambda row: row.on),
    )
    return listing(title, fields, rows)


def sold_list(rows: Sequence[SoldLine], currency: str, title: str = "Sales") -> Listing:
    """Sales piece by piece; names stand in it, and it is the shop's own. Sums of a sale stand in the row of its first piece."""
    money = in_money(currency)
    fields = (
        Field[SoldLine]("sold", lambda row: row.on),
        Field[SoldLine]("piece", lambda row: row.piece),
        Field[SoldLine]("buyer", lambda row: row.buyer),
        Field[SoldLine](f"price before tax{money}", lambda row: row.cents / 100),
        Field[SoldLine](f"tax{money}", lambda row: row.tax_cents / 100),
        Field[SoldLine](f"paid for the whole sale{money}", lambda row: amount(row.paid_cents)),
        Field[SoldLine]("way", lambda row: row.way),
        Field[SoldLine](f"owed for the whole sale{money}", lambda row: amount(row.owed_cents)),
        Field[SoldLine]("remark", lambda row: row.remark),
    )
    return listing(title, fields, rows)


def _solid(shop: Shop) -> Unit:
    """What a log is counted in: cubic feet or m3 (board feet of a log are a log rule's)."""
    return CUBIC_METRE if shop.sizes.metric else CUBIC_FOOT


def _in_solid(cubic_metres: float | None, shop: Shop) -> float | None:
    return None if cubic_metres is None else figures(_solid(shop).of(cubic_metres))


def _percent(mc: float | None) -> float | None:
    return None if mc is None else figures(mc * 100)


def pieces_list(rows: Sequence[PieceLine], shop: Shop, title: str = "Pieces") -> Listing:
    """The list of pieces."""
    wood = volume_unit(shop).name
    fields = (
        *_sizes(shop),
        Field[PieceLine](f"volume by the middle of both widths [{wood}]", lambda row: volume(row.volume_m3, shop)),
        Field[PieceLine](f"weight [{mass_unit(shop)}]", lambda row: mass(row.mass_kg, shop)),
        *MOISTURES,
        Field[PieceLine]("spot", lambda row: row.spot),
        Field[PieceLine]("sawn", lambda row: row.sawn),
        Field[PieceLine]("remark", lambda row: row.remark),
    )
    return listing(title, fields, rows)


def logs_list(rows: Sequence[LogLine], shop: Shop, title: str = "Logs") -> Listing:
    """The list of logs."""
    small, long = size_unit(shop), length_unit(shop)
    fields = (
        Field[LogLine]("name", lambda row: row.name),
        Field[LogLine]("species", lambda row: row.species),
        Field[LogLine](f"diameter at butt, inside bark [{small}]", lambda row: size(row.butt_diameter_m, shop)),
        Field[LogLine](f"diameter at top, inside bark [{small}]", lambda row: size(row.top_diameter_m, shop)),
        Field[LogLine](f"length [{long}]", lambda row: length(row.length_m, shop)),
        Field[LogLine](f"volume inside bark [{_solid(shop).name}]", lambda row: _in_solid(row.volume_m3, shop)),
        Field[LogLine](f"weight [{mass_unit(shop)}]", lambda row: mass(row.mass_kg, shop)),
        Field[LogLine]("felled", lambda row: row.felled),
        Field[LogLine]("spot", lambda row: row.spot),
        Field[LogLine]("remark", lambda row: row.remark),
    )
    return listing(title, fields, rows)
