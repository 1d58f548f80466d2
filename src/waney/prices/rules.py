"""PriceRules and DryingAllowance: what is not a property of one product."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.estimate import Estimate


class Ranking(StrEnum):
    """What the numbers in `cents` mean."""

    MONEY = "money"
    """whole cents of a currency"""
    LIKING = "order of liking"
    """no prices were given: rough ratios times usable dry volume"""
    VOLUME = "usable dry volume"
    """neither prices nor ratios: litres of dry finished wood"""


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
    """Rates that hold for every piece. Cents, or points where `ranking` is not money. Nothing has a built-in value above 0."""

    ranking: Ranking
    currency: str = ""
    salvage_cents_per_m3: float = 0.0
    """wood that is none of the wanted products, by as-sawn volume"""
    drying_cents_per_m3_day: float = 0.0
    edging_cents: float = 0.0
    """edging one piece as if it were edged alone (both edges)"""
