"""Two who never saw each other's work: the checker's money and `prices.worth` on the same random slices of random logs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.rings import short_first

from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.pieces.shrinking import Shrinking
from waney.prices.product import Edges, Grain, Per, PriceRule, Product, Surface, WidthRule
from waney.prices.worth import worth
from waney.sawing.check.worths import check_best, check_worth
from waney.sawing.wants import NAMED_TIPS

Rng = np.random.Generator


def any_of(rng: Rng, things):
    return list(things)[int(rng.integers(len(list(things))))]


def random_product(rng: Rng, name: str) -> Product:
    live = rng.random() < 0.5
    rule = PriceRule(
        any_of(rng, Per),
        float(rng.uniform(200, 2000)),
        any_of(rng, WidthRule),
        by_nominal=bool(rng.integers(2)),
        thin_counts_as_inch=bool(rng.integers(2)),
        wide_factors=any_of(rng, [(), ((0.2, 1.1), (0.3, 1.4))]),
    )
    return Product(
        name,
        float(rng.uniform(0.012, 0.04)),
        rule,
        Edges.LIVE if live else Edges.EDGED,
        tuple(sorted({round(float(x), 2) for x in rng.uniform(0.6, 2.6, rng.integers(1, 4))})),
        float(rng.uniform(0.05, 0.2)),
        most_width_m=float(rng.choice([rng.uniform(0.22, 0.5), np.inf])),
        widths_m=() if live else any_of(rng, [(), (0.06, 0.1, 0.15, 0.2, 0.25)]),
        surface=any_of(rng, Surface),
        nominal_quarters=any_of(rng, [None, 3, 4, 6, 8]),
        trim_m=float(rng.uniform(0, 0.1)),
        planing_m=float(rng.uniform(0, 0.003)),
        flattening_m=float(rng.uniform(0, 0.002)),
        finishing_cents_per_m2=float(rng.uniform(0, 400)),
        grain=any_of(rng, [None, None, *Grain]),
        grain_share=float(rng.uniform(0.3, 0.9)),
        pith_kept=bool(rng.integers(2)),
        pith_factor=float(rng.uniform(0.5, 1)),
        may_hold=frozenset(kind for kind in Hidden if rng.random() < 0.4),
    )


def random_zone(rng: Rng) -> Zone:
    start = float(rng.uniform(0, 2.5))
    x, y = (float(c) for c in rng.uniform(-0.15, 0.15, 2))
    return Zone(
        any_of(rng, Hidden), start, start + float(rng.choice([0.02, 0.05, 0.4, 1.0])), x, y, float(rng.uniform(0.003, 0.05))
    )


def random_log(rng: Rng, make):
    lobes, turned = rng.normal(0, 0.03, 3), rng.uniform(0, 6, 3)
    bow, off, lean, butt = (
        rng.uniform(-0.05, 0.05, 2),
        rng.uniform(-0.03, 0.03, 2),
        rng.uniform(-0.01, 0.01, 2),
        rng.uniform(0.15, 0.3),
    )
    shape = make.log(
        3.0,
        lambda z, a: (butt - 0.015 * z) * (1 + sum(lobes[i] * np.cos((i + 2) * a + turned[i]) for i in range(3))),
        centre=lambda z: tuple(bow * np.sin(np.pi * z / 3)),
        pith=lambda z: tuple(bow * np.sin(np.pi * z / 3) + off + lean * z),
        bark=0.01,
        zones=[random_zone(rng) for _ in range(rng.integers(0, 5))],
    )
    return shape, int(2 * butt / make.mill.step_m) - 8


@pytest.mark.parametrize("seed", short_first(range(6), 2))
def test_both_find_the_same_worth_to_the_cent(make, seed) -> None:
    rng = np.random.default_rng(seed)
    products = tuple(random_product(rng, f"product {i}") for i in range(4))
    wanted = replace(make.wants(*products), least_width_m=0.0)
    shape, top = random_log(rng, make)
    steps = int(rng.integers(12, 34))
    saw = make.builder(shape, make.mill, wanted, {p.name: steps for p in products})
    saw.roll_on(10.0 * float(rng.integers(36)), any_of(rng, NAMED_TIPS)).saw(*range(top, 20, -steps))
    shrinking = Shrinking(*saw.shrinking, wanted.target_mc)
    for judged in saw.judged.values():
        theirs = worth(judged.planned.piece, products, wanted.rules, wanted.allowances, shrinking)
        found = check_worth(replace(judged.planned, worth=theirs), judged.judge)
        check_best(found, products)
        assert theirs.cents == judged.planned.worth.cents
