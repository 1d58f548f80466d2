"""Plans of every pattern: the checker finds every lie, pass, piece and cent again; the bound holds; threads do not matter."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from tests.rings import short_first

from waney.sawing.bench import Bench
from waney.sawing.check.check import check_plan
from waney.sawing.plan import Plan
from waney.sawing.plan_file import write_plan
from waney.sawing.search import plan_cant, plan_half_turn, plan_through
from waney.sawing.wants import Tip

from .drawn_logs import INCH, Drawn, drawn

SHEETS = {"log": "", "mill": "", "wants": ""}


def bench_of(case: Drawn, **more: object) -> Bench:
    mill = replace(case.mill, step_m=INCH / 8)
    wants = replace(case.wants, tips=(Tip.AS_IT_LIES, Tip.PITH), face_step_m=INCH / 2, **more)  # type: ignore[arg-type]
    return Bench.of(case.log, mill, wants)


@pytest.mark.parametrize("search", [plan_through, plan_half_turn, plan_cant], ids=lambda f: f.__name__)
@pytest.mark.parametrize("seed", short_first([3, 5, 8]))
def test_checker_finds_everything_again(seed: int, search: Callable[..., Plan]) -> None:
    bench = bench_of(drawn(seed))
    plan = search(bench)
    assert plan.cents <= plan.bound_cents
    shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
    verdict = check_plan(plan, bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=True)
    assert verdict.accepted, verdict.sentence


@pytest.mark.parametrize("search", short_first([plan_through, plan_half_turn, plan_cant]), ids=lambda f: f.__name__)
def test_same_bytes_however_many_threads(search: Callable[..., Plan]) -> None:
    bench = bench_of(drawn(4), rolls_deg=(0.0, 120.0))
    with ThreadPoolExecutor(3) as pool:
        assert write_plan(search(bench), SHEETS) == write_plan(search(bench, pool.map), SHEETS)


def test_value_is_the_sum_of_its_parts() -> None:
    plan = plan_through(bench_of(drawn(3)))
    assert plan.cents == sum(p.worth.cents for p in plan.pieces) + sum(term.cents for term in plan.terms) == plan.bound_cents
