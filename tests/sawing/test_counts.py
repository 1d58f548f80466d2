"""Plans with counts: kept, the best by brute force, no dearer than without when slack, and under their bound."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from tests.rings import short_first

from waney.sawing.bench import Bench
from waney.sawing.check.check import check_plan
from waney.sawing.counts.count_arcs import CountedLie, counted_lie
from waney.sawing.counts.count_bounds import priced
from waney.sawing.counts.counts import CannotBeHad, plan_counted
from waney.sawing.kernel.path import NEVER
from waney.sawing.kernel.through import side_of
from waney.sawing.plan import Plan, Standing
from waney.sawing.search import plan_through, plans
from waney.sawing.wants import Pattern, Tip, Wants

from .drawn_logs import INCH, Drawn, drawn

SEEDS = (3, 5, 8)
Limits = dict[str, tuple[int, int | None]]


def bench_of(case: Drawn, limits: Limits, step_in: float = 1 / 8, rolls: tuple[float, ...] = (0.0, 70.0)) -> Bench:
    products = tuple(
        replace(p, at_least=limits.get(p.name, (0, None))[0], at_most=limits.get(p.name, (0, None))[1])
        for p in case.wants.products
    )
    wants = replace(case.wants, products=products, rolls_deg=rolls, tips=(Tip.AS_IT_LIES, Tip.PITH))
    return Bench.of(case.log, replace(case.mill, step_m=step_in * INCH), wants)


def made(plan: Plan) -> Counter[str]:
    return Counter(p.worth.product for p in plan.pieces if p.worth.product is not None)


def others_of(case: Drawn) -> Limits:
    """Counts that the best plan without counts does not keep: its commonest product one fewer, another at least once."""
    free = made(plan_through(bench_of(case, {})))
    (common, n), *_ = free.most_common()
    return {common: (0, n - 1)}


def best_by_pieces(lie: CountedLie) -> dict[tuple[int, ...], int]:
    """Most cents of any chain for every tally of pieces that a chain can give: every arc tried from every pass, top down."""
    above: list[dict[tuple[int, ...], int]] = [{} for _ in lie.cost]
    for h in reversed(range(len(lie.cost))):
        if lie.cost[h] == NEVER:
            continue
        found = {(0,) * len(lie.steps): 0} if lie.top_free[h] else {}
        for c in range(lie.arcs.span.shape[1]):
            after = h + int(lie.arcs.span[h, c])
            for pieces, cents in (above[after] if h < after < len(lie.cost) else {}).items():
                tally = tuple(n + int(lie.counts[c]) if c == j else n for j, n in enumerate(pieces))
                found[tally] = max(found.get(tally, int(NEVER)), cents + int(lie.arcs.worth[h, c]))
        above[h] = {pieces: cents - int(lie.cost[h]) for pieces, cents in found.items()}
    best: dict[tuple[int, ...], int] = {}
    for pieces, cents in (item for found in above for item in found.items()):
        best[pieces] = max(best.get(pieces, int(NEVER)), cents)
    return best


def kept(pieces: tuple[int, ...], wants: Wants) -> bool:
    return all(p.at_least <= n and (p.at_most is None or n <= p.at_most) for p, n in zip(wants.products, pieces, strict=True))


@pytest.mark.parametrize(
    ("seed", "more"),
    # log 5 cannot give one of "a" besides what is asked of it
    [(seed, more) for seed in SEEDS for more in ({}, {"a": (1, 2)}, {"d": (2, 2)}) if (seed, "a" in more) != (5, True)],
    ids=str,
)
def test_counts_are_kept_and_the_checker_agrees(seed: int, more: Limits) -> None:
    case = drawn(seed)
    bench = bench_of(case, others_of(case) | more)
    plan = plan_counted(bench)
    for product in bench.wants.products:
        count = made(plan)[product.name]
        assert product.at_least <= count and (product.at_most is None or count <= product.at_most)
    assert plan.cents <= plan.bound_cents
    assert (plan.standing is Standing.OPTIMAL) == (plan.gap_cents == 0)
    shrinking = (bench.log.shrinking.radial, bench.log.shrinking.tangential)
    verdict = check_plan(plan, bench.log.shape, bench.mill, bench.wants, shrinking, hardwood=True)
    assert verdict.accepted, verdict.sentence


@pytest.mark.parametrize("seed", SEEDS)
def test_slack_counts_change_nothing(seed: int) -> None:
    case = drawn(seed)
    free = plan_through(bench_of(case, {}))
    slack: Limits = {p.name: (made(free)[p.name], made(free)[p.name] + 3) for p in case.wants.products}
    counted = plan_counted(bench_of(case, slack))
    assert (counted.cents, counted.bound_cents) == (free.cents, free.cents)


@pytest.mark.parametrize("seed", short_first([0, 1, 3, 4, 5, 6, 7], 2))  # log 2 gives no product at this scale
def test_best_of_every_tally_on_a_coarse_scale(seed: int) -> None:
    case = drawn(seed)
    free = made(plan_through(bench_of(case, {}, 1 / 2, (0.0,))))
    (common, n), *_ = free.most_common()
    for limits in ({common: (0, n - 1)}, {common: (n, n)}, {p.name: (1, 2) for p in case.wants.products[:2]}):
        bench = bench_of(case, limits, 1 / 2, (0.0,))
        best = max((c for lie in lies_of(bench) for c in chains_that_keep(lie, bench.wants)), default=None)
        if best is None:
            with pytest.raises(CannotBeHad):
                plan_counted(bench)
        else:
            plan = plan_counted(bench)
            assert plan.cents == best == plan.bound_cents


def lies_of(bench: Bench) -> list[CountedLie]:
    laid = [bench.lay(lie) for lie in bench.lies()]
    return [counted_lie(bench.ask, one, side_of(bench.ask, one.sections, one.rings, one.obstacles)) for one in laid]


def chains_that_keep(lie: CountedLie, wants: Wants) -> list[int]:
    return [cents for pieces, cents in best_by_pieces(lie).items() if kept(pieces, wants)]


def test_bound_of_every_lie_is_above_all_its_chains() -> None:
    bench = bench_of(drawn(3), {"a": (0, 1), "c": (1, 2)}, 1 / 2, (0.0, 40.0))
    for lie in lies_of(bench):
        best = max(chains_that_keep(lie, bench.wants), default=None)
        assert best is None or priced(lie, bench.wants).bound >= best


def test_one_more_allowed_never_lowers_the_value() -> None:
    case = drawn(5)
    (common, n), *_ = made(plan_through(bench_of(case, {}))).most_common()
    values = [plan_counted(bench_of(case, {common: (0, most)})).cents for most in range(n + 1)]
    assert values == sorted(values)
    assert values[0] < values[-1]


def test_what_cannot_be_had_is_said_with_how_many_could() -> None:
    case = drawn(3)
    (common, _), *_ = made(plan_through(bench_of(case, {}))).most_common()
    with pytest.raises(CannotBeHad, match=rf"{common}: at least 500 are asked for, but the most that can be had is \d+ "):
        plan_counted(bench_of(case, {common: (500, None)}))


def test_plans_with_counts_are_sawn_through_and_through_only() -> None:
    case = drawn(3)
    found = plans(bench_of(case, others_of(case)), tuple(Pattern))
    assert [plan.pattern for plan in found] == [Pattern.THROUGH]
