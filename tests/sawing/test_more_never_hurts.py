"""What may only raise the value of a plan does: more choice, better prices, wider limits, finer scale, thinner kerf, more wood.

All else equal: green sizes are fixed, so that no product changes its setting. The value is that of flitches edged one by one,
which the search makes best; what standing them together adds is found afterwards. Where a thinner kerf can lose is shown at the
end.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from tests.rings import short_first
from tests.sawing.drawn_logs import INCH, a_mill, drawn, sure

from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.pieces.shrinking import Shrinking
from waney.prices.product import Edges, Per, PriceRule, Product, WidthRule
from waney.prices.rules import DryingAllowance, PriceRules, Ranking
from waney.sawing.bench import Bench, NothingToSaw
from waney.sawing.log_to_saw import LogToSaw
from waney.sawing.mill import Feed
from waney.sawing.plan import Standing
from waney.sawing.search import plan_cant, plan_half_turn, plan_through
from waney.sawing.wants import Tip, Wants

STEP_M = INCH / 8
NOTHING = -(10**9)
"""What a log earns that cannot be sawn at all."""
CASES = pytest.mark.parametrize(
    ("search", "seed"),
    [
        *short_first(
            ((search, seed) for search in (plan_through, plan_half_turn) for seed in (3, 5, 8)), kind=lambda case: case[0]
        ),
        pytest.param(plan_cant, 5, marks=pytest.mark.long),
    ],
    ids=lambda value: getattr(value, "__name__", str(value)),
)


def on_the_scale(least_m: float, kerf_m: float, step_m: float = STEP_M) -> float:
    """The least green thickness that, with the kerf, is a whole number of steps."""
    return float(np.ceil((least_m + kerf_m) / step_m - 1e-9) * step_m - kerf_m)


def bench_of(seed: int) -> Bench:
    """A drawn log whose products have fixed green sizes, on a mill that costs something everywhere."""
    case = drawn(seed)
    mill = replace(
        case.mill,
        step_m=STEP_M,
        feeds=(Feed(0.1, 8.0, 6.0), Feed(0.5, 3.0, 2.0)),
        blade_cents=3000.0,
        blade_life_m2=40.0,
        minutes_per_loading=5.0,
    )
    products = tuple(
        replace(p, green_m=on_the_scale(p.thickness_m * 1.1 + 0.006, mill.kerf_m), finishing_cents_per_m2=300.0)
        for p in case.wants.products
    )
    wants = replace(case.wants, products=products, rolls_deg=(0.0, 50.0), tips=(Tip.AS_IT_LIES, Tip.PITH), face_step_m=INCH)
    return Bench.of(case.log, mill, wants)


def changed(bench: Bench, *, mill: dict[str, Any] | None = None, rules: dict[str, Any] | None = None, **wants: Any) -> Bench:
    """The same bench with other numbers."""
    more = wants | ({"rules": replace(bench.wants.rules, **rules)} if rules else {})
    return Bench.of(bench.log, replace(bench.mill, **(mill or {})), replace(bench.wants, **more))


def cents(search: Callable[..., Any], bench: Bench) -> int:
    try:
        plan = search(bench)
    except NothingToSaw:
        return NOTHING
    assert plan.standing is Standing.OPTIMAL
    return int(plan.cents - plan.together_cents)


@CASES
def test_another_product_tip_or_roll(seed: int, search: Callable[..., Any]) -> None:
    bench = bench_of(seed)
    full = cents(search, bench)
    for i in range(len(bench.wants.products)):
        fewer = bench.wants.products[:i] + bench.wants.products[i + 1 :]
        assert cents(search, changed(bench, products=fewer)) <= full
    assert cents(search, changed(bench, tips=(Tip.AS_IT_LIES,))) <= full
    assert cents(search, changed(bench, rolls_deg=(50.0,))) <= full


@CASES
def test_a_higher_price(seed: int, search: Callable[..., Any]) -> None:
    bench = bench_of(seed)
    full, products = cents(search, bench), bench.wants.products
    for i, p in enumerate(products):
        dearer = replace(p, price=replace(p.price, cents=p.price.cents * 1.3))
        assert cents(search, changed(bench, products=(*products[:i], dearer, *products[i + 1 :]))) >= full
    salvage = bench.wants.rules.salvage_cents_per_m3
    assert cents(search, changed(bench, rules={"salvage_cents_per_m3": salvage + 2000.0})) >= full


LIMITS = (
    ("widest_cut_m", 0.28, 1.0),
    ("lowest_m", 0.16, 0.03),
    ("highest_m", 0.3, 1.0),
    ("thickest_m", 0.045, None),
    ("backstop_lowest_m", 0.15, 0.0),
)


@CASES
def test_a_wider_limit(seed: int, search: Callable[..., Any]) -> None:
    bench = bench_of(seed)
    full = cents(search, bench)
    for name, tight, wide in LIMITS:
        assert cents(search, changed(bench, mill={name: tight})) <= cents(search, changed(bench, mill={name: wide})) <= full


def test_every_tight_limit_binds_on_one_of_the_logs() -> None:
    benches = [(bench, cents(plan_through, bench)) for bench in map(bench_of, (3, 5, 8))]
    for name, tight, _ in LIMITS:
        assert any(cents(plan_through, changed(bench, mill={name: tight})) < full for bench, full in benches), name


@CASES
def test_a_lower_cost(seed: int, search: Callable[..., Any]) -> None:
    bench = bench_of(seed)
    full = cents(search, bench)
    free = (
        {"hourly_cents": 2000.0},
        {"minutes_per_pass": 0.5},
        {"minutes_per_turn": 0.0},
        {"minutes_per_loading": 0.0},
        {"blade_cents": 1000.0},
        {"blade_life_m2": 80.0},
        {"feeds": (Feed(0.1, 9.0, 8.0), Feed(0.5, 6.0, 5.0))},
    )
    assert all(cents(search, changed(bench, mill=mill)) >= full for mill in free)
    assert cents(search, changed(bench, rules={"drying_cents_per_m3_day": 5.0})) >= full
    assert cents(search, changed(bench, rules={"edging_cents": 0.0})) >= full
    plain = tuple(replace(p, finishing_cents_per_m2=0.0) for p in bench.wants.products)
    assert cents(search, changed(bench, products=plain)) >= full


@CASES
def test_a_scale_with_finer_steps(seed: int, search: Callable[..., Any]) -> None:
    # a kerf of one whole step: else the first slice on a flat, which loses no kerf, has another green size on another scale
    plain = changed(bench_of(seed), mill={"kerf_m": STEP_M})
    green = (replace(p, green_m=on_the_scale(p.thickness_m * 1.1 + 0.006, STEP_M)) for p in plain.wants.products)
    bench = changed(plain, products=tuple(green))
    full = cents(search, bench)
    for parts in (2, 3):
        assert cents(search, changed(bench, mill={"step_m": STEP_M / parts})) >= full


def straight_log(radius_m: np.ndarray, bark_m: np.ndarray, pith_y: tuple[float, float] = (0.0, 0.0)) -> LogToSaw:
    """A straight log 2.4 m long: radius and bark (n, m); pith at y at both ends; shrinks alike in all directions."""
    n, _ = radius_m.shape
    z = np.linspace(0.0, 2.4, n)
    pith = np.column_stack([np.zeros(n), np.linspace(*pith_y, n)])
    # rings belong to the log's outside with its bark, so that logs inside one another share them
    rings = RingField(z, pith[None].copy(), (radius_m + bark_m)[None].copy())
    shape = LogShape(z, np.zeros((n, 2)), radius_m, bark_m, rings)
    return LogToSaw("log", "any", True, shape, Shrinking(0.06, 0.06, 0.08))


def oval(a_m: float, b_m: float, n: int = 9, m: int = 144) -> np.ndarray:
    """Radii (n, m) of an ellipse with half axes a (along x) and b, the same all along."""
    angle = 2 * np.pi * np.arange(m) / m
    return np.tile(a_m * b_m / np.hypot(b_m * np.cos(angle), a_m * np.sin(angle)), (n, 1))


def plainly_wanted(kerf_m: float, step_m: float, rolls: tuple[float, ...], pith_factor: float = 1.0) -> Wants:
    def product(name: str, edges: Edges, thickness: float, price: float) -> Product:
        rule = PriceRule(Per.SQUARE_METRE, price, WidthRule.NARROW_FACE)
        green = on_the_scale(thickness * 1.06, kerf_m, step_m)
        return Product(name, thickness, rule, edges, (2.4,), 0.1, green_m=green, pith_factor=pith_factor)

    products = (product("slab", Edges.LIVE, 0.05, 6000.0), product("board", Edges.EDGED, 0.025, 2500.0))
    allowances = {p.name: DryingAllowance(sure(0.0), sure(0.0), sure(0.0)) for p in products}
    return Wants(products, PriceRules(Ranking.MONEY, "USD"), allowances, 0.08, 0.05, rolls_deg=rolls, tips=(Tip.AS_IT_LIES,))


def earned(log: LogToSaw, kerf_m: float, step_m: float, wants: Wants) -> int:
    mill = replace(a_mill(kerf_m=kerf_m, step_m=step_m, lowest_m=0.0), hourly_cents=None)
    return plan_through(Bench.of(log, mill, wants)).cents


@pytest.mark.parametrize(("a", "b"), [(0.2, 0.2), (0.26, 0.19), (0.15, 0.22)])
def test_a_kerf_thinner_by_whole_steps_on_a_straight_convex_log(a: float, b: float) -> None:
    step, radius = INCH / 32, oval(a, b)
    log = straight_log(radius, np.full_like(radius, 0.008))
    # the widest kerf sets the green sizes; every other kerf is that one less whole steps
    wants = plainly_wanted(4 * step, step, (0.0, 35.0))
    values = [earned(log, kerf * step, step, wants) for kerf in (4, 3, 2, 1)]
    assert values == sorted(values)
    assert values[0] < values[-1]


@pytest.mark.parametrize("seed", range(6))
def test_a_log_that_contains_the_other(seed: int) -> None:
    rng = np.random.default_rng(seed)
    outside = oval(rng.uniform(0.2, 0.25), rng.uniform(0.2, 0.25))
    # same axis, bark surface (so the same rest and grid), pith and rings: only how much of it is wood differs
    thick = rng.uniform(0.01, 0.04, outside.shape[0])[:, None] * np.ones_like(outside)
    thin = thick * rng.uniform(0.2, 0.8)
    small, large = straight_log(outside - thick, thick), straight_log(outside - thin, thin)
    wants = plainly_wanted(INCH / 16, INCH / 16, (0.0, 35.0))
    assert earned(small, INCH / 16, INCH / 16, wants) <= earned(large, INCH / 16, INCH / 16, wants)


def test_a_kerf_thinner_by_half_a_step_can_lose() -> None:
    # passes stay where the scale has them, so every piece only grows thicker, down into narrower wood
    radius, step = oval(0.2, 0.2), INCH / 8
    log, wants = straight_log(radius, np.full_like(radius, 0.008)), plainly_wanted(step, step, (0.0,))
    assert earned(log, step / 2, step, wants) < earned(log, step, step, wants)


def test_a_kerf_thinner_by_a_whole_step_can_lose_where_the_pith_hides_in_the_kerf() -> None:
    # the pith runs 2 mm out of level: 1/8 in of kerf swallows it, 3/32 in leaves it in a board that is then worth half
    radius, step = oval(0.13, 0.13), INCH / 32
    log = straight_log(radius, np.full_like(radius, 0.008), (0.0, 0.002))
    wants = plainly_wanted(4 * step, step, (0.0,), pith_factor=0.5)
    assert earned(log, 3 * step, step, wants) < earned(log, 4 * step, step, wants)
    unhurt = plainly_wanted(4 * step, step, (0.0,))
    assert earned(log, 3 * step, step, unhurt) >= earned(log, 4 * step, step, unhurt)
