"""One product of a wants sheet: a table of its fields becomes a Product."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf

from waney.figures.sources import cited
from waney.logs.measured import Hidden
from waney.prices.product import BadProduct, Edges, Grain, Product, Surface
from waney.prices.rules import DryingAllowance, Ranking
from waney.sawing.sheets.defaults import Fields
from waney.sawing.sheets.drying_fields import drying_allowance
from waney.sawing.sheets.length_fields import wanted_lengths
from waney.sawing.sheets.lost_fields import Lost
from waney.sawing.sheets.price_fields import price_rule
from waney.sawing.sheets.quarters import SOURCE, NoStandard, finished_m
from waney.units.duration import DAY
from waney.units.length import length_of
from waney.units.sheet_measures import Measures
from waney.units.sheet_readers import choice, list_of, number, text, whole
from waney.units.thickness import Thickness

EDGES = {"live": Edges.LIVE, "waney": Edges.LIVE, "edged": Edges.EDGED}
SURFACES = {"planed": Surface.PLANED, "rough": Surface.ROUGH}
GRAINS = {str(grain): grain for grain in Grain}
PITH = {"kept": True, "boxed out": False}
HIDDEN = {str(kind): kind for kind in Hidden}
HARMLESS: tuple[Hidden, ...] = (Hidden.CROTCH, Hidden.KNOT, Hidden.STAIN)

TRIM_M = {True: length_of(2, "in"), False: 0.05}
PLANING_M = {True: length_of(0.125, "in"), False: 0.003}
FLATTENING_M = {True: length_of(0.0625, "in"), False: 0.0015}
"""By whether the sheet is in inches or feet; common practice, no source."""
MOST = 100_000


@dataclass(frozen=True)
class Offer:
    """What all products of one sheet share: the log's length, the least width worth keeping, how plans are ranked, finishing, and
    what this shop loses in drying where it says so."""

    log_length_m: float
    least_width_m: float
    ranking: Ranking
    finishing_cents_per_m2: float
    lost: tuple[Lost, ...] = ()


@dataclass(frozen=True)
class Wanted:
    """A product and what drying is expected to do to it."""

    product: Product
    allowance: DryingAllowance


def read_product(fields: Fields, m: Measures, offer: Offer) -> Wanted | None:
    """The product of one table; what was left blank is noted in `fields`. None when it contradicts itself, which is noted."""
    table = fields.table
    edges = fields.fill("edges", choice(EDGES), Edges.LIVE, "live")
    surface = fields.fill("surface", choice(SURFACES), Surface.PLANED, "planed")
    thickness = table.need("thickness", m.thickness, Thickness(0.025))
    trim = fields.fill("trim", m.length_from(0.0, 1.0), TRIM_M[m.imperial], m.written(TRIM_M[m.imperial]))
    widths, grain = _widths(fields, m, edges), table.take("grain", choice(GRAINS))
    try:
        product = Product(
            name=table.take("name", text) or _name(thickness, edges, surface, grain, m),
            thickness_m=_finished(fields, m, thickness, surface),
            price=price_rule(fields, m, offer.ranking, edges),
            edges=edges,
            lengths_m=wanted_lengths(fields, m, offer.log_length_m, trim),
            least_width_m=_least_width(fields, m, offer.least_width_m, widths),
            most_width_m=table.take("most_width", m.length_from(0.01, 5.0)) or inf,
            widths_m=widths,
            surface=surface,
            nominal_quarters=thickness.quarters,
            trim_m=trim,
            planing_m=_taken_off(fields, m, "planing", surface, PLANING_M),
            flattening_m=_taken_off(fields, m, "flattening", surface, FLATTENING_M),
            finishing_cents_per_m2=offer.finishing_cents_per_m2 if surface is Surface.PLANED else 0.0,
            grain=grain,
            grain_share=_grain_share(fields, m, grain),
            set_of=table.take("set_of", whole(1, 100)) or 1,
            set_factor=_factor(fields, "set_factor"),
            pith_kept=fields.fill("pith", choice(PITH), True, "kept"),
            pith_factor=_factor(fields, "pith_factor"),
            may_hold=_may_hold(fields),
            at_least=table.take("at_least", whole(0, MOST)) or 0,
            at_most=table.take("at_most", whole(0, MOST)),
            green_m=table.take("green_thickness", m.length_from(0.0005, 1.0)),
        )
    except BadProduct as problem:
        table.note("", str(problem))
        return None
    _check_green(fields, product)
    return Wanted(product, drying_allowance(fields, m.percent, m.duration(DAY, 0.0, 10_000.0), product.nominal_m, offer.lost))


def _name(thickness: Thickness, edges: Edges, surface: Surface, grain: Grain | None, m: Measures) -> str:
    size = f"{thickness.quarters}/4" if thickness.quarters else m.written(thickness.metres)
    return " ".join(part for part in (edges, size, grain or "", "rough" if surface is Surface.ROUGH else "") if part)


def _finished(fields: Fields, m: Measures, thickness: Thickness, surface: Surface) -> float:
    """As typed; else the exact thickness that was asked for; else what the quarters stand for."""
    typed = fields.table.take("finished", m.length_from(0.0005, 1.0))
    if typed is not None or thickness.quarters is None:
        return thickness.metres if typed is None else typed
    try:
        standard = finished_m(thickness.quarters, surface)
    except NoStandard as problem:
        fields.table.note("thickness", str(problem))
        return thickness.metres
    fields.note("finished", m.written(standard), cited(SOURCE))
    return standard


def _widths(fields: Fields, m: Measures, edges: Edges) -> tuple[float, ...]:
    widths = fields.table.take("widths", list_of(m.length_from(0.01, 3.0))) or ()
    if widths and edges is Edges.LIVE:
        fields.table.note("widths", 'a live edge has no set widths; write least_width and most_width, or edges = "edged".')
    return tuple(sorted(set(widths)))


def _least_width(fields: Fields, m: Measures, of_sheet_m: float, widths: tuple[float, ...]) -> float:
    typed = fields.table.take("least_width", m.length_from(0.01, 3.0))
    return typed if typed is not None else (widths[0] if widths else of_sheet_m)


def _taken_off(fields: Fields, m: Measures, key: str, surface: Surface, usual: Mapping[bool, float]) -> float:
    if surface is Surface.PLANED:
        return fields.fill(key, m.length_from(0.0, 0.1), usual[m.imperial], m.written(usual[m.imperial]))
    if fields.table.has(key):
        fields.table.note(key, 'a rough product is neither planed nor flattened; leave this out, or write surface = "planed".')
    return 0.0


def _grain_share(fields: Fields, m: Measures, grain: Grain | None) -> float:
    if grain is not None:
        return fields.fill("grain_share", m.percent, 0.8, "80 % of the face")
    if fields.table.has("grain_share"):
        fields.table.note("grain_share", "this belongs to a wanted grain, and there is no line `grain`.")
    return 0.8


def _factor(fields: Fields, key: str) -> float:
    typed = fields.table.take(key, number(0.0, 100.0))
    return 1.0 if typed is None else typed


def _may_hold(fields: Fields) -> frozenset[Hidden]:
    read = list_of(choice(HIDDEN))
    return frozenset(fields.fill("may_hold", read, HARMLESS, ", ".join(HARMLESS)))


def _check_green(fields: Fields, product: Product) -> None:
    need = product.thickness_m + product.planing_m + product.flattening_m
    if product.green_m is not None and product.green_m < need:
        fields.table.note("green_thickness", "this is less than the finished thickness with planing and flattening.")
