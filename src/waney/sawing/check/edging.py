"""Flitches edged together: every one stands, is cut, and keeps its product at the stated heights."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from waney.prices.product import Edges
from waney.sawing.check.passes import Costs
from waney.sawing.check.slices import LOWER, UPPER
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.check.worths import Judged
from waney.sawing.mill import Mill
from waney.sawing.moves import EdgeTogether

SLACK_M = 2e-5
FACES = [LOWER, UPPER]


def check_batch(batch: EdgeTogether, judged: Mapping[str, Judged], mill: Mill) -> None:
    """Heights, widths, limits and the place of every product in one batch; Difference at the first fault."""
    n = len(batch.names)
    if n == 0 or len(batch.low_y_up) != n or len(batch.widths_steps) != n:
        raise Difference(Reason.EDGING, "A batch of flitches does not say for each which edge is up and how wide it becomes.")
    _check_heights(batch, mill)
    thick = sum(judged[name].planned.piece.thickness_m for name in batch.names)
    if thick > mill.widest_cut_m + SLACK_M:
        raise Difference(
            Reason.LIMIT, f"Flitches {thick:.4f} m thick together do not pass guides {mill.widest_cut_m:.4f} m apart."
        )
    for name, low_up, width in zip(batch.names, batch.low_y_up, batch.widths_steps, strict=True):
        _check_flitch(judged[name], low_up, batch.first_height_steps * mill.step_m, width * mill.step_m)


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


def _check_flitch(judged: Judged, low_up: bool, first_m: float, width_m: float) -> None:
    name, offer, piece = judged.planned.piece.name, judged.offer, judged.judge.piece
    if offer is None or offer.free is None or offer.product.edges is not Edges.EDGED:
        raise Difference(Reason.EDGING, f"{name} is not an edged product.")
    if low_up:
        sawn = float(np.nanmax(piece.high[FACES])) - first_m
        low, high = sawn, sawn + width_m
    else:
        sawn = float(np.nanmin(piece.low[FACES])) + first_m
        low, high = sawn - width_m, sawn
    if width_m < offer.high_m - offer.low_m - SLACK_M:
        raise Difference(
            Reason.EDGING, f"{name} is edged to {width_m:.4f} m; its product needs {offer.high_m - offer.low_m:.4f} m."
        )
    if low < offer.free[0] - SLACK_M or high > offer.free[1] + SLACK_M:
        raise Difference(Reason.EDGING, f"At the common height {name} would be cut outside its free width.")


def saved_cents(batch: EdgeTogether, judged: Mapping[str, Judged], costs: Costs, edging_cents: float) -> float:
    """What the batch saves against edging its flitches one by one, not rounded."""
    pieces = [judged[name].planned.piece for name in batch.names]
    thick, longest = sum(piece.thickness_m for piece in pieces), max(piece.length_m for piece in pieces)
    passes = (1 + len(batch.then_height_steps)) * costs.cut(thick, longest)
    return len(pieces) * edging_cents - costs.minutes(costs.mill.minutes_per_edging) - passes
