"""Count bounds: prices on the counts, in whole cents, and the bound they give for one lie.

Every piece over what a count allows is charged, every piece short of what it asks for is rewarded; with the best such prices
the bound is that of the linear relaxation (Lagrange duality). Steps: the subgradient with a step that shrinks.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.prices.product import Product
from waney.sawing.counts.count_arcs import Chain, CountedLie, best_chain
from waney.sawing.kernel.path import NEVER
from waney.sawing.wants import Wants

Whole = NDArray[np.int64]

ROUNDS = 60
SHRINKS = 0.85


@dataclass(frozen=True, eq=False)
class Priced:
    """One lie at its best prices (J,) (above 0: a piece is charged; below: rewarded): bound, and the best chain met that keeps
    the counts [cents, NEVER when none was met]."""

    bound: int
    prices: Whole
    chain: Chain | None

    @property
    def cents(self) -> int:
        """What the chain earns; NEVER without one."""
        return int(NEVER) if self.chain is None else self.chain.cents


def keeps(chain: Chain, wants: Wants) -> bool:
    """Whether a chain gives at least and at most as many pieces as are asked for."""
    return all(
        p.at_least <= n and (p.at_most is None or n <= p.at_most) for p, n in zip(wants.products, chain.pieces, strict=True)
    )


def priced_worth(lie: CountedLie, prices: Whole) -> Whole:
    """Worths (P, C) with the prices of the pieces taken off."""
    worth = lie.arcs.worth.copy()
    worth[:, : len(prices)] -= prices * lie.counts[: len(prices)]
    return worth


def paid_by_counts(wants: Wants, prices: Whole) -> int:
    """What the counts pay back at these prices: the constant of the bound [cents]."""
    total = 0
    for p, price in zip(wants.products, prices.tolist(), strict=True):
        total += price * (p.at_most if price > 0 and p.at_most is not None else p.at_least)
    return total


def priced(lie: CountedLie, wants: Wants) -> Priced:
    """The least bound that some rounds of prices find for one lie, and the best chain that keeps the counts on the way."""
    prices = np.zeros(len(wants.products), np.int64)
    least, held = Priced(int(NEVER), prices, None), None
    step = float(lie.arcs.worth.max())
    for round_ in range(ROUNDS):
        chain = best_chain(lie, priced_worth(lie, prices))
        if chain is None:
            return least
        bound = chain.cents - int(prices @ np.array(chain.pieces)) + paid_by_counts(wants, prices)
        if round_ == 0 or bound < least.bound:
            least = Priced(bound, prices, None)
        if keeps(chain, wants) and (held is None or chain.cents > held.cents):
            held = chain
        if held is not None and held.cents >= least.bound:
            break
        prices = _next(wants, prices, chain, step)
        step = max(step * SHRINKS, 1.0)
    return Priced(least.bound, least.prices, held)


def _next(wants: Wants, prices: Whole, chain: Chain, step: float) -> Whole:
    """Prices a step towards the counts that the chain misses; a price that would change its sign stops at 0 first."""
    moved = prices.copy()
    for j, (p, n) in enumerate(zip(wants.products, chain.pieces, strict=True)):
        price = int(prices[j])
        moved[j] = price + int(np.sign(n - _asked(p, n, price)) * step)
        if price * int(moved[j]) < 0:
            moved[j] = 0
    return moved


def _asked(p: Product, n: int, price: int) -> int:
    """The count that a price answers for; at price 0 the nearest that is allowed."""
    most = n if p.at_most is None else p.at_most
    if price == 0:
        return min(max(n, p.at_least), max(most, p.at_least))
    return most if price > 0 else p.at_least
