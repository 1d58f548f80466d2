"""What stands beside the acts: weights that sum to the log, faces, blocks under a lifted end, prices that tip the choice."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.sawing.bench import Bench
from waney.sawing.facts.blocks import blocks_of
from waney.sawing.facts.cut_facts import Look, cut_facts, metal_cuts
from waney.sawing.facts.sawn_log import SawnLog
from waney.sawing.facts.would_change import price_changes
from waney.sawing.plan import Plan
from waney.sawing.search import plan_half_turn, plan_through
from waney.sawing.wants import Tip

from .drawn_logs import INCH, drawn

BARK = 0.5


def case(seed: int, tip: Tip = Tip.PITH) -> Bench:
    found = drawn(seed)
    wants = replace(found.wants, tips=(tip,))
    return Bench.of(found.log, replace(found.mill, step_m=INCH / 8), wants)


def sawn(bench: Bench, plan: Plan) -> SawnLog:
    return SawnLog.of(plan, bench.log.shape, bench.mill)


@pytest.mark.parametrize("seed", [3, 5, 8])
def test_what_comes_off_what_stays_and_the_kerf_make_up_the_log(seed: int) -> None:
    bench = case(seed)
    plan = plan_half_turn(bench)
    log = sawn(bench, plan)
    cuts = len(log.sections[0].cuts)
    off = sum(log.share_off(cut, BARK) for cut in range(1, cuts + 1))
    kept = log.weighed(lambda s: s.parts[-1].with_bark, BARK) / log.weighed(lambda s: s.bark, BARK)
    # a kerf takes its thickness times the cut's width out of every section, and no more
    kerf = sum(log.widest_m(cut) for cut in range(1, cuts + 1)) * bench.mill.kerf_m * bench.log.shape.length_m
    lost = 1.0 - off - kept
    assert 0.0 < lost <= kerf / log.weighed(lambda s: s.bark, BARK) + 1e-9
    assert log.share_on_bed(1, BARK) == pytest.approx(
        1.0 - sum(log.share_off(c.number, BARK) for c in log.sections[0].cuts if c.lie == 0), abs=lost
    )


@pytest.mark.parametrize("seed", [3, 5, 8])
def test_a_face_is_as_wide_as_its_pieces_say(seed: int) -> None:
    bench = case(seed)
    plan = plan_through(bench)
    facts = cut_facts(sawn(bench, plan), None, {}, 0.0)
    for number, cut in enumerate((m for m in plan.moves if hasattr(m, "comes_off")), 1):
        below = next((p for p in plan.pieces if p.upper_steps == cut.height_steps), None)
        face = facts[number].face_m
        if below is not None and face is not None and np.isfinite(below.piece.low_y_m[2, [0, -1]]).all():
            widths = (below.piece.high_y_m - below.piece.low_y_m)[2]
            # the piece's stations start where the square length does, a few millimetres into the log
            assert face == pytest.approx((widths[0], widths[-1]), abs=0.01)


def test_metal_near_a_cut_is_told_and_looked_for() -> None:
    found = drawn(3)
    plan = plan_through(case(3))
    first = next(m for m in plan.moves if hasattr(m, "comes_off"))
    log = found.log
    height = first.height_steps * INCH / 8
    at = plan.lies[0].back(np.array([[0.0, height, log.shape.length_m / 2]]))[0]
    nail = Zone(Hidden.METAL, float(at[2]), float(at[2]), float(at[0]), float(at[1]), 0.005)
    nailed = replace(log.shape, zones=(nail,))
    told = SawnLog.of(plan, nailed, replace(found.mill, step_m=INCH / 8))
    assert 1 in metal_cuts(told, 0.01)
    assert Look.METAL in cut_facts(told, None, {}, 0.01)[1].looks


def test_a_log_that_lies_by_itself_needs_no_block_and_a_lifted_end_needs_one_as_high_as_its_underside() -> None:
    rests = case(5, Tip.AS_IT_LIES)
    assert blocks_of(plan_through(rests), rests.log.shape, rests.mill) == ()
    lifted = case(5, Tip.BARK)
    plan = plan_through(lifted)
    (block,) = blocks_of(plan, lifted.log.shape, lifted.mill)
    under = plan.lies[0].there(lifted.log.shape.surface(bark=True))
    nearest = int(np.abs(under[:, 0, 2] - block.at_m).argmin())
    assert block.height_m == pytest.approx(float(under[nearest, :, 1].min()), abs=1e-6)
    assert block.height_m > 0.0


def test_at_the_price_that_is_named_both_plans_earn_the_same() -> None:
    bench = case(5)
    plans = sorted((plan_through(bench), plan_half_turn(bench)), key=lambda plan: -plan.cents)
    for change in price_changes(plans, bench.wants):
        share = change.cents_then / change.cents_now
        earns = [
            plan.cents
            + sum(
                (share - 1.0) * term.cents
                for p in plan.pieces
                if p.worth.product == change.product
                for term in p.worth.terms
                if term.what.startswith("price")
            )
            for plan in (plans[0], plans[change.plan])
        ]
        assert earns[0] == pytest.approx(earns[1], abs=1e-6)
