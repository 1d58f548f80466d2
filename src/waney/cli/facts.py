"""The facts that papers ask for, filled from what `sawing` and `logs` computed."""

from __future__ import annotations

from waney.figures.scenarios import Scenarios
from waney.papers.facts import CardFacts, CutFacts, PieceFacts, PlanFacts, RingShares
from waney.papers.summary import Offer
from waney.pieces.ring_samples import Shares
from waney.sawing.from_sheets import Ready
from waney.sawing.moves import Pass
from waney.sawing.piece_facts import MeasuredPiece, measured_piece, measured_plan
from waney.sawing.plan import Plan

SCENARIOS = Scenarios(seed=1)


def offers(ready: Ready, plans: tuple[Plan, ...]) -> tuple[Offer, ...]:
    """Every plan with what is known of it and its pieces, the best first."""
    return tuple(_offer(ready, plan) for plan in plans)


def _offer(ready: Ready, plan: Plan) -> Offer:
    wood = ready.measured.wood
    pieces = {p.piece.name: measured_piece(p, ready.bench, wood, SCENARIOS) for p in plan.pieces}
    sums = measured_plan(plan, pieces)
    facts = PlanFacts(board_feet=sums.board_feet, usable_m3=sums.usable_m3, warnings=ready.measured.remarks)
    return Offer(str(plan.pattern), plan, facts, {name: _piece(piece) for name, piece in pieces.items()})


def _piece(piece: MeasuredPiece) -> PieceFacts:
    return PieceFacts(
        widths_m=piece.widths_m,
        board_feet_true=piece.board_feet_true,
        board_feet_nominal=piece.board_feet_nominal,
        surface_measure=piece.surface_measure,
        green_weight=piece.green_weight,
        dry_weight=piece.dry_weight,
        rings_a=_rings(piece.rings_a),
        rings_b=_rings(piece.rings_b),
        holds=piece.holds,
    )


def _rings(shares: Shares) -> RingShares:
    return RingShares(shares.flat, shares.rift, shares.quarter)


def card_facts(ready: Ready, offer: Offer) -> CardFacts:
    """Weights beside the acts: the log before it is rolled on, every piece before its last cut."""
    passes = [move for move in offer.plan.moves if isinstance(move, Pass)]
    cuts = {
        number: CutFacts(weight_off=offer.pieces[move.comes_off].green_weight)
        for number, move in enumerate(passes, 1)
        if move.comes_off in offer.pieces
    }
    return CardFacts(log_weight=ready.measured.weight(SCENARIOS), cuts=cuts)
