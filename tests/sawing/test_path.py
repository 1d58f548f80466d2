"""The longest path: the kernel, the recursive reference and a HiGHS interval model agree."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import coo_matrix

from waney.sawing.bench import Bench
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.kernel.path import NEVER, best_above, best_above_reference, chain
from waney.sawing.kernel.through import best_start, side_of
from waney.sawing.search import plan_through

from .drawn_logs import drawn


def by_highs(worth: np.ndarray, span: np.ndarray, cost: np.ndarray, top_free: np.ndarray) -> int:
    """The same chain as a flow from a source through the passes to a sink, solved by HiGHS through scipy."""
    passes = len(cost)
    arcs = [
        (p, p + int(span[p, c]), int(worth[p, c]) - int(cost[p]))
        for p in range(passes)
        for c in range(span.shape[1])
        if cost[p] != NEVER and span[p, c] > 0 and p + span[p, c] < passes and cost[p + int(span[p, c])] != NEVER
    ]
    arcs += [(passes, p, 0) for p in range(passes) if cost[p] != NEVER]
    arcs += [(p, passes + 1, -int(cost[p])) for p in range(passes) if cost[p] != NEVER and top_free[p]]
    tails, heads, gains = (np.array(column) for column in zip(*arcs, strict=True))
    n = len(arcs)
    rows, columns = np.concatenate([tails, heads]), np.concatenate([np.arange(n), np.arange(n)])
    flow = coo_matrix((np.repeat([1.0, -1.0], n), (rows, columns)), shape=(passes + 2, n))
    supply = np.zeros(passes + 2)
    supply[passes], supply[passes + 1] = 1.0, -1.0
    found = milp(-gains.astype(float), constraints=LinearConstraint(flow, supply, supply), integrality=np.ones(n), bounds=(0, 1))
    return round(-found.fun)


@pytest.mark.parametrize("seed", range(60))
def test_kernel_finds_the_value_of_the_reference(seed: int) -> None:
    rng = np.random.default_rng(seed)
    passes, choices = int(rng.integers(3, 14)), int(rng.integers(1, 4))
    worth = rng.integers(-5, 30, (passes, choices))
    span = rng.integers(0, 5, (passes, choices))
    cost = rng.integers(0, 6, passes)
    cost[rng.random(passes) < 0.2] = NEVER
    free = (rng.random(passes) < 0.8).astype(np.int64)
    best, _, _ = best_above(worth, span, cost, free)
    plain = best_above_reference(worth, span, cost, free)
    assert (None if best.max() == NEVER else int(best.max())) == plain


def chains(span: np.ndarray, cost: np.ndarray, free: np.ndarray, h: int) -> list[list[tuple[int, int]]]:
    """Every chain of arcs (pass, choice) from a pass upwards, written out."""
    if cost[h] == NEVER:
        return []
    found: list[list[tuple[int, int]]] = [[]] if free[h] else []
    for c in range(span.shape[1]):
        if span[h, c] > 0 and h + span[h, c] < len(cost):
            found += [[(h, c), *rest] for rest in chains(span, cost, free, h + int(span[h, c]))]
    return found


@pytest.mark.parametrize("seed", range(40))
def test_of_chains_that_earn_the_same_the_one_of_fewest_passes_is_taken(seed: int) -> None:
    """Passes cost nothing here, as at a mill whose hour has no price, so that ties are many."""
    rng = np.random.default_rng(seed)
    worth, span = rng.integers(0, 3, (9, 3)), rng.integers(0, 4, (9, 3))
    cost, free = np.zeros(9, np.int64), (rng.random(9) < 0.8).astype(np.int64)
    best, choice, made = best_above(worth, span, cost, free)
    start = best_start(best, made)
    every = [(h, one) for h in range(9) for one in chains(span, cost, free, h)]
    earns = [sum(int(worth[arc]) for arc in one) for _, one in every]
    assert int(best[start]) == max(earns)
    assert int(made[start]) == min(len(one) + 1 for (_, one), cents in zip(every, earns, strict=True) if cents == max(earns))
    assert len(chain(start, choice, span)) + 1 == int(made[start])


@pytest.mark.parametrize("seed", range(4, 9))
def test_where_passes_cost_nothing_no_pass_parts_wood_that_nobody_wants(seed: int) -> None:
    """Unless it is thicker than any one slice: twice the thickest setting."""
    case = drawn(seed)
    wants = replace(case.wants, rules=replace(case.wants.rules, salvage_cents_per_m3=0.0))
    plan = plan_through(Bench.of(case.log, replace(case.mill, hourly_cents=None), wants))
    thickest = 2 * max(setting.steps for setting in plan.settings)
    for above, below in pairwise(plan.pieces):
        assert above.upper_steps is not None
        if above.worth.product is None and below.worth.product is None:
            assert above.upper_steps - below.lower_steps > thickest


@pytest.mark.long
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_through_and_through_equals_the_interval_model(seed: int) -> None:
    case = drawn(seed)
    bench = Bench.of(case.log, case.mill, case.wants)
    laid = bench.lay(bench.lies()[0])
    side = side_of(bench.ask, laid.sections, laid.rings, laid.obstacles)
    free = can_be_first(bench.ask.effort, side.tables)
    assert int(side.best.max()) == by_highs(side.arcs.worth, side.arcs.span, side.cost, free)
