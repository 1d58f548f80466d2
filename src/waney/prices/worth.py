"""Worth: what one piece gives, term by term, to the cent. The formula is design section 5."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import nan

from waney.figures.problem import Problem
from waney.pieces.piece import Piece
from waney.pieces.ring_samples import GrainLimits
from waney.pieces.shrinking import Shrinking
from waney.pieces.volume import volume_m3
from waney.prices.fit import Fit, Judged, fits, judged
from waney.prices.measure import measure, price_cents, whole_cents
from waney.prices.product import Edges, Product
from waney.prices.rules import DryingAllowance, PriceRules

SALVAGE = "as it comes off"
PRICE = "price, less what drying spoils"
"""The term that rises and falls with a product's price."""


class NoAllowance(Problem):
    """A product is wanted, but nothing says how it dries."""


@dataclass(frozen=True)
class Term:
    """One line of the sum: what it is for and whole cents (costs are below zero)."""

    what: str
    cents: int


@dataclass(frozen=True)
class Worth:
    """The best that a piece can be. `product` is None when it only earns the salvage price.

    start_m, length_m: where the product begins along the as-sawn piece and how long it is; low_y_m, high_y_m: its edges there
    (EDGED) or nan (LIVE), piece frame, green; width_m, thickness_m: finished, dry; measure: in the price rule's unit.
    """

    product: str | None
    terms: tuple[Term, ...]
    start_m: float
    length_m: float
    low_y_m: float
    high_y_m: float
    width_m: float
    thickness_m: float
    measure: float

    @property
    def cents(self) -> int:
        """The sum of the terms."""
        return sum(term.cents for term in self.terms)


def worth(
    piece: Piece,
    products: Sequence[Product],
    rules: PriceRules,
    allowances: Mapping[str, DryingAllowance],
    shrinking: Shrinking,
    limits: GrainLimits | None = None,
) -> Worth:
    """The best that a piece can be, all figures at their likely values: docs/design/sawing.md, "What a slice can be".

    Among equals the earlier product, then the longer, then the one nearer the butt; salvage unless something is worth more.
    The readable reference of the judge in `sawing`. Raises NoAllowance for a product without one.
    """
    ready = judged(piece, shrinking, limits or GrainLimits())
    best = salvage(piece, rules)
    for product in products:
        allowance = allowance_for(product, allowances)
        for fit in fits(ready, product):
            found = worth_of_fit(ready, product, fit, rules, allowance)
            if found.cents > best.cents:
                best = found
    return best


def salvage(piece: Piece, rules: PriceRules) -> Worth:
    """What the wood earns as none of the wanted products; its measure is m3 as sawn."""
    volume = volume_m3(piece)
    terms = (Term(SALVAGE, whole_cents(rules.salvage_cents_per_m3 * volume)),)
    return Worth(None, terms, float(piece.along_m[0]), piece.length_m, nan, nan, 0.0, piece.thickness_m, volume)


def allowance_for(product: Product, allowances: Mapping[str, DryingAllowance]) -> DryingAllowance:
    """How a product dries. Raises NoAllowance."""
    if product.name not in allowances:
        raise NoAllowance(f"{product.name}: no days in the dryer and no loss are given for it; write both, 0 if there are none.")
    return allowances[product.name]


def worth_of_fit(ready: Judged, product: Product, fit: Fit, rules: PriceRules, allowance: DryingAllowance) -> Worth:
    """What one way to be a product is worth."""
    return Worth(
        product=product.name,
        terms=_terms(ready.piece, product, fit, rules, allowance),
        start_m=float(ready.piece.along_m[fit.window.first]),
        length_m=fit.length_m,
        low_y_m=fit.low_y_m,
        high_y_m=fit.high_y_m,
        width_m=fit.width_m,
        thickness_m=product.thickness_m,
        measure=measure(product, fit.width_m, fit.length_m),
    )


def _terms(piece: Piece, product: Product, fit: Fit, rules: PriceRules, allowance: DryingAllowance) -> tuple[Term, ...]:
    """Step 6, each term in whole cents."""
    loss = (allowance.loss_with_pith if fit.pith_inside else allowance.loss).likely
    price = price_cents(product, fit.width_m, fit.length_m, pith=fit.pith_inside)
    edging = rules.edging_cents if product.edges is Edges.EDGED and not all(piece.sawn_edges) else 0.0
    volume = volume_m3(piece) if rules.salvage_cents_per_m3 != 0.0 else 0.0
    return (
        Term(PRICE, whole_cents(price * (1.0 - loss))),
        Term("salvage of what is spoilt", whole_cents(rules.salvage_cents_per_m3 * volume * loss)),
        Term("finishing", -whole_cents(product.finishing_cents_per_m2 * fit.length_m * fit.width_m)),
        Term("drying", -whole_cents(allowance.days.likely * rules.drying_cents_per_m3_day * fit.dried_m3)),
        Term("edging", -whole_cents(edging)),
    )
