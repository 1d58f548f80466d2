"""Valid plans spoilt in one thing at a time: each is rejected for the right reason, or the change is shown to change nothing.

Every row of SPOILERS takes a case and a random generator and gives the spoilt case with the reasons that are right for it; no
reason at all means that the change is shown to change nothing. Some kinds of damage have two right reasons, because what is named
first depends on which of two faults stands earlier in the plan.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from waney.logs.frames import placing
from waney.logs.measured import Hidden
from waney.prices.worth import Term
from waney.sawing.check.check import check_plan
from waney.sawing.check.verdict import Reason
from waney.sawing.moves import EdgeTogether, Pass, Turn
from waney.sawing.plan import Standing
from waney.sawing.wants import Tip

Spoilt = tuple[Any, set[Reason]]
Rng = np.random.Generator


def pick(rng: Rng, things: list[Any]) -> Any:
    return things[int(rng.integers(len(things)))]


def swapped_in(things: tuple[Any, ...], i: int, thing: Any) -> tuple[Any, ...]:
    return (*things[:i], thing, *things[i + 1 :])


def with_plan(case: Any, **changes: Any) -> Any:
    return replace(case, plan=replace(case.plan, **changes))


def with_move(case: Any, i: int, **changes: Any) -> Any:
    return with_plan(case, moves=swapped_in(case.plan.moves, i, replace(case.plan.moves[i], **changes)))


def with_planned(case: Any, i: int, **changes: Any) -> Any:
    return with_plan(case, pieces=swapped_in(case.plan.pieces, i, replace(case.plan.pieces[i], **changes)))


def with_piece(case: Any, i: int, **changes: Any) -> Any:
    return with_planned(case, i, piece=replace(case.plan.pieces[i].piece, **changes))


def with_worth(case: Any, i: int, **changes: Any) -> Any:
    return with_planned(case, i, worth=replace(case.plan.pieces[i].worth, **changes))


def places(case: Any, kind: type) -> list[int]:
    return [i for i, move in enumerate(case.plan.moves) if isinstance(move, kind)]


def any_piece(case: Any, rng: Rng) -> int:
    return int(rng.integers(len(case.plan.pieces)))


def product_piece(case: Any, rng: Rng) -> int:
    return pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.worth.product is not None])


def neighbours_of_a_piece(case: Any) -> list[int]:
    """Passes that a planned piece lies above or below of."""
    bounds = {(p.lie, s) for p in case.plan.pieces for s in (p.lower_steps, p.upper_steps)}
    lie, found = 0, []
    for i, move in enumerate(case.plan.moves):
        lie += isinstance(move, Turn)
        if isinstance(move, Pass) and (lie, move.height_steps) in bounds:
            found.append(i)
    return found


def at_height(case: Any, i: int, steps: int) -> Any:
    """A pass moved together with its backstops, so that only its height is wrong."""
    below = min(case.plan.moves[i].backstop_at_most_m, steps * case.mill.step_m)
    return with_move(case, i, height_steps=steps, backstop_at_most_m=below)


def height_a_step_off(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, neighbours_of_a_piece(case))
    return at_height(case, i, case.plan.moves[i].height_steps + pick(rng, [-1, 1])), {Reason.HEIGHT}


def piece_a_step_off(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    planned = case.plan.pieces[i]
    if planned.lower_steps == 0 or rng.integers(2):
        return with_planned(case, i, upper_steps=planned.upper_steps + pick(rng, [-1, 1])), {Reason.HEIGHT}
    return with_planned(case, i, lower_steps=planned.lower_steps + pick(rng, [-1, 1])), {Reason.HEIGHT}


def pass_and_pieces_a_step_off(case: Any, rng: Rng) -> Spoilt:
    """The whole plan says the other height, but the pieces are those of the old one."""
    i = pick(
        rng,
        [i for i in neighbours_of_a_piece(case) if any(p.piece.name == case.plan.moves[i].comes_off for p in case.plan.pieces)],
    )
    old, by = case.plan.moves[i].height_steps, pick(rng, [-1, 1])
    j = next(j for j, p in enumerate(case.plan.pieces) if p.piece.name == case.plan.moves[i].comes_off)
    lie = case.plan.pieces[j].lie
    spoilt = at_height(case, i, old + by)
    spoilt = with_planned(spoilt, j, lower_steps=old + by)
    for k, planned in enumerate(case.plan.pieces):
        if planned.lie == lie and planned.upper_steps == old:
            spoilt = with_planned(spoilt, k, upper_steps=old + by)
    return spoilt, {Reason.SIZE}


def kerf_dropped_from_a_piece(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.lower_steps > 0])
    piece = case.plan.pieces[i].piece
    return with_piece(case, i, thickness_m=piece.thickness_m + case.mill.kerf_m), {Reason.KERF}


def kerf_of_the_mill_another(case: Any, rng: Rng) -> Spoilt:
    kerf = case.mill.kerf_m + float(rng.uniform(2e-5, 1e-3)) * pick(rng, [-1, 1])
    return replace(case, mill=replace(case.mill, kerf_m=kerf)), {Reason.SIZE}


def no_kerf_between(case: Any, rng: Rng) -> Spoilt:
    """A pass one step (less than a kerf) below another."""
    i = pick(rng, places(case, Pass))
    extra = Pass(case.plan.moves[i].height_steps - 1, "sliver", 0.016)
    return with_plan(case, moves=(*case.plan.moves[: i + 1], extra, *case.plan.moves[i + 1 :])), {Reason.KERF}


def piece_moved(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    to_log = case.plan.pieces[i].piece.to_log
    shift = np.array(to_log.shift)
    shift[int(rng.integers(3))] += pick(rng, [-1, 1]) * float(rng.choice([5e-6, 1e-3, 0.02]))
    return with_piece(case, i, to_log=placing(np.array(to_log.turn), shift)), {Reason.PLACE}


def piece_twisted(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    to_log = case.plan.pieces[i].piece.to_log
    c, s = np.cos(1e-4), np.sin(1e-4)
    twist = np.array([[1, 0, 0], [0, c, -s], [0, s, c]])
    return with_piece(case, i, to_log=placing(np.array(to_log.turn) @ twist, np.array(to_log.shift))), {Reason.PLACE}


def roll_sign_of_the_move(case: Any, rng: Rng) -> Spoilt:
    move = case.plan.moves[0]
    return with_move(case, 0, roll_deg=-move.roll_deg), {Reason.ROLL}


def roll_sign_everywhere_but_the_lie(case: Any, rng: Rng) -> Spoilt:
    roll = -case.plan.roll_deg
    spoilt = with_move(case, 0, roll_deg=roll)
    spoilt = with_plan(spoilt, roll_deg=roll, grid=replace(case.plan.grid, rolls_deg=(roll,)))
    return spoilt, {Reason.ROLL} if case.plan.tip is Tip.AS_IT_LIES else {Reason.ROLL, Reason.TIP}


def roll_a_little_off(case: Any, rng: Rng) -> Spoilt:
    roll = case.plan.roll_deg + float(rng.uniform(0.1, 5.0))
    spoilt = with_move(case, 0, roll_deg=roll)
    spoilt = with_plan(spoilt, roll_deg=roll, grid=replace(case.plan.grid, rolls_deg=(roll,)))
    return spoilt, {Reason.ROLL} if case.plan.tip is Tip.AS_IT_LIES else {Reason.ROLL, Reason.TIP}


def tip_off(case: Any, rng: Rng) -> Spoilt:
    tip = case.plan.tip_m + pick(rng, [-1, 1]) * float(rng.uniform(1e-5, 0.05))
    return with_plan(with_move(case, 0, tip_m=tip), tip_m=tip), {Reason.TIP}


def lie_moved(case: Any, rng: Rng) -> Spoilt:
    i = int(rng.integers(len(case.plan.lies)))
    lie = case.plan.lies[i]
    shift = np.array(lie.shift) + np.array([0.0, pick(rng, [-1, 1]) * float(rng.choice([1e-5, 0.01])), 0.0])
    lies = swapped_in(case.plan.lies, i, placing(np.array(lie.turn), shift))
    return with_plan(case, lies=lies), {Reason.REST} if i == 0 else {Reason.TURN}


def passes_swapped(case: Any, rng: Rng) -> Spoilt:
    moves = list(case.plan.moves)
    i = pick(rng, [i for i in places(case, Pass) if i + 1 < len(moves) and isinstance(moves[i + 1], Pass)])
    moves[i], moves[i + 1] = moves[i + 1], moves[i]
    return with_plan(case, moves=tuple(moves)), {Reason.ORDER, Reason.HEIGHT}


def pieces_swapped(case: Any, rng: Rng) -> Spoilt:
    pieces = list(case.plan.pieces)
    i = int(rng.integers(len(pieces) - 1))
    pieces[i], pieces[i + 1] = pieces[i + 1], pieces[i]
    return with_plan(case, pieces=tuple(pieces)), {Reason.ORDER}


def names_swapped(case: Any, rng: Rng) -> Spoilt:
    i = int(rng.integers(len(case.plan.pieces) - 1))
    a, b = (case.plan.pieces[k].piece.name for k in (i, i + 1))
    return with_piece(with_piece(case, i, name=b), i + 1, name=a), {Reason.HEIGHT, Reason.ORDER}


def cut_before_the_log_is_on(case: Any, rng: Rng) -> Spoilt:
    moves = case.plan.moves
    return with_plan(case, moves=(moves[1], moves[0], *moves[2:])), {Reason.ORDER}


def metal_shifted_in_a_piece(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.piece.zones])
    zones = case.plan.pieces[i].piece.zones
    j = int(rng.integers(len(zones)))
    off = np.zeros(3)
    off[int(rng.integers(3))] = pick(rng, [-1, 1]) * float(rng.choice([1e-5, 0.01]))
    start, end = (tuple(float(c) for c in np.array(point) + off) for point in (zones[j].start_m, zones[j].end_m))
    return with_piece(case, i, zones=swapped_in(zones, j, replace(zones[j], start_m=start, end_m=end))), {Reason.METAL}


def metal_shifted_in_the_log(case: Any, rng: Rng) -> Spoilt:
    zones = case.shape.zones
    j = next(j for j, zone in enumerate(zones) if zone.kind is Hidden.METAL)
    moved = replace(
        zones[j], x_m=zones[j].x_m + float(rng.uniform(0.001, 0.03)), y_m=zones[j].y_m - float(rng.uniform(0.001, 0.1))
    )
    return replace(case, shape=replace(case.shape, zones=swapped_in(zones, j, moved))), {Reason.METAL}


def metal_of_another_size(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, [i for i, p in enumerate(case.plan.pieces) if p.piece.zones])
    zones = case.plan.pieces[i].piece.zones
    return with_piece(case, i, zones=swapped_in(zones, 0, replace(zones[0], radius_m=zones[0].radius_m * 0.9))), {Reason.METAL}


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


def term_invented(case: Any, rng: Rng) -> Spoilt:
    terms = (*case.plan.terms, Term("luck", 100))
    return with_plan(case, terms=terms, cents=case.plan.cents + 100), {Reason.MONEY}


def sum_of_the_plan_changed(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, cents=case.plan.cents + int(rng.integers(1, 400)), bound_cents=10**7), {Reason.MONEY}


def bound_below_the_plan(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, bound_cents=case.plan.cents - int(rng.integers(1, 400))), {Reason.BOUND}


def called_optimal_with_a_gap(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, standing=Standing.OPTIMAL, bound_cents=case.plan.cents + 7), {Reason.BOUND}


def piece_repeated(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    return with_plan(case, pieces=(*case.plan.pieces[: i + 1], *case.plan.pieces[i:])), {Reason.REPEATED}


def piece_repeated_under_another_name(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    again = replace(case.plan.pieces[i], piece=replace(case.plan.pieces[i].piece, name="again"))
    return with_plan(case, pieces=(*case.plan.pieces, again)), {Reason.REPEATED}


def pass_repeated(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Pass))
    moves = case.plan.moves
    return with_plan(case, moves=(*moves[: i + 1], *moves[i:])), {Reason.REPEATED, Reason.ORDER}


def piece_from_nowhere(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    planned = case.plan.pieces[i]
    extra = replace(planned, piece=replace(planned.piece, name="extra"), lower_steps=planned.lower_steps + 400)
    return with_plan(case, pieces=(*case.plan.pieces, extra)), {Reason.ORDER}


def outside_slab_as_a_piece(case: Any, rng: Rng) -> Spoilt:
    name, steps = case.plan.moves[1].comes_off, case.plan.moves[1].height_steps
    extra = replace(case.plan.pieces[0], piece=replace(case.plan.pieces[0].piece, name=name), lower_steps=steps, upper_steps=None)
    return with_plan(case, pieces=(extra, *case.plan.pieces)), {Reason.PLACE}


def cut_into_a_backstop(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Pass))
    lowest = case.plan.moves[i].height_steps * case.mill.step_m + float(rng.uniform(0.0, 0.01))
    return replace(case, mill=replace(case.mill, backstop_lowest_m=lowest)), {Reason.BACKSTOP}


def backstops_left_high(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Pass))
    height = case.plan.moves[i].height_steps * case.mill.step_m
    return with_move(case, i, backstop_at_most_m=height + float(rng.uniform(1e-4, 0.1))), {Reason.BACKSTOP}


def guides_narrower(case: Any, rng: Rng) -> Spoilt:
    return replace(case, mill=replace(case.mill, widest_cut_m=float(rng.uniform(0.1, 0.25)))), {Reason.LIMIT}


def head_lower(case: Any, rng: Rng) -> Spoilt:
    return replace(case, mill=replace(case.mill, thickest_m=0.03)), {Reason.LIMIT}


def bed_shorter(case: Any, rng: Rng) -> Spoilt:
    return replace(case, mill=replace(case.mill, bed_length_m=case.shape.length_m - 0.01)), {Reason.LIMIT}


def blade_goes_no_lower(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Pass))
    lowest = case.plan.moves[i].height_steps * case.mill.step_m + 0.001
    return replace(case, mill=replace(case.mill, lowest_m=lowest, backstop_lowest_m=0.0)), {Reason.LIMIT}


def log_a_little_fatter(case: Any, rng: Rng) -> Spoilt:
    shape = case.shape
    radius = shape.radius_m * (1 + float(rng.uniform(1e-4, 0.02)))
    return replace(case, shape=replace(shape, radius_m=radius)), {Reason.REST, Reason.TIP}


def edge_of_a_piece_moved(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    piece = case.plan.pieces[i].piece
    high = piece.high_y_m.copy()
    stations = np.flatnonzero(~np.isnan(high[0]))
    plane, station = int(rng.integers(3)), int(rng.choice(stations))
    high[plane, station] -= float(rng.choice([5e-6, 0.005]))
    return with_piece(case, i, high_y_m=high), {Reason.SIZE}


def piece_made_shorter(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    piece = case.plan.pieces[i].piece
    moved = piece.to_log.there(np.array([(piece.along_m[1] - piece.along_m[0]) / 2, 0.0, 0.0]))
    shorter = replace(
        piece,
        along_m=piece.along_m[1:] - (piece.along_m[1] - piece.along_m[0]) / 2,
        low_y_m=piece.low_y_m[:, 1:],
        high_y_m=piece.high_y_m[:, 1:],
        pith_m=piece.pith_m[:, 1:],
        to_log=placing(np.array(piece.to_log.turn), moved),
    )
    return with_planned(case, i, piece=shorter), {Reason.SIZE}


def live_edge_called_sawn(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    low, high = case.plan.pieces[i].piece.sawn_edges
    return with_piece(case, i, sawn_edges=(not low, high)), {Reason.SIZE}


def pith_moved(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    pith = case.plan.pieces[i].piece.pith_m + float(rng.choice([5e-6, 0.01]))
    return with_piece(case, i, pith_m=pith), {Reason.RINGS}


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


def turned_another_way(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Turn))
    quarters = {1: 3, 2: 1}[case.plan.moves[i].quarters]
    return with_move(case, i, quarters=quarters), {Reason.TURN}


def turn_left_out(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Turn))
    moves = case.plan.moves
    return with_plan(case, moves=(*moves[:i], *moves[i + 1 :])), {Reason.TURN, Reason.ORDER}


def flat_taken_for_bark(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Turn))
    return with_move(case, i, onto_flat=not case.plan.moves[i].onto_flat), {Reason.TURN}


def set_broken(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    return with_planned(case, i, set_number=pick(rng, [None, 9])), {Reason.SET}


def set_factor_padded(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    terms = case.plan.pieces[i].worth.terms
    spoilt = with_worth(case, i, terms=(*terms[:-1], replace(terms[-1], cents=terms[-1].cents + 3)))
    return with_plan(spoilt, cents=case.plan.cents + 3, bound_cents=10**7), {Reason.SET}


def edging_height_off(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    by = pick(rng, [-100, 100])
    return with_move(case, i, first_height_steps=case.plan.moves[i].first_height_steps + by), {Reason.EDGING}


def edging_too_narrow(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    move = case.plan.moves[i]
    less = tuple(steps - 2 for steps in move.widths_steps)
    return with_move(case, i, widths_steps=less, then_height_steps=tuple(sorted(set(less), reverse=True))), {Reason.EDGING}


def edging_before_the_flitch_is_there(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    moves = [move for k, move in enumerate(case.plan.moves) if k != i]
    moves.insert(2, case.plan.moves[i])
    return with_plan(case, moves=tuple(moves)), {Reason.ORDER}


def edged_twice(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_plan(case, moves=(*case.plan.moves, case.plan.moves[i])), {Reason.REPEATED}


def edging_in_a_wrong_order(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_move(case, i, then_height_steps=(80, 120)), {Reason.EDGING}


def step_of_another_scale(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, grid=replace(case.plan.grid, step_m=0.001)), {Reason.GRID}


ALL = ("through", "half turn", "cant", "edged", "pairs")
METAL = ("through", "half turn", "cant")
TURNED = ("half turn", "cant")
ROLLED = ("through", "half turn", "cant", "edged")

SPOILERS: tuple[tuple[Callable[[Any, Rng], Spoilt], tuple[str, ...], int], ...] = (
    (height_a_step_off, ALL, 3), (piece_a_step_off, ALL, 2), (pass_and_pieces_a_step_off, ALL, 2),
    (kerf_dropped_from_a_piece, ALL, 2), (kerf_of_the_mill_another, ALL, 1), (no_kerf_between, ALL, 1),
    (piece_moved, ALL, 3), (piece_twisted, ALL, 1),
    (roll_sign_of_the_move, ROLLED, 1), (roll_sign_everywhere_but_the_lie, ROLLED, 1), (roll_a_little_off, METAL, 2),
    (tip_off, ALL, 2), (lie_moved, ALL, 2),
    (passes_swapped, ALL, 2), (pieces_swapped, ALL, 2), (names_swapped, ALL, 1), (cut_before_the_log_is_on, ALL, 1),
    (metal_shifted_in_a_piece, METAL, 4), (metal_shifted_in_the_log, METAL, 2), (metal_of_another_size, METAL, 1),
    (chance_of_metal_left_out, METAL, 1),
    (price_of_a_piece_changed, ALL, 3), (price_a_cent_off, ROLLED, 1), (price_a_cent_off_but_not_the_sum, ROLLED, 1),
    (wants_pay_otherwise, ALL, 1), (term_of_the_plan_changed, ALL, 2), (term_invented, ("through",), 1),
    (sum_of_the_plan_changed, ALL, 1), (bound_below_the_plan, ALL, 1), (called_optimal_with_a_gap, ALL, 1),
    (piece_repeated, ALL, 2), (piece_repeated_under_another_name, ALL, 1), (pass_repeated, ALL, 1), (piece_from_nowhere, ALL, 1),
    (outside_slab_as_a_piece, ALL, 1),
    (cut_into_a_backstop, ALL, 2), (backstops_left_high, ALL, 2), (guides_narrower, ALL, 1),
    (head_lower, ("through", "pairs"), 1),
    (bed_shorter, ALL, 1), (blade_goes_no_lower, ALL, 1), (log_a_little_fatter, METAL, 1),
    (edge_of_a_piece_moved, ALL, 2), (piece_made_shorter, ALL, 1), (live_edge_called_sawn, ALL, 1), (pith_moved, ALL, 1),
    (product_swapped, ROLLED, 2), (product_wider, ALL, 2), (product_begins_elsewhere, ALL, 1), (measure_padded, ALL, 1),
    (good_piece_sold_as_salvage, ROLLED, 1), (setting_does_not_add_up, ALL, 2), (setting_of_other_steps, ("through", "cant"), 1),
    (too_few_of_a_product, ALL, 1), (too_many_of_a_product, ALL, 1),
    (turned_another_way, TURNED, 1), (turn_left_out, TURNED, 1), (flat_taken_for_bark, TURNED, 1),
    (set_broken, ("pairs",), 3), (set_factor_padded, ("pairs",), 2),
    (edging_height_off, ("edged",), 2), (edging_too_narrow, ("edged",), 1), (edging_before_the_flitch_is_there, ("edged",), 1),
    (edged_twice, ("edged",), 1), (edging_in_a_wrong_order, ("edged",), 1), (step_of_another_scale, ALL, 1),
)  # fmt: skip

FOUND = ("found through", "found half turn")
ON_FOUND_PLANS = (
    height_a_step_off, pass_and_pieces_a_step_off, kerf_dropped_from_a_piece, kerf_of_the_mill_another, piece_moved,
    roll_sign_of_the_move, roll_sign_everywhere_but_the_lie, tip_off, passes_swapped, pieces_swapped, metal_shifted_in_a_piece,
    price_of_a_piece_changed, sum_of_the_plan_changed, piece_repeated, cut_into_a_backstop, edge_of_a_piece_moved, pith_moved,
    good_piece_sold_as_salvage, setting_does_not_add_up,
)  # fmt: skip
SPOILERS += tuple((spoil, FOUND, 1) for spoil in ON_FOUND_PLANS)

ROWS = [(spoil, name, seed) for spoil, names, times in SPOILERS for name in names for seed in range(times)]


@pytest.mark.parametrize(("spoil", "name", "seed"), ROWS, ids=lambda p: getattr(p, "__name__", str(p)))
def test_a_spoilt_plan_is_rejected_for_the_right_reason(cases: Any, spoil: Any, name: str, seed: int) -> None:
    spoilt, right = spoil(cases[name], np.random.default_rng([seed, ROWS.index((spoil, name, seed))]))
    found = check_plan(spoilt.plan, spoilt.shape, spoilt.mill, spoilt.wants, spoilt.shrinking, hardwood=True)
    assert (found.reason in right) if right else found.accepted, (found.reason, found.sentence)


def test_there_are_more_than_two_hundred_of_them() -> None:
    assert len(ROWS) >= 200
