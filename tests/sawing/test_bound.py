"""The bound of a box of cants: no cant in it earns more, whatever is wanted."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from waney.prices.product import Edges, Grain, Product, Surface
from waney.sawing.bench import Bench
from waney.sawing.cants import Opened, opened_in
from waney.sawing.kernel.bound import Box, most_of_box
from waney.sawing.kernel.cant import cant_cents
from waney.sawing.kernel.passes import can_be_first
from waney.sawing.wants import Tip

from .drawn_logs import INCH, drawn


def opened(seed: int) -> tuple[Bench, Opened]:
    """A drawn log in one lie, opened on faces a step of 1/4 in apart; every third seed with a want that is hard to bound."""
    case, rng = drawn(seed), Random(seed)
    wants = replace(case.wants, tips=(Tip.AS_IT_LIES,), rolls_deg=(rng.uniform(0.0, 360.0),), face_step_m=INCH / 4)
    wants = replace(wants, products=tuple(harder(product, rng) for product in wants.products))
    bench = Bench.of(case.log, replace(case.mill, step_m=INCH / 8), wants)
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
    return int(most_of_box(bench.ask, o.outlook, o.standing.t, can_be_first(bench.ask.effort, o.standing.t), box))


@pytest.mark.parametrize("seed", range(24))
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
