"""Plans spoilt in their money: terms, sums, bounds, products, settings, sets, counts.

Each with the reasons that are right for it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from waney.prices.worth import Term
from waney.sawing.check.verdict import Reason
from waney.sawing.plan import Standing

from .spoiling import Rng, Spoilt, any_piece, pick, product_piece, swapped_in, with_plan, with_planned, with_worth


def chance_of_metal_left_out(case: Any, rng: Rng) -> Spoilt:
    terms = {term.what: term.cents for term in case.plan.terms}
    assert terms["metal"] < 0
    cheaper = tuple(term for term in case.plan.terms if term.what != "metal")
    return with_plan(case, terms=cheaper, cents=case.plan.cents - terms["metal"], bound_cents=10**7), {Reason.METAL}


def price_of_a_piece_changed(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    by = int(rng.integers(2, 900)) * pick(rng, [-1, 1])
    terms = case.plan.pieces[i].worth.terms
    spoilt = with_worth(case, i, terms=(replace(terms[0], cents=terms[0].cents + by), *terms[1:]))
    return with_plan(spoilt, cents=case.plan.cents + by, bound_cents=10**7), {Reason.PRICE}


def price_a_cent_off(case: Any, rng: Rng) -> Spoilt:
    """Within a cent the checker's own arithmetic decides nothing: the same plan, as long as the sum follows."""
    i = pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.set_number is None])
    terms = case.plan.pieces[i].worth.terms
    spoilt = with_worth(case, i, terms=(replace(terms[0], cents=terms[0].cents - 1), *terms[1:]))
    return with_plan(spoilt, cents=case.plan.cents - 1), set()


def price_a_cent_off_but_not_the_sum(case: Any, rng: Rng) -> Spoilt:
    spoilt, _ = price_a_cent_off(case, rng)
    return with_plan(spoilt, cents=case.plan.cents), {Reason.MONEY}


def wants_pay_otherwise(case: Any, rng: Rng) -> Spoilt:
    products = tuple(
        replace(p, price=replace(p.price, cents=p.price.cents * float(rng.uniform(1.01, 1.4)))) for p in case.wants.products
    )
    return replace(case, wants=replace(case.wants, products=products)), {Reason.PRICE, Reason.PRODUCT}


def term_of_the_plan_changed(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, [i for i, term in enumerate(case.plan.terms) if term.what != "metal"])
    term = case.plan.terms[i]
    by = int(rng.integers(1, 400))
    terms = swapped_in(case.plan.terms, i, Term(term.what, term.cents + by))
    return with_plan(case, terms=terms, cents=case.plan.cents + by, bound_cents=10**7), {Reason.MONEY}


def edging_saving_overstated(case: Any, rng: Rng) -> Spoilt:
    """Everywhere alike."""
    i = next(i for i, term in enumerate(case.plan.terms) if term.what == "edging saved")
    by, saved = int(rng.integers(1, 400)), case.plan.terms[i].cents
    terms = swapped_in(case.plan.terms, i, Term("edging saved", saved + by))
    plan = {"cents": case.plan.cents + by, "together_cents": case.plan.together_cents + by, "bound_cents": 10**7}
    return with_plan(case, terms=terms, **plan), {Reason.MONEY, Reason.EDGING}


def gain_of_edging_overstated(case: Any, rng: Rng) -> Spoilt:
    by = 20 + int(rng.integers(400))
    return with_plan(case, together_cents=case.plan.together_cents + by), {Reason.EDGING}


def term_invented(case: Any, rng: Rng) -> Spoilt:
    terms = (*case.plan.terms, Term("luck", 100))
    return with_plan(case, terms=terms, cents=case.plan.cents + 100), {Reason.MONEY}


def sum_of_the_plan_changed(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, cents=case.plan.cents + int(rng.integers(1, 400)), bound_cents=10**7), {Reason.MONEY}


def bound_below_the_plan(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, bound_cents=case.plan.cents - int(rng.integers(1, 400))), {Reason.BOUND}


def called_optimal_with_a_gap(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, standing=Standing.OPTIMAL, bound_cents=case.plan.cents + 7), {Reason.BOUND}


def product_swapped(case: Any, rng: Rng) -> Spoilt:
    i = product_piece(case, rng)
    others = [p.name for p in case.wants.products if p.name != case.plan.pieces[i].worth.product] + ["table top"]
    return with_worth(case, i, product=pick(rng, others)), {Reason.PRODUCT, Reason.SIZE, Reason.SETTING, Reason.PRICE}


def product_wider(case: Any, rng: Rng) -> Spoilt:
    i = product_piece(case, rng)
    return with_worth(case, i, width_m=case.plan.pieces[i].worth.width_m + float(rng.uniform(1e-4, 0.05))), {Reason.SIZE}


def product_begins_elsewhere(case: Any, rng: Rng) -> Spoilt:
    i = product_piece(case, rng)
    return with_worth(case, i, start_m=case.plan.pieces[i].worth.start_m + 0.0375), {Reason.PRODUCT}


def measure_padded(case: Any, rng: Rng) -> Spoilt:
    i = product_piece(case, rng)
    return with_worth(case, i, measure=case.plan.pieces[i].worth.measure * 1.01), {Reason.SIZE}


def good_piece_sold_as_salvage(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.worth.product is not None and p.set_number is None])
    planned = case.plan.pieces[i]
    salvage = round(case.wants.rules.salvage_cents_per_m3 * _volume(planned.piece))
    spoilt = with_worth(case, i, product=None, terms=(Term("as it comes off", salvage),))
    return with_plan(spoilt, cents=case.plan.cents - planned.worth.cents + salvage), {Reason.PRODUCT}


def _volume(piece: Any) -> float:
    a, m, b = np.nan_to_num(piece.high_y_m - piece.low_y_m)
    return float(piece.thickness_m * np.trapezoid((a + 4 * m + b) / 6, piece.along_m))


def setting_does_not_add_up(case: Any, rng: Rng) -> Spoilt:
    i = int(rng.integers(len(case.plan.settings)))
    field = pick(rng, ["cup_m", "shrinkage_m", "rounding_m", "planing_m", "finished_m"])
    row = case.plan.settings[i]
    changed = replace(row, **{field: getattr(row, field) + 0.001})
    return with_plan(case, settings=swapped_in(case.plan.settings, i, changed)), {Reason.SETTING}


def setting_of_other_steps(case: Any, rng: Rng) -> Spoilt:
    i = next(i for i, row in enumerate(case.plan.settings) if any(p.worth.product == row.product for p in case.plan.pieces))
    row, by = case.plan.settings[i], pick(rng, [-1, 1])
    more = by * case.mill.step_m
    changed = replace(row, steps=row.steps + by, green_m=row.green_m + more, rounding_m=row.rounding_m + more)
    return with_plan(case, settings=swapped_in(case.plan.settings, i, changed)), {Reason.SETTING}


def too_few_of_a_product(case: Any, rng: Rng) -> Spoilt:
    first, *rest = case.wants.products
    found = sum(p.worth.product == first.name for p in case.plan.pieces)
    return replace(case, wants=replace(case.wants, products=(replace(first, at_least=found + 1), *rest))), {Reason.COUNT}


def too_many_of_a_product(case: Any, rng: Rng) -> Spoilt:
    i = product_piece(case, rng)
    name = case.plan.pieces[i].worth.product
    found = sum(p.worth.product == name for p in case.plan.pieces)
    products = tuple(replace(p, at_most=found - 1) if p.name == name else p for p in case.wants.products)
    return replace(case, wants=replace(case.wants, products=products)), {Reason.COUNT}


def set_broken(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    return with_planned(case, i, set_number=pick(rng, [None, 9])), {Reason.SET}


def set_factor_padded(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    terms = case.plan.pieces[i].worth.terms
    spoilt = with_worth(case, i, terms=(*terms[:-1], replace(terms[-1], cents=terms[-1].cents + 3)))
    return with_plan(spoilt, cents=case.plan.cents + 3, bound_cents=10**7), {Reason.SET}
