"""What would change the choice: the prices at which another of the plans that were compared earns as much as the best one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.prices.product import Per
from waney.prices.rules import Ranking
from waney.prices.worth import PRICE
from waney.sawing.plan import Plan
from waney.sawing.wants import Wants

WITHIN = (0.5, 2.0)
"""Prices beyond these shares of today's are not said: nobody expects them. Our choice, no source."""


@dataclass(frozen=True)
class PriceChange:
    """From about this price on (below it when it is less than today's), another plan earns more: its place among the plans."""

    product: str
    per: Per
    cents_now: float
    cents_then: float
    plan: int


def price_changes(plans: Sequence[Plan], wants: Wants) -> tuple[PriceChange, ...]:
    """The nearest change of each product's price that would put another of these plans first; the best plan stands first.

    Every piece stays the product it is and nothing else changes, so a price is where the choice tips, not what a new search
    would find. Nothing without prices, nor for products that come in sets.
    """
    if wants.rules.ranking is not Ranking.MONEY:
        return ()
    found = [change for product in wants.products for change in _nearest(plans, wants, product.name)]
    return tuple(sorted(found, key=lambda change: abs(change.cents_then / change.cents_now - 1.0)))


def _nearest(plans: Sequence[Plan], wants: Wants, name: str) -> list[PriceChange]:
    product = next(p for p in wants.products if p.name == name)
    if product.set_of > 1 or product.price.cents <= 0:
        return []
    shares = [(_share(plans[0], other, name), i) for i, other in enumerate(plans[1:], 1)]
    known = [(share, i) for share, i in shares if share is not None and WITHIN[0] <= share <= WITHIN[1]]
    if not known:
        return []
    share, plan = min(known, key=lambda pair: abs(pair[0] - 1.0))
    return [PriceChange(name, product.price.per, product.price.cents, product.price.cents * share, plan)]


def _share(best: Plan, other: Plan, name: str) -> float | None:
    """The share of today's price at which the other plan catches up; None when it never does."""
    gains = _priced(other, name) - _priced(best, name)
    return 1.0 + (best.cents - other.cents) / gains if gains else None


def _priced(plan: Plan, name: str) -> int:
    """What a product's pieces bring by its price alone [cents]."""
    terms = (term for p in plan.pieces if p.worth.product == name for term in p.worth.terms)
    return sum(term.cents for term in terms if term.what == PRICE)
