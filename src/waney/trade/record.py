"""Record: what the shop's own work says of its pace, its yield, its drying losses and its prices; and where that is used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from waney.figures.estimate import Estimate
from waney.trade.fetch import Costs
from waney.trade.learned import Learned, learned
from waney.trade.terms import Terms


@dataclass(frozen=True)
class Record:
    """Own cases, one a log (prices: one a piece). paces: board feet tallied in an hour of sawing; yields: tally over
    International 1/4-inch scale; losses: share of a log's dried boards that came to nothing; prices: cents a board foot got, by
    wood; losses_up_to: losses of boards by the thickness [m] that they do not pass.
    """

    paces: tuple[float, ...] = ()
    yields: tuple[float, ...] = ()
    losses: tuple[float, ...] = ()
    prices: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    losses_up_to: Mapping[float, tuple[float, ...]] = field(default_factory=dict)

    def pace(self, terms: Terms) -> Learned:
        """Board feet tallied in an hour."""
        return learned("sawing", "board feet an hour", terms.pace, self.paces)

    def over_scale(self, terms: Terms) -> Learned:
        """Tally over scale."""
        return learned("yield", "board feet tallied for one of International scale", terms.over_scale, self.yields)

    def loss(self, costs: Costs) -> Learned:
        """Share lost in drying."""
        return learned("lost in drying", "share of the boards", costs.loss, self.losses)

    def loss_up_to(self, up_to_m: float, built_in: Estimate) -> Learned:
        """Share lost in drying, of boards not thicker than this."""
        return learned("lost in drying", "share of the boards", built_in, self.losses_up_to.get(up_to_m, ()))

    def price(self, costs: Costs, wood: str) -> Learned:
        """Cents that a dry board foot of a wood gets."""
        return learned(wood or "wood nobody named", "a board foot", costs.per_board_foot_cents, self.prices.get(wood, ()))

    def for_quote(self, terms: Terms) -> Terms:
        """The terms as they count in a quote: pace and yield by the record as far as it goes."""
        return replace(terms, pace=self.pace(terms).now, over_scale=self.over_scale(terms).now or terms.over_scale)

    def for_fetching(self, costs: Costs, wood: str) -> Costs:
        """The costs as they count for a tree that is offered: loss and price by the record as far as it goes."""
        return replace(costs, loss=self.loss(costs).now, per_board_foot_cents=self.price(costs, wood).now)
