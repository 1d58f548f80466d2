"""PriceRules and DryingAllowance: what is not a property of one product."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.estimate import Estimate
from waney.units.money import print_money


class Ranking(StrEnum):
    """What the numbers in `cents` mean."""

    MONEY = "money"
    """whole cents of a currency"""
    LIKING = "order of liking"
    """no prices were given: rough ratios times usable dry volume; a `cents` is a hundredth of a point"""
    VOLUME = "usable dry volume"
    """neither prices nor ratios: dry finished wood; a `cents` is a hundredth of a litre"""


@dataclass(frozen=True)
class DryingAllowance:
    """What drying is expected to take and to spoil, for one product of one species.

    days: in the dryer or stack [d]; loss, loss_with_pith: chance 0..1 that the piece is not that product afterwards.
    """

    days: Estimate
    loss: Estimate
    loss_with_pith: Estimate


@dataclass(frozen=True)
class PriceRules:
    """Rates that hold for every piece. Cents as `ranking` says. Nothing has a built-in value above 0."""

    ranking: Ranking
    currency: str = ""
    salvage_cents_per_m3: float = 0.0
    """wood that is none of the wanted products, by as-sawn volume"""
    drying_cents_per_m3_day: float = 0.0
    edging_cents: float = 0.0
    """edging one piece as if it were edged alone (both edges)"""

    def says(self, cents: int) -> str:
        """An amount as a person reads it: money, points of liking, or litres.

        >>> PriceRules(Ranking.VOLUME).says(41237), PriceRules(Ranking.MONEY, "USD").says(-250)
        ('412.37 litres', '-$2.50')
        """
        if self.ranking is Ranking.MONEY:
            return print_money(cents, self.currency)
        amount = f"{'-' if cents < 0 else ''}{abs(cents) // 100}.{abs(cents) % 100:02d}"
        return f"{amount} {'points' if self.ranking is Ranking.LIKING else 'litres'}"
