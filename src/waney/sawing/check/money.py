"""The plan's own terms, its sum and its bound."""

from __future__ import annotations

from waney.sawing.check.cents import may_be
from waney.sawing.check.passes import Costs
from waney.sawing.check.replay import Replay
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.plan import Plan, Standing


def check_money(plan: Plan, replay: Replay, costs: Costs, saved: tuple[float, ...]) -> None:
    """Every term to the cent, the sum exactly, the bound not below it; Difference at the first fault."""
    expected = {
        "loading": (-costs.minutes(costs.mill.minutes_per_loading),),
        "passes": tuple(-cents for cents in replay.pass_cents),
        "turns": (-replay.turns * costs.minutes(costs.mill.minutes_per_turn),),
        "metal": tuple(-cents for cents in replay.metal_cents),
        "edging saved": saved,
    }
    stated = {term.what: term.cents for term in plan.terms}
    if len(stated) < len(plan.terms) or not stated.keys() <= expected.keys():
        raise Difference(Reason.MONEY, "A term of the plan stands there twice, or is none that a plan has.")
    for what, cents in expected.items():
        if not may_be(stated.get(what, 0), cents):
            reason = Reason.METAL if what == "metal" else Reason.MONEY
            raise Difference(
                reason, f"'{what}' should be {sum(cents):.2f} cents before rounding, the plan says {stated.get(what, 0)}."
            )
    _check_sum(plan)


def _check_sum(plan: Plan) -> None:
    total = sum(planned.worth.cents for planned in plan.pieces) + sum(term.cents for term in plan.terms)
    if total != plan.cents:
        raise Difference(Reason.MONEY, f"Pieces and terms sum to {total} cents, the plan says {plan.cents}.")
    if plan.bound_cents < plan.cents:
        raise Difference(Reason.BOUND, f"The bound of {plan.bound_cents} cents is below the plan's own {plan.cents}.")
    if plan.standing is Standing.OPTIMAL and plan.bound_cents != plan.cents:
        raise Difference(Reason.BOUND, "The plan is called optimal and its bound lies above it.")
