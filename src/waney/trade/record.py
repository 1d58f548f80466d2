"""Record: what the shop's own work says of pace, yield, hours, losses, prices, metal and stain; and where that is used."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from waney.figures.estimate import Estimate
from waney.trade.fetch import Costs, metal_start
from waney.trade.learned import Learned, learned
from waney.trade.terms import Terms
from waney.trade.waiting import Own


@dataclass(frozen=True)
class Record:
    """Own cases, one a log (prices: one a piece). paces: board feet tallied in an hour of sawing; yields: tally over
    International 1/4-inch scale; losses: share of a log's dried boards that came to nothing; prices: cents a board foot got, by
    wood; losses_up_to: losses of boards by the thickness [m] that they do not pass; stain: see `waited`; metal: 1 for a log in
    which metal was found, 0 for another, by whether it grew by a house or a road (None: nobody told); until_the_mill: hours from
    the beginning of a sawing day to the first word from the mill.
    """

    paces: tuple[float, ...] = ()
    yields: tuple[float, ...] = ()
    losses: tuple[float, ...] = ()
    prices: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    losses_up_to: Mapping[float, tuple[float, ...]] = field(default_factory=dict)
    stain: Own = field(default_factory=dict)
    metal: Mapping[bool | None, tuple[float, ...]] = field(default_factory=dict)
    until_the_mill: tuple[float, ...] = ()

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

    def met_metal(self, yard_tree: bool | None) -> Learned:
        """Chance that a log holds metal."""
        return learned("metal", "of the logs", metal_start(yard_tree), self.metal.get(yard_tree, ()))

    def until_mill(self) -> Learned:
        """Hours until the mill speaks. What is typed for setting up counts clearing away too, so that the two are not mixed."""
        return learned("until the first word from the mill", "hours", None, self.until_the_mill)

    def price(self, costs: Costs, wood: str) -> Learned:
        """Cents that a dry board foot of a wood gets."""
        return learned(wood or "wood nobody named", "a board foot", costs.per_board_foot_cents, self.prices.get(wood, ()))

    def for_quote(self, terms: Terms) -> Terms:
        """The terms as they count in a quote: pace and yield by the record as far as it goes."""
        return replace(terms, pace=self.pace(terms).now, over_scale=self.over_scale(terms).now or terms.over_scale)

    def for_fetching(self, costs: Costs, wood: str, yard_tree: bool | None = None) -> Costs:
        """The costs as they count for a tree that is offered: loss, price and metal by the record as far as it goes."""
        price, metal = self.price(costs, wood).now, self.met_metal(yard_tree).now
        return replace(costs, loss=self.loss(costs).now, per_board_foot_cents=price, metal=metal)
