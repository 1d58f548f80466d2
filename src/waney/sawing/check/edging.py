"""Flitches edged together: every one stands, is cut, and is what the stated heights leave of it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from waney.pieces.piece import Piece
from waney.prices.product import Edges
from waney.sawing.check.cents import whole
from waney.sawing.check.offers import BENDS, Judge
from waney.sawing.check.passes import Costs
from waney.sawing.check.polygon import Run
from waney.sawing.check.slices import LOWER, UPPER, Slice
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.check.worths import Judged, alone_at, check_stated
from waney.sawing.mill import Mill
from waney.sawing.moves import EdgeTogether
from waney.sawing.plan import Plan, PlannedPiece

SLACK_M = 2e-5
FACES = [LOWER, UPPER]


def check_batch(batch: EdgeTogether, pieces: Mapping[str, Piece], mill: Mill) -> None:
    """Heights, limits and what stands there; Difference at the first fault."""
    n = len(batch.names)
    if n == 0 or len(batch.low_y_up) != n or len(batch.widths_steps) != n:
        raise Difference(Reason.EDGING, "A batch of flitches does not say for each which edge is up and how wide it becomes.")
    _check_heights(batch, mill)
    standing = [pieces[name] for name in batch.names]
    thick = sum(piece.thickness_m for piece in standing)
    if thick > mill.widest_cut_m + SLACK_M:
        raise Difference(
            Reason.LIMIT, f"Flitches {thick:.4f} m thick together do not pass guides {mill.widest_cut_m:.4f} m apart."
        )
    for piece in standing:
        if all(piece.sawn_edges):
            raise Difference(Reason.EDGING, f"Both edges of {piece.name} are sawn already.")
    _check_under_head(batch, max(_height_on_edge_m(piece) for piece in standing), mill)


def _check_heights(batch: EdgeTogether, mill: Mill) -> None:
    then = batch.then_height_steps
    if list(then) != sorted(set(then), reverse=True) or set(then) != set(batch.widths_steps):
        raise Difference(Reason.EDGING, "The heights after turning are not the widths of the flitches, widest first.")
    for steps in (batch.first_height_steps, *then):
        height = steps * mill.step_m
        if not mill.lowest_m - SLACK_M <= height <= mill.highest_m + SLACK_M:
            raise Difference(
                Reason.LIMIT, f"Edging at {height:.4f} m is outside the blade's {mill.lowest_m:.4f} to {mill.highest_m:.4f} m."
            )
        if height <= mill.backstop_lowest_m + 1e-9:
            raise Difference(Reason.BACKSTOP, f"Edging at {height:.4f} m runs into the backstops.")


def _height_on_edge_m(piece: Piece) -> float:
    return float(np.nanmax(piece.high_y_m[FACES]) - np.nanmin(piece.low_y_m[FACES]))


def _check_under_head(batch: EdgeTogether, tallest_m: float, mill: Mill) -> None:
    first, last = batch.first_height_steps * mill.step_m, min(batch.then_height_steps) * mill.step_m
    above = max(tallest_m - first, first - last) - mill.kerf_m
    if mill.thickest_m is not None and above > mill.thickest_m + SLACK_M:
        raise Difference(
            Reason.LIMIT, f"Edging leaves {above:.4f} m above the blade; {mill.thickest_m:.4f} m pass under the head."
        )


def cut_of(batch: EdgeTogether, name: str, piece: Slice, step_m: float) -> Run:
    """The edges that the two heights leave of one flitch, u [m]."""
    i = batch.names.index(name)
    first_m, width_m = batch.first_height_steps * step_m, batch.widths_steps[i] * step_m
    if batch.low_y_up[i]:
        sawn = float(np.nanmax(piece.high[FACES])) - first_m
        return sawn, sawn + width_m
    sawn = float(np.nanmin(piece.low[FACES])) + first_m
    return sawn - width_m, sawn


def check_edged(planned: PlannedPiece, judge: Judge, edges: Run) -> Judged:
    """Worth of a flitch that was edged together with others: its product as the heights leave it, within what is free. The
    offer of the answer is the product as if edged alone."""
    name, alone = planned.piece.name, alone_at(planned, judge)
    if not alone or alone[0].product.edges is not Edges.EDGED:
        raise Difference(Reason.EDGING, f"{name} is not an edged product.")
    within = [offer for offer in alone if offer.free is not None and _inside(edges, offer.free)]
    if not within:
        raise Difference(Reason.EDGING, f"At the common heights {name} would be cut outside its free width.")
    left = [offer for one in within for slack in BENDS if (offer := judge.cut_to(one, edges, slack)) is not None]
    if not left:
        raise Difference(Reason.EDGING, f"{edges[1] - edges[0]:.4f} m wide, {name} is no {planned.worth.product} any more.")
    check_stated(planned, judge, left)
    return Judged(planned, judge, within[0])


def _inside(edges: Run, free: Run) -> bool:
    return edges[0] >= free[0] - SLACK_M and edges[1] <= free[1] + SLACK_M


def saved_cents(batch: EdgeTogether, by_name: Mapping[str, Piece], costs: Costs, edging_cents: float) -> float:
    """What the batch saves against edging its flitches one by one, not rounded."""
    pieces = [by_name[name] for name in batch.names]
    thick, longest = sum(piece.thickness_m for piece in pieces), max(piece.length_m for piece in pieces)
    passes = (1 + len(batch.then_height_steps)) * costs.cut(thick, longest)
    return len(pieces) * edging_cents - costs.minutes(costs.mill.minutes_per_edging) - passes


def check_together(plan: Plan, edged: Sequence[Judged], saved: Sequence[float]) -> None:
    """What is said to be gained by edging together: what it saves, and what the flitches are now worth more or less."""
    changes = sum(judged.planned.worth.cents - _alone_cents(judged) for judged in edged)
    gained = sum(map(whole, saved)) + changes
    if abs(plan.together_cents - gained) > len(edged) + len(saved):
        raise Difference(Reason.EDGING, f"Edging together gains {gained} cents, the plan says {plan.together_cents}.")
    if plan.together_cents and not edged:
        raise Difference(Reason.EDGING, "The plan gains by edging together and edges nothing together.")


def _alone_cents(judged: Judged) -> int:
    """Edged alone, its share of a set counted in."""
    assert judged.offer is not None
    factor = judged.offer.product.set_factor if judged.planned.set_number is not None else 1.0
    return judged.offer.cents + whole((factor - 1.0) * judged.offer.cents)
