"""Count model: one lie with counts solved exactly, as a flow through passes with count rows, by HiGHS through scipy.

scipy's own copy of HiGHS is used because it prints nothing. The model holds only the arcs that can still be part of something
better than the plan in hand: best way up to the arc, the arc, best way on from it, at the prices of the bound.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, isfinite
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from waney.sawing.counts.count_arcs import Chain, CountedLie, chain_of
from waney.sawing.counts.count_bounds import Priced, keeps, paid_by_counts, priced_worth
from waney.sawing.kernel.path import NEVER, best_above
from waney.sawing.wants import Wants

if TYPE_CHECKING:  # slow to load, and most wants count nothing: loaded where it is used
    from scipy.optimize import LinearConstraint
    from scipy.sparse import coo_matrix

Whole = NDArray[np.int64]

NODES = 20_000
"""Nodes of the search tree that one lie may take: work, not time, so that the answer is the same everywhere."""
INFEASIBLE = 2


@dataclass(frozen=True)
class Solved:
    """What is known of one lie: the best chain above the floor that keeps the counts, if there is one, and the bound [cents]."""

    chain: Chain | None
    bound: int

    @property
    def cents(self) -> int:
        """What the chain earns; NEVER without one."""
        return int(NEVER) if self.chain is None else self.chain.cents


@dataclass(frozen=True, eq=False)
class Flow:
    """Columns of the model: tail and head pass, gain [cents], and (pass, choice) or (-1, -1) at the ends."""

    tails: Whole
    heads: Whole
    gains: Whole
    taken: tuple[tuple[int, int], ...]


def solved(lie: CountedLie, wants: Wants, at: Priced, above: int) -> Solved:
    """The best chain of a lie that keeps the counts, as far as it earns more than `above` [cents]."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    flow = flow_of(lie, wants, at, above)
    if not flow.taken:
        return Solved(None, int(NEVER))
    rows = [LinearConstraint(*_balance(flow, len(lie.cost))), *_counts(lie, wants, flow)]
    n = len(flow.gains)
    ask = milp(
        -flow.gains.astype(float),
        constraints=rows,
        integrality=np.ones(n, np.int64),
        bounds=Bounds(np.zeros(n), np.ones(n)),
        options={"node_limit": NODES, "mip_rel_gap": 0.0},
    )
    if ask.status == INFEASIBLE:
        return Solved(None, int(NEVER))
    bound = at.bound if ask.mip_dual_bound is None else min(at.bound, _floor(-ask.mip_dual_bound, at.bound))
    chain = _read(lie, flow, ask.x) if ask.x is not None else None
    if chain is None or not keeps(chain, wants):
        return Solved(None, bound)
    return Solved(chain, chain.cents if ask.status == 0 else max(chain.cents, bound))


def _floor(bound: float, otherwise: int) -> int:
    """A bound on whole cents as a whole number (solvers leave dust); the other one when there is none."""
    return floor(bound + 1e-4) if isfinite(bound) else otherwise


def flow_of(lie: CountedLie, wants: Wants, at: Priced, above: int) -> Flow:
    """The columns that may be part of a chain that earns more than `above`, by the bound's prices."""
    arcs, cost, passes = lie.arcs, lie.cost, len(lie.cost)
    worth = priced_worth(lie, at.prices)
    onward, _, _ = best_above(worth, arcs.span, cost, lie.top_free)
    upto = _best_below(worth, arcs.span, cost)
    floor_ = above - paid_by_counts(wants, at.prices)
    columns: list[tuple[int, int, int, tuple[int, int]]] = []
    for p in np.flatnonzero(cost != NEVER).tolist():
        if onward[p] != NEVER and onward[p] > floor_:
            columns.append((passes, p, 0, (-1, -1)))
        if lie.top_free[p] and upto[p] != NEVER and upto[p] > floor_:
            columns.append((p, passes + 1, -int(cost[p]), (-1, -1)))
        after = p + arcs.span[p]
        kept = (arcs.span[p] > 0) & (after < passes)
        ends = onward[np.minimum(after, passes - 1)]
        kept &= (ends != NEVER) & (upto[p] + worth[p] + ends > floor_)
        columns += [(p, int(after[c]), int(arcs.worth[p, c] - cost[p]), (p, c)) for c in np.flatnonzero(kept).tolist()]
    if not columns:
        return Flow(np.empty(0, np.int64), np.empty(0, np.int64), np.empty(0, np.int64), ())
    tails, heads, gains, taken = zip(*columns, strict=True)
    return Flow(np.array(tails), np.array(heads), np.array(gains), taken)


def _best_below(worth: Whole, span: Whole, cost: Whole) -> Whole:
    """For every pass: the most that passes up to and with it can earn, pass itself paid; NEVER where it cannot be."""
    best = np.where(cost == NEVER, NEVER, -cost)
    for p in range(len(cost)):
        if best[p] == NEVER:
            continue
        for c in np.flatnonzero((span[p] > 0) & (p + span[p] < len(cost))).tolist():
            after = p + int(span[p, c])
            if cost[after] != NEVER:
                best[after] = max(best[after], best[p] + worth[p, c] - cost[after])
    return best


def _balance(flow: Flow, passes: int) -> tuple[coo_matrix, Whole, Whole]:
    """One row for every pass: what comes in goes out; one chain from source to sink."""
    from scipy.sparse import coo_matrix

    n = len(flow.gains)
    rows, columns = np.concatenate([flow.tails, flow.heads]), np.concatenate([np.arange(n), np.arange(n)])
    supply = np.zeros(passes + 2, np.int64)
    supply[passes], supply[passes + 1] = 1, -1
    return coo_matrix((np.repeat([1.0, -1.0], n), (rows, columns)), shape=(passes + 2, n)), supply, supply


def _counts(lie: CountedLie, wants: Wants, flow: Flow) -> list[LinearConstraint]:
    """One row for every product that is counted."""
    from scipy.optimize import LinearConstraint

    choice = np.array([c for _, c in flow.taken])
    rows = []
    for j, p in enumerate(wants.products):
        if p.at_least > 0 or p.at_most is not None:
            pieces = np.where(choice == j, lie.counts[j], 0)
            rows.append(LinearConstraint(pieces[None, :], p.at_least, np.inf if p.at_most is None else p.at_most))
    return rows


def _read(lie: CountedLie, flow: Flow, x: NDArray[np.float64]) -> Chain | None:
    """The chain of a solution, its cents summed again in whole numbers."""
    arcs = sorted(flow.taken[i] for i in np.flatnonzero(x > 0.5) if flow.taken[i][0] >= 0)
    starts = [int(flow.heads[i]) for i in np.flatnonzero(x > 0.5) if flow.tails[i] == len(lie.cost)]
    return chain_of(lie, starts[0], arcs) if len(starts) == 1 else None
