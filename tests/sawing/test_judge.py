"""The compiled judge and the readable `prices.worth` give every slice the same cents."""

from __future__ import annotations

from random import Random

import pytest

from waney.prices.worth import worth
from waney.sawing.bench import Bench
from waney.sawing.kernel.judge import fit_product, salvage_cents
from waney.sawing.kernel.tables import room_for, slice_between, slice_on_flat, tables_of
from waney.sawing.make_pieces import slice_piece
from waney.sawing.orders import wanted

from .drawn_logs import drawn


@pytest.mark.parametrize("seed", range(12))
def test_judge_agrees_with_worth_to_the_cent(seed: int) -> None:
    case, rng = drawn(seed), Random(seed)
    bench = Bench.of(case.log, case.mill, case.wants)
    laid = bench.lay(rng.choice(bench.lies()))
    t = tables_of(laid.sections, laid.rings, bench.ask.step, bench.ask.kerf, True)
    room = room_for(t)
    for _ in range(12):
        p, k, flat = rng.randrange(t.passes - 40), rng.randrange(10, 40), rng.random() < 0.3
        s = slice_on_flat(t, p, k, room) if flat else slice_between(t, p, k, room)
        piece = slice_piece(case.log, laid, t, p, k, on_flat=flat, name="x")
        for j, product in enumerate(wanted(case.wants)):
            fit = fit_product(bench.ask.orders, laid.obstacles, s, j, False)
            best = max(salvage_cents(bench.ask.orders, s), fit.cents if fit.fits else -(10**9))
            rules, allowances = case.wants.rules, case.wants.allowances
            assert worth(piece, (product,), rules, allowances, case.log.shrinking).cents == best, (p, k, flat, product.name)


def test_drawn_slices_are_products_often_enough_to_mean_something() -> None:
    fits = 0
    for seed in range(6):
        case, rng = drawn(seed), Random(seed)
        bench = Bench.of(case.log, case.mill, case.wants)
        laid = bench.lay(bench.lies()[0])
        t = tables_of(laid.sections, laid.rings, bench.ask.step, bench.ask.kerf, True)
        for _ in range(10):
            s = slice_between(t, rng.randrange(t.passes - 40), rng.randrange(20, 40), room_for(t))
            fits += any(fit_product(bench.ask.orders, laid.obstacles, s, j, False).fits for j in range(4))
    assert fits >= 10
