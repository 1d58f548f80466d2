"""The bound of a box of cants: no cant in it earns more, whatever is wanted."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from tests.rings import short_first

from waney.prices.product import Edges, Grain, Product, Surface
from waney.sawing.bench import Bench
from waney.sawing.cants import Opened, opened_in
from waney.sawing.kernel.bound import most_of_box
from waney.sawing.kernel.cant import cant_cents
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.kernel.slice_bound import Box
from waney.sawing.mill import Feed
from waney.sawing.wants import Tip

from .drawn_logs import INCH, drawn

FEEDS = (Feed(0.1, 12.0, 9.0), Feed(0.4, 4.0, 3.0))


def opened(seed: int) -> tuple[Bench, Opened]:
    """A drawn log in one lie, opened on faces a step of 1/4 in apart; every third seed with a want that is hard to bound."""
    case, rng = drawn(seed), Random(seed)
    wants = replace(case.wants, tips=(Tip.AS_IT_LIES,), rolls_deg=(rng.uniform(0.0, 360.0),), face_step_m=INCH / 4)
    wants = replace(wants, products=tuple(harder(product, rng) for product in wants.products))
    mill = replace(case.mill, step_m=INCH / 8)
    if seed % 2:
        mill = replace(mill, feeds=FEEDS, blade_cents=2_500.0, blade_life_m2=80.0)
    bench = Bench.of(case.log, mill, wants)
    return bench, opened_in(bench, bench.lies()[0])


def harder(product: Product, rng: Random) -> Product:
    """The same product with one of its terms drawn anew."""
    return rng.choice(
        [
            product,
            replace(product, widths_m=()),
            replace(product, edges=Edges.LIVE, widths_m=()),
            replace(product, pith_kept=False) if product.edges is Edges.EDGED else product,
            replace(product, grain=rng.choice(list(Grain)), grain_share=0.6),
            replace(product, surface=Surface.ROUGH),
            replace(product, finishing_cents_per_m2=5_000.0),
            replace(product, pith_factor=0.6),
        ]
    )


def most(bench: Bench, o: Opened, a1: int, a2: int, b1: int, b2: int) -> int:
    step, faces = bench.mill.step_m, o.faces
    box = Box(a1, a2, b1, b2, (faces[a1] * step, faces[b2] * step), (faces[a2] * step, faces[b1] * step))
    standing = o.standing
    return int(most_of_box(bench.ask, standing.obstacles, o.outlook, standing.t, can_be_first(bench.ask.effort, standing.t), box))


@pytest.mark.parametrize("seed", short_first(range(24), 6))
def test_no_cant_of_a_box_earns_more_than_its_bound(seed: int) -> None:
    bench, o = opened(seed)
    rng, last = Random(seed), len(o.faces) - 1
    for _ in range(12):
        a1, b2 = rng.randrange(last // 2), rng.randrange(last // 2, last + 1)
        a2, b1 = min(a1 + rng.choice([0, 1, 3, 9]), last), max(b2 - rng.choice([0, 1, 3, 9]), 0)
        if a2 >= b1:
            continue
        bound = most(bench, o, a1, a2, b1, b2)
        for _ in range(4):
            a, b = o.faces[rng.randint(a1, a2)], o.faces[rng.randint(b1, b2)]
            assert cant_cents(bench.ask, o.standing, a, b)[0] <= bound


@pytest.mark.parametrize("seed", range(0, 24, 3))
def test_the_bound_of_a_single_cant_comes_close_where_widths_are_listed(seed: int) -> None:
    """Within a tenth: widths, cups and piths of different windows are each taken at their kindest. A loose one proves nothing."""
    bench, o = opened(seed)
    listed = tuple(replace(p, edges=Edges.EDGED, grain=None, widths_m=(0.08, 0.12, 0.16, 0.2)) for p in bench.wants.products)
    bench = Bench.of(bench.log, bench.mill, replace(bench.wants, products=listed))
    o = opened_in(bench, bench.lies()[0])
    rng, last = Random(seed), len(o.faces) - 1
    for _ in range(8):
        a, b = rng.randrange(last // 2), rng.randrange(last // 2 + 2, last + 1)
        exact = cant_cents(bench.ask, o.standing, o.faces[a], o.faces[b])[0]
        assert exact < 1_000 or most(bench, o, a, a, b, b) <= 1.1 * exact
