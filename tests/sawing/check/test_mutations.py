"""Valid plans spoilt in one thing at a time: each is rejected for the right reason, or the change is shown to change nothing.

Every row of SPOILERS takes a case and a random generator and gives the spoilt case with the reasons that are right for it; no
reason at all means that the change is shown to change nothing. Some kinds of damage have two right reasons, because what is named
first depends on which of two faults stands earlier in the plan.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from tests.rings import short_first

from waney.sawing.check.check import check_plan

from .spoiling import Rng, Spoilt
from .spoilt_cuts import (
    backstops_left_high,
    bed_shorter,
    blade_goes_no_lower,
    both_piths_a_step_off,
    cut_before_the_log_is_on,
    cut_into_a_backstop,
    edged_twice,
    edging_a_step_off,
    edging_before_the_flitch_is_there,
    edging_height_off,
    edging_higher_than_the_blade_goes,
    edging_in_a_wrong_order,
    edging_into_a_backstop,
    edging_left_out,
    edging_too_narrow,
    edging_while_the_log_is_on_the_bed,
    flat_taken_for_bark,
    flitch_stood_on_the_other_edge,
    guides_narrower,
    head_lower,
    height_a_step_off,
    kerf_dropped_from_a_piece,
    kerf_of_the_mill_another,
    lie_moved,
    lift_of_the_lie_off,
    names_swapped,
    no_kerf_between,
    pass_and_pieces_a_step_off,
    pass_repeated,
    passes_swapped,
    piece_a_step_off,
    pieces_swapped,
    pith_read_a_step_off,
    readings_left_out,
    roll_a_little_off,
    roll_sign_everywhere_but_the_lie,
    roll_sign_of_the_move,
    said_to_lie_by_itself,
    somebody_elses_piece_edged,
    step_of_another_scale,
    tip_off,
    turn_left_out,
    turned_another_way,
)
from .spoilt_money import (
    bound_below_the_plan,
    called_optimal_with_a_gap,
    chance_of_metal_left_out,
    edging_saving_overstated,
    gain_of_edging_overstated,
    good_piece_sold_as_salvage,
    measure_padded,
    price_a_cent_off,
    price_a_cent_off_but_not_the_sum,
    price_of_a_piece_changed,
    product_begins_elsewhere,
    product_swapped,
    product_wider,
    set_broken,
    set_factor_padded,
    setting_does_not_add_up,
    setting_of_other_steps,
    sum_of_the_plan_changed,
    term_invented,
    term_of_the_plan_changed,
    too_few_of_a_product,
    too_many_of_a_product,
    wants_pay_otherwise,
)
from .spoilt_wood import (
    edge_of_a_piece_moved,
    live_edge_called_sawn,
    log_a_little_fatter,
    metal_of_another_size,
    metal_shifted_in_a_piece,
    metal_shifted_in_the_log,
    outside_slab_as_a_piece,
    piece_from_nowhere,
    piece_made_shorter,
    piece_moved,
    piece_repeated,
    piece_repeated_under_another_name,
    piece_twisted,
    pith_moved,
)

ALL = ("through", "half turn", "cant", "edged", "pairs")


METAL = ("through", "half turn", "cant")


TURNED = ("half turn", "cant")


EDGED = ("edged", "found edged")


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
    (step_of_another_scale, ALL, 1),
    (edging_height_off, EDGED, 2), (edging_higher_than_the_blade_goes, EDGED, 1), (edging_into_a_backstop, EDGED, 1),
    (edging_too_narrow, EDGED, 2), (edging_a_step_off, EDGED, 2), (flitch_stood_on_the_other_edge, EDGED, 2),
    (edging_before_the_flitch_is_there, EDGED, 1), (edging_while_the_log_is_on_the_bed, EDGED, 1), (edged_twice, EDGED, 1),
    (edging_in_a_wrong_order, EDGED, 1), (somebody_elses_piece_edged, EDGED, 1), (edging_left_out, EDGED, 1),
    (edging_saving_overstated, EDGED, 2), (gain_of_edging_overstated, EDGED, 2), (gain_of_edging_overstated, ("through",), 1),
)  # fmt: skip


FOUND = ("found through", "found half turn")


ON_FOUND_PLANS = (
    height_a_step_off, pass_and_pieces_a_step_off, kerf_dropped_from_a_piece, kerf_of_the_mill_another, piece_moved,
    roll_sign_of_the_move, roll_sign_everywhere_but_the_lie, tip_off, passes_swapped, pieces_swapped, metal_shifted_in_a_piece,
    price_of_a_piece_changed, sum_of_the_plan_changed, piece_repeated, cut_into_a_backstop, edge_of_a_piece_moved, pith_moved,
    good_piece_sold_as_salvage, setting_does_not_add_up,
)  # fmt: skip


SPOILERS += tuple((spoil, FOUND, 1) for spoil in ON_FOUND_PLANS)

READ = ("read on blocks", "read in the bed")

SPOILERS += (
    (pith_read_a_step_off, READ, 4), (both_piths_a_step_off, READ, 2), (lift_of_the_lie_off, READ, 2),
    (readings_left_out, READ, 1), (said_to_lie_by_itself, READ, 2), (roll_sign_of_the_move, READ, 1),
    (roll_sign_everywhere_but_the_lie, READ, 1), (roll_a_little_off, READ, 1), (tip_off, READ, 2), (lie_moved, READ, 2),
    (height_a_step_off, READ, 1), (piece_moved, READ, 1), (pass_and_pieces_a_step_off, READ, 1),
    (edge_of_a_piece_moved, READ, 1), (sum_of_the_plan_changed, READ, 1), (log_a_little_fatter, ("read on blocks",), 1),
)  # fmt: skip

ROWS = [(spoil, name, seed) for spoil, names, times in SPOILERS for name in names for seed in range(times)]


@pytest.mark.parametrize(
    ("spoil", "name", "seed"), short_first(ROWS, kind=lambda row: row[0]), ids=lambda one: getattr(one, "__name__", str(one))
)
def test_a_spoilt_plan_is_rejected_for_the_right_reason(cases: Any, spoil: Any, name: str, seed: int) -> None:
    spoilt, right = spoil(cases[name], np.random.default_rng([seed, ROWS.index((spoil, name, seed))]))
    found = check_plan(spoilt.plan, spoilt.shape, spoilt.mill, spoilt.wants, spoilt.shrinking, hardwood=True)
    assert (found.reason in right) if right else found.accepted, (found.reason, found.sentence)


def test_there_are_more_than_two_hundred_of_them() -> None:
    assert len(ROWS) >= 200
