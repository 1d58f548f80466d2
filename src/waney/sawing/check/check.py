"""check_plan: one plan against the log, the mill and the wants, from the definition alone.

Nothing here is shared with the optimisers, with `prices.worth` or with the measuring of pieces: polygons, chords, lies,
windows and money are written a second time from docs/design/sawing.md, so that a fault on either side shows.
"""

from __future__ import annotations

from waney.logs.shape import LogShape
from waney.sawing.check.edging import check_batch, check_edged, check_together, cut_of, saved_cents
from waney.sawing.check.money import check_money
from waney.sawing.check.offers import Judge, Shrinking
from waney.sawing.check.opened import Before, check_opened, flats_of
from waney.sawing.check.passes import Costs
from waney.sawing.check.replay import Replay
from waney.sawing.check.settings import (
    check_counts,
    check_sets,
    check_setting_kept,
    check_settings,
    free_of_others,
    sawn_for,
    stands_alone,
)
from waney.sawing.check.verdict import Difference, Reason, Verdict
from waney.sawing.check.worths import Judged, check_best, check_worth
from waney.sawing.mill import Mill
from waney.sawing.moves import Pass, Turn
from waney.sawing.plan import Plan, PlannedPiece
from waney.sawing.wants import Pattern, Wants

SAME_M = 1e-9


def check_plan(
    plan: Plan,
    shape: LogShape,
    mill: Mill,
    wants: Wants,
    shrinking: tuple[float, float],
    *,
    hardwood: bool,
    green_kg_per_m3: float | None = None,
    before: Before | None = None,
) -> Verdict:
    """Replay a plan and count its money again.

    Args:
        plan: what is claimed; shape, mill, wants: what it was made for
        shrinking: shrinkage green to oven-dry, radial and tangential, fraction
        hardwood: which of the mill's feeds applies
        green_kg_per_m3: green weight of wood with its bark; None: weights are not checked
        before: the log before flats and trimming; None: `shape` is taken as it is
    Returns: accepted, or the first difference as a sentence with the kind of its reason.
    """
    try:
        flats = () if before is None else flats_of(before)
        if before is not None:
            check_opened(before, shape)
        _check_grid(plan, mill)
        costs = Costs(mill, hardwood)
        replay = Replay(plan, shape, mill, costs, wants.metal_margin_m, green_kg_per_m3, flats)
        replay.run()
        _check_grid_stations(plan, replay)
        check_settings(plan, mill, wants)
        saved = _edging(replay, plan, costs, wants)
        judged = tuple(_judged(planned, plan, replay, mill, wants, Shrinking(*shrinking)) for planned in plan.pieces)
        check_sets(judged, wants)
        check_counts(plan, wants)
        check_together(plan, [j for j in judged if replay.batch_with(j.planned.piece.name)], saved)
        check_money(plan, replay, costs, saved)
    except Difference as difference:
        return Verdict(difference.reason, str(difference))
    return Verdict(None, "Every lie, pass, piece and cent was found again.")


def _judged(planned: PlannedPiece, plan: Plan, replay: Replay, mill: Mill, wants: Wants, shrinking: Shrinking) -> Judged:
    name = planned.piece.name
    piece, batch = replay.slices[name], replay.batch_with(name)
    judge = Judge(piece, wants, shrinking, sawn=all(planned.piece.sawn_edges))
    products = sawn_for(planned, plan, wants, mill)
    if batch is None:
        judged = check_worth(planned, judge)
    else:
        judged = check_edged(planned, judge, cut_of(batch, name, piece, mill.step_m))
    check_setting_kept(planned, products)
    if stands_alone(planned, wants):
        check_best(judged, free_of_others(products, wants), edged=batch is not None)
    return judged


def _edging(replay: Replay, plan: Plan, costs: Costs, wants: Wants) -> tuple[float, ...]:
    by_name = {planned.piece.name: planned.piece for planned in plan.pieces}
    for batch in replay.batches:
        check_batch(batch, by_name, costs.mill)
    return tuple(saved_cents(batch, by_name, costs, wants.rules.edging_cents) for batch in replay.batches)


def _check_grid(plan: Plan, mill: Mill) -> None:
    grid = plan.grid
    if abs(grid.step_m - mill.step_m) > SAME_M:
        raise Difference(
            Reason.GRID, f"The plan counts in steps of {grid.step_m:.6f} m, the mill's scale in {mill.step_m:.6f} m."
        )
    if plan.roll_deg not in grid.rolls_deg or plan.tip not in grid.tips:
        raise Difference(Reason.GRID, "The plan's roll or tip is none of those its grid names.")
    turns = [move for move in plan.moves if isinstance(move, Turn)]
    onto_flat = all(turn.quarters == 2 and turn.onto_flat for turn in turns)
    fits = {Pattern.THROUGH: not turns, Pattern.HALF_TURN: len(turns) == 1 and onto_flat, Pattern.CANT: True}
    if not fits[plan.pattern]:
        raise Difference(Reason.TURN, f"The plan's turns are not those of '{plan.pattern.value}'.")
    if not any(isinstance(move, Pass) for move in plan.moves):
        raise Difference(Reason.ORDER, "The plan has no pass.")


def _check_grid_stations(plan: Plan, replay: Replay) -> None:
    if plan.grid.stations != replay.stations:
        raise Difference(Reason.GRID, f"The plan looks at {plan.grid.stations} stations, the log has {replay.stations}.")
