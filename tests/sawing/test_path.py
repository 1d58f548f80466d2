"""The longest path: the kernel, the recursive reference and a HiGHS interval model agree."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import LinearConstraint, milp
from scipy.sparse import coo_matrix

from waney.sawing.bench import Bench
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.kernel.path import NEVER, best_above, best_above_reference
from waney.sawing.kernel.through import side_of

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
    best, _ = best_above(worth, span, cost, free)
    plain = best_above_reference(worth, span, cost, free)
    assert (None if best.max() == NEVER else int(best.max())) == plain


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_through_and_through_equals_the_interval_model(seed: int) -> None:
    case = drawn(seed)
    bench = Bench.of(case.log, case.mill, case.wants)
    laid = bench.lay(bench.lies()[0])
    side = side_of(bench.ask, laid.sections, laid.rings, laid.obstacles)
    free = can_be_first(bench.ask.effort, side.tables)
    assert int(side.best.max()) == by_highs(side.arcs.worth, side.arcs.span, side.cost, free)
