"""Prices of pieces on the shelf: by volume, by area, by the piece, side by side, each with the factors the shop has typed.

The rules are docs/design/trade.md, "What is asked for it". Nothing has a built-in value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from math import prod

from waney.figures.problem import Problem
from waney.prices.measure import coefficients_of, counted_thickness_m, last_reached, whole_cents
from waney.prices.product import Per, PriceRule, WidthRule

Steps = tuple[tuple[float, float], ...]
"""(from, factor), rising; the last one reached applies"""


class NotPriced(Problem):
    """A piece that cannot be priced as it is described."""


class Way(StrEnum):
    """How a price is made up."""

    VOLUME = "by volume"
    AREA = "by area"
    PIECE = "by the piece"


WAY_OF: Mapping[Per, Way] = {
    Per.BOARD_FOOT: Way.VOLUME,
    Per.CUBIC_METRE: Way.VOLUME,
    Per.SQUARE_FOOT: Way.AREA,
    Per.SQUARE_METRE: Way.AREA,
    Per.PIECE: Way.PIECE,
}


@dataclass(frozen=True)
class Factors:
    """What a price is multiplied by. thick, wide: from [m]; old: from days on the shelf; figure: the shop's own words."""

    thick: Steps = ()
    wide: Steps = ()
    old: Steps = ()
    figure: Mapping[str, float] = field(default_factory=dict)
    set_whole: float = 1.0


@dataclass(frozen=True)
class ShelfPrices:
    """The shop's prices: rules by wood (species id), factors, the width that counts."""

    currency: str = ""
    width_rule: WidthRule = WidthRule.NARROW_FACE
    woods: Mapping[str, tuple[PriceRule, ...]] = field(default_factory=dict)
    factors: Factors = field(default_factory=Factors)


@dataclass(frozen=True)
class OnShelf:
    """A piece as it is sold: dry sizes [m], width by the shop's rule; days on the shelf. None, empty: not known.

    set_whole: it goes with all of its set.
    """

    name: str
    species: str
    thickness_m: float | None
    length_m: float | None
    width_m: float | None
    figure: str = ""
    days: int | None = None
    set_whole: bool = False


@dataclass(frozen=True)
class Asked:
    """One way to price a piece. cents None: `why` says what is missing.

    measure: in the unit of the rule; factors: those that are not 1.
    """

    way: Way
    rule: PriceRule | None
    measure: float | None
    factors: tuple[tuple[str, float], ...]
    cents: int | None
    why: str = ""


def three_ways(piece: OnShelf, prices: ShelfPrices) -> tuple[Asked, ...]:
    """By volume, by area, by the piece, in this order. Raises NotPriced for a figure that the shop has no word for."""
    factors = factors_of(piece, prices.factors)
    return tuple(_asked(piece, way, prices, factors) for way in Way)


def factors_of(piece: OnShelf, factors: Factors) -> tuple[tuple[str, float], ...]:
    """What this piece's price is multiplied by; what is 1 is left out. Raises NotPriced."""
    figure = piece.figure.strip().lower()
    if figure and figure not in factors.figure:
        known = ", ".join(sorted(factors.figure)) or "none yet"
        raise NotPriced(f'{piece.name}: the prices sheet has no factor for the figure "{piece.figure}"; it has {known}.')
    found = (
        ("thickness", last_reached(factors.thick, piece.thickness_m or 0.0)),
        ("width", last_reached(factors.wide, piece.width_m or 0.0)),
        ("figure", factors.figure.get(figure, 1.0)),
        ("time on the shelf", last_reached(factors.old, piece.days or 0)),
        ("set stays whole", factors.set_whole if piece.set_whole else 1.0),
    )
    return tuple((what, factor) for what, factor in found if factor != 1.0)


def _asked(piece: OnShelf, way: Way, prices: ShelfPrices, factors: tuple[tuple[str, float], ...]) -> Asked:
    rules = prices.woods.get(piece.species, ())
    rule = next((rule for rule in rules if WAY_OF[rule.per] is way), None)
    if rule is None:
        return Asked(way, None, None, factors, None, f"the prices sheet has none for this wood {way}")
    missing = _missing(piece, way)
    if missing:
        return Asked(way, rule, None, factors, None, f"{' and '.join(missing)} not known")
    measure = measure_of(piece, rule)
    cents = Fraction(rule.cents) * Fraction(measure) * prod((Fraction(str(factor)) for _, factor in factors), start=Fraction(1))
    return Asked(way, rule, measure, factors, whole_cents(float(cents)))


def _missing(piece: OnShelf, way: Way) -> list[str]:
    needed = {
        Way.VOLUME: (("thickness", piece.thickness_m), ("length", piece.length_m), ("width", piece.width_m)),
        Way.AREA: (("length", piece.length_m), ("width", piece.width_m)),
        Way.PIECE: (),
    }[way]
    return [what for what, size in needed if size is None]


def measure_of(piece: OnShelf, rule: PriceRule) -> float:
    """How much of the rule's unit a piece with known sizes is; not rounded."""
    a, b, c = coefficients_of(rule.per, counted_thickness_m(rule, piece.thickness_m or 0.0))
    return a + (b + c * (piece.width_m or 0.0)) * (piece.length_m or 0.0)
