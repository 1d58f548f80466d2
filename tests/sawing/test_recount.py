"""Counting again: a log that lies as wanted keeps its heights and its money; one that does not is counted for where it lies."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from tests.rings import short_first

from waney.pieces.shrinking import Shrinking
from waney.sawing.as_read import as_read, pith_heights
from waney.sawing.bench import Bench
from waney.sawing.check.check import check_plan
from waney.sawing.facts.blocks import blocks_of
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.moves import Pass, PithHeights, RollOn
from waney.sawing.plan import Plan
from waney.sawing.plan_file import read_plan, write_plan
from waney.sawing.recount import SUNK_M, Advice, Comparison, Recount, bench_as_read, recounted
from waney.sawing.search import plan_cant, plan_half_turn, plan_through
from waney.sawing.wants import Tip

from .check.known_logs import MILL, STEP, board, cylinder, live_slab, wants
from .drawn_logs import INCH, drawn

EVERY = (plan_through, plan_half_turn, plan_cant)
SHEETS = {"log": "", "mill": "", "wants": ""}


@cache
def bench_of(seed: int, crossbars: tuple[float, ...] = ()) -> Bench:
    case = drawn(seed)
    mill = replace(case.mill, step_m=INCH / 8, crossbars_m=crossbars)
    return Bench.of(case.log, mill, replace(case.wants, tips=(Tip.AS_IT_LIES, Tip.PITH), face_step_m=INCH))


@cache
def card_of(seed: int, search: Callable[[Bench], Plan], crossbars: tuple[float, ...] = ()) -> Plan:
    return search(bench_of(seed, crossbars))


def again(seed: int, search: Callable[[Bench], Plan], butt: float, top: float, crossbars: tuple[float, ...] = ()) -> Recount:
    """Counted again from readings so much over what the card wants [m]."""
    bench, card = bench_of(seed, crossbars), card_of(seed, search, crossbars)
    wanted = pith_heights(bench.log.shape, card.lies[0])
    return recounted(bench, card, PithHeights(wanted.butt_m + butt, wanted.top_m + top), (card.pattern,))


def heights(plan: Plan) -> list[int]:
    return [move.height_steps for move in plan.moves if isinstance(move, Pass)]


def worths(plan: Plan) -> list[object]:
    return [(p.worth.product, p.worth.terms) for p in plan.pieces]


def _called(value: object) -> str:
    return getattr(value, "__name__", str(value))


@pytest.mark.parametrize(
    ("seed", "search"), [(5, plan_through), (5, plan_half_turn), *((11, search) for search in EVERY)], ids=_called
)
def test_reading_exactly_what_the_card_wants_changes_no_height_and_no_cent(seed: int, search: Callable[[Bench], Plan]) -> None:
    card, found = card_of(seed, search), again(seed, search, 0.0, 0.0)
    counted = found.plans[0]
    assert heights(counted) == heights(card)
    assert worths(counted) == worths(card)
    compared = found.comparison
    assert compared.counted_cents == compared.kept_cents == compared.again_cents == card.cents
    assert compared.advice is Advice.AS_WANTED
    assert found.remarks == ()


@pytest.mark.parametrize("search", EVERY, ids=lambda f: f.__name__)
@pytest.mark.parametrize(("butt", "top"), short_first([(0.012, 0.02), (-0.02, -0.008), (0.03, -0.01)]))
def test_the_checker_finds_a_plan_as_read_again(search: Callable[[Bench], Plan], butt: float, top: float) -> None:
    """On blocks, sunk into the bed, and tilted; sunk deeper than the bark that is there."""
    bench, found = bench_of(11), again(11, search, butt, top)
    plan = found.plans[0]
    shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
    verdict = check_plan(plan, bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=True)
    assert verdict.accepted, verdict.sentence
    assert plan.tip is Tip.AS_READ
    assert plan.grid.tips == (Tip.AS_READ,)
    for planned in plan.pieces:  # whatever lie it comes off in, no wood of it was ever in the bed
        assert planned.piece.to_log is not None
        low, high = planned.piece.low_y_m, planned.piece.high_y_m
        for face, z in ((0, -0.5), (2, 0.5)):
            for edge in (low[face], high[face]):
                points = np.column_stack([planned.piece.along_m, edge, np.full_like(edge, z * planned.piece.thickness_m)])
                v = plan.lies[0].there(planned.piece.to_log.there(points[~np.isnan(edge)]))[:, 1]
                assert v.min(initial=1.0) > -1e-6


@pytest.mark.parametrize(("butt", "top"), [(-0.01, 0.004), (0.02, 0.02)])
def test_a_log_on_crossbars_is_counted_again_and_found_again(butt: float, top: float) -> None:
    bars = (0.2, 1.0, 1.8, 2.6)
    bench, found = bench_of(11, bars), again(11, plan_half_turn, butt, top, bars)
    shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
    verdict = check_plan(found.plans[0], bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=True)
    assert verdict.accepted, verdict.sentence


def straight() -> Bench:
    """A cylinder on a mill whose lowest blade binds nothing."""
    shape = cylinder(0.2, 3.0, bark=0.01, pith=lambda z: (0.01, 0.02))
    wanted = replace(wants(live_slab(), board()), rolls_deg=(20.0,), tips=(Tip.AS_IT_LIES,))
    return Bench.of(LogToSaw("log", "oak", True, shape, Shrinking(0.045, 0.085, wanted.target_mc)), MILL, wanted)


@pytest.mark.parametrize("steps", [1, 5])
def test_both_readings_so_many_steps_higher_move_every_height_by_as_many(steps: int) -> None:
    bench = straight()
    card = plan_through(bench)
    wanted = pith_heights(bench.log.shape, card.lies[0])
    by = steps * STEP
    found = recounted(bench, card, PithHeights(wanted.butt_m + by, wanted.top_m + by), (card.pattern,))
    assert heights(found.plans[0]) == [height + steps for height in heights(card)]
    assert found.plans[0].cents == card.cents
    assert found.comparison.kept_cents <= card.cents  # the old heights now come too low in the log


def test_readings_in_inches_and_in_millimetres_count_alike() -> None:
    bench = straight()
    inches, metric = (as_read(bench.log.shape, 20.0, PithHeights(*at)) for at in ((9.5 * INCH, 8.75 * INCH), (0.2413, 0.22225)))
    one, other = (plan_through(bench_as_read(bench, found)) for found in (inches, metric))
    assert (heights(one), one.cents) == (heights(other), other.cents)


def test_a_plan_as_read_writes_what_was_read_and_reads_back() -> None:
    plan = again(5, plan_through, 0.004, 0.01).plans[0]
    back, _ = read_plan(write_plan(plan, SHEETS))
    first = back.moves[0]
    assert isinstance(first, RollOn)
    assert first == plan.moves[0]
    assert first.pith_read is not None


def test_a_log_that_was_read_needs_no_blocks() -> None:
    found = again(5, plan_through, 0.02, 0.05)
    assert blocks_of(found.plans[0], found.bench.log.shape, found.bench.mill) == ()


def test_deep_in_the_bed_and_high_over_it_are_remarked() -> None:
    deep, high = (again(5, plan_through, by, by).remarks for by in (-SUNK_M - 0.01, SUNK_M + 0.01))
    assert "deep in the bed" in deep[0]
    assert "over the bed" in high[0]
    assert again(5, plan_through, 0.8 * SUNK_M, 0.8 * SUNK_M).remarks == ()


def compared(**more: object) -> Comparison:
    given = {
        "wanted": PithHeights(0.24, 0.22), "read": PithHeights(0.25, 0.22), "step_m": STEP, "kept_cents": 9000,
        "kept_cuts_too_wide": False, "counted_cents": 9500, "again_cents": 9600, "laying_cents": 400,
    }  # fmt: skip
    return Comparison(**(given | more))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("more", "advice"),
    [
        ({}, Advice.COUNTED),
        ({"kept_cents": 9500}, Advice.KEEP),
        ({"kept_cents": 9700, "kept_cuts_too_wide": True}, Advice.COUNTED),
        ({"again_cents": 9901}, Advice.LAY_AGAIN),
        ({"again_cents": 9900}, Advice.COUNTED),
        ({"again_cents": 9590, "laying_cents": 0}, Advice.COUNTED),
        ({"again_cents": 9600, "laying_cents": 0}, Advice.LAY_AGAIN),
        ({"kept_cents": 9550, "again_cents": 9980}, Advice.LAY_AGAIN),
        ({"read": PithHeights(0.24 + STEP / 2, 0.22 - STEP / 2)}, Advice.AS_WANTED),
        ({"read": PithHeights(0.24, 0.22 + 0.51 * STEP)}, Advice.COUNTED),
    ],
)
def test_the_advice_is_the_way_that_leaves_most(more: dict[str, object], advice: Advice) -> None:
    assert compared(**more).advice is advice
