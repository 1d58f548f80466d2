"""What a price is paid for: the measure of a dry, finished piece in the price rule's unit, and its price."""

from __future__ import annotations

from collections.abc import Sequence

from waney.pieces.measures import BOARD_FOOT_M3, FOOT_M, INCH_M
from waney.prices.product import Per, PriceRule, Product

SLACK_M = 1e-9
"""A length that misses a wanted one by no more than this is enough (docs/design/sawing.md)."""


def paid_thickness_m(product: Product) -> float:
    """The thickness that board feet and m3 are counted by: nominal or finished, thin boards as 1 in where the rule says so."""
    rule = product.price
    return counted_thickness_m(rule, product.nominal_m if rule.by_nominal else product.thickness_m)


def counted_thickness_m(rule: PriceRule, thickness_m: float) -> float:
    """A thickness as the rule counts it: thin boards as 1 in where it says so."""
    thin = rule.per is Per.BOARD_FOOT and rule.thin_counts_as_inch
    return max(thickness_m, INCH_M) if thin else thickness_m


def measure_coefficients(product: Product) -> tuple[float, float, float]:
    """The measure as a + (b + c · width) · length, width and length in metres, in the price rule's unit."""
    return coefficients_of(product.price.per, paid_thickness_m(product))


def coefficients_of(per: Per, thickness_m: float) -> tuple[float, float, float]:
    """The same for any unit and counted thickness."""
    return {
        Per.BOARD_FOOT: (0.0, 0.0, thickness_m / BOARD_FOOT_M3),
        Per.CUBIC_METRE: (0.0, 0.0, thickness_m),
        Per.SQUARE_FOOT: (0.0, 0.0, 1.0 / FOOT_M**2),
        Per.SQUARE_METRE: (0.0, 0.0, 1.0),
        Per.FOOT: (0.0, 1.0 / FOOT_M, 0.0),
        Per.METRE: (0.0, 1.0, 0.0),
        Per.PIECE: (1.0, 0.0, 0.0),
    }[per]


def measure(product: Product, width_m: float, length_m: float) -> float:
    """How much of the price rule's unit a piece of this dry, finished width and length is; not rounded."""
    a, b, c = measure_coefficients(product)
    return a + (b + c * width_m) * length_m


def price_coefficients(product: Product) -> tuple[float, float, float]:
    """The price before factors as a + (b + c · width) · length [cents], width and length in metres."""
    a, b, c = measure_coefficients(product)
    cents = product.price.cents
    return cents * a, cents * b, cents * c


def wide_factor(rule: PriceRule, width_m: float) -> float:
    """The factor of the last width reached, 1 before the first."""
    return last_reached(rule.wide_factors, width_m)


def last_reached(steps: Sequence[tuple[float, float]], value: float) -> float:
    """The factor of the last step (from, factor; rising) that a value reaches, 1 before the first."""
    return next((factor for least, factor in reversed(steps) if value >= least - SLACK_M), 1.0)


def price_cents(product: Product, width_m: float, length_m: float, *, pith: bool) -> float:
    """Price of one finished piece [cents, not rounded]: measure · rate · wide factor · pith factor."""
    a, b, c = price_coefficients(product)
    factor = product.pith_factor if pith else 1.0
    return (a + (b + c * width_m) * length_m) * wide_factor(product.price, width_m) * factor


def whole_cents(amount: float) -> int:
    """Rounded to whole cents, half away from zero; within 1e-6 of a half counts as a half, whatever the order of arithmetic.

    >>> whole_cents(2.5), whole_cents(-2.5), whole_cents(2.4999999999), whole_cents(2.4999)
    (3, -3, 3, 2)
    """
    size = int(abs(amount) + 0.5 + 1e-6)
    return size if amount >= 0 else -size
