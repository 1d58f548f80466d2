"""Plans as they are offered: everything that pages and papers say of them, composed from what `sawing` and `logs` compute."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from waney.figures.compiled import COMPILED
from waney.figures.scenarios import Scenarios
from waney.logs.weight import GreenWeight
from waney.papers.choice import would_change
from waney.papers.facts import CardFacts, WouldChange
from waney.papers.summary import Offer
from waney.sawing.bench import Bench
from waney.sawing.facts.blocks import blocks_of
from waney.sawing.facts.cut_facts import cut_facts, turn_facts
from waney.sawing.facts.piece_facts import piece_facts
from waney.sawing.facts.plan_facts import plan_facts
from waney.sawing.facts.sawn_log import SawnLog
from waney.sawing.facts.would_change import price_changes
from waney.sawing.orders import wanted
from waney.sawing.outcome.left_over import NothingLeft
from waney.sawing.outcome.outcome import outcome_of
from waney.sawing.outcome.plan_outcome import PlanOutcome
from waney.sawing.outcome.worlds import World, worlds
from waney.sawing.plan import Plan
from waney.sawing.sheets.from_sheets import Ready


@dataclass(frozen=True, eq=False)
class Offered:
    """Plans as they are offered, the best first, and what their log weighs when that is known."""

    ready: Ready
    scenarios: Scenarios
    offers: tuple[Offer, ...]
    weight: GreenWeight | None

    @property
    def best(self) -> Offer:
        """The one to saw."""
        return self.offers[0]


def offered(ready: Ready, plans: tuple[Plan, ...], scenarios: Scenarios, *, full: bool) -> Offered:
    """Every plan with what is known of it and its pieces; `full` measures their largest rectangles too."""
    shapes = ready.measured.shapes(scenarios)
    weight = ready.measured.weight_of_parts(scenarios, shapes)
    states = worlds(ready.bench, ready.measured.wood, shapes, scenarios)
    found = Offered(ready, scenarios, (), weight)
    return replace(found, offers=tuple(_offer(found, plan, states, full and plan is plans[0]) for plan in plans))


def _offer(found: Offered, plan: Plan, states: Sequence[World], full: bool) -> Offer:
    ready, weight = found.ready, found.weight
    bench, wood = ready.bench, ready.measured.wood
    plan = replace(plan, outcome=_outcome(plan, bench, states))
    pieces = {p.piece.name: piece_facts(p, bench, wood, found.scenarios, with_rectangle=full) for p in plan.pieces}
    sawn = SawnLog.of(plan, bench.log.shape, bench.mill)
    facts = plan_facts(sawn, bench, pieces, weight.log if weight else None, ready.remarks)
    return Offer(str(plan.pattern), plan, facts, pieces)


def _outcome(plan: Plan, bench: Bench, states: Sequence[World]) -> PlanOutcome | None:
    """None where it would take minutes (no compiler for this machine), or where some state leaves nothing to lie on the bed."""
    try:
        return outcome_of(plan, bench, states) if COMPILED else None
    except NothingLeft:
        return None


def card_facts(found: Offered, offer: Offer) -> CardFacts:
    """What stands on the height card of a plan besides the plan itself."""
    return replace(_card(found.ready.bench, found.weight, offer.plan), would_change=_changes(found))


def kept_facts(ready: Ready, plan: Plan, scenarios: Scenarios) -> CardFacts:
    """The same of one plan that is kept: nothing is compared or valued."""
    return _card(ready.bench, ready.measured.weight_of_parts(scenarios), plan)


def _card(bench: Bench, weight: GreenWeight | None, plan: Plan) -> CardFacts:
    sawn = SawnLog.of(plan, bench.log.shape, bench.mill)
    products = {product.name: product for product in wanted(bench.wants)}
    becomes = {p.piece.name: products[p.worth.product] for p in plan.pieces if p.worth.product in products}
    return CardFacts(
        log_weight=weight.log if weight else None,
        blocks=blocks_of(plan, bench.log.shape, bench.mill),
        cuts=cut_facts(sawn, weight, becomes, bench.wants.metal_margin_m),
        turns=turn_facts(sawn, weight),
    )


def _changes(found: Offered) -> tuple[WouldChange, ...] | None:
    """None when there was no other plan to compare with."""
    if len(found.offers) < 2:
        return None
    wants = found.ready.bench.wants
    changes = price_changes([offer.plan for offer in found.offers], wants)
    return would_change(changes, [offer.name for offer in found.offers], wants.rules)
