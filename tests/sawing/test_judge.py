"""The compiled judge and the readable `prices.worth` give every slice the same cents."""

from __future__ import annotations

from math import inf, nan
from random import Random

import pytest

from waney.prices.worth import worth
from waney.sawing.bench import Bench
from waney.sawing.kernel.judge import fit_product, salvage_cents
from waney.sawing.kernel.tables import room_for, room_for_orders, slice_between, slice_on_flat, tables_of
from waney.sawing.make_pieces import slice_piece
from waney.sawing.orders import wanted

from .drawn_logs import drawn
from .test_edging import bench as edged_only


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


@pytest.mark.parametrize("left_there", [nan, inf, -1e300])
def test_an_edged_product_is_judged_without_looking_at_faces_that_nobody_laid_out(left_there: float) -> None:
    """Where nothing but square edges is asked for, whatever the memory of the faces held before changes nothing."""
    fits = 0
    for seed in range(3):
        bench, rng = edged_only(seed), Random(seed)
        orders, laid = bench.ask.orders, bench.lay(bench.lies()[0])
        t = tables_of(laid.sections, laid.rings, bench.ask.step, bench.ask.kerf, False)
        edges = room_for_orders(t, orders)
        assert not edges.faces
        for _ in range(30):
            p, k = rng.randrange(t.passes - 20), rng.randrange(7, 20)
            edges.lines[:] = left_there
            for j in range(len(orders.kinds)):
                for any_thickness in (False, True):
                    found = fit_product(orders, laid.obstacles, slice_between(t, p, k, edges), j, any_thickness)
                    assert found == fit_product(orders, laid.obstacles, slice_between(t, p, k, room_for(t)), j, any_thickness)
                    fits += found.fits
    assert fits > 100
