"""Plans spoilt in their moves: roll, tip, lies, heights, kerf, order, turns, mill limits, edging.

Each with the reasons that are right for it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from waney.logs.frames import placing
from waney.sawing.check.verdict import Reason
from waney.sawing.moves import EdgeTogether, Pass, PithHeights, Turn
from waney.sawing.wants import Tip

from .spoiling import (
    Rng,
    Spoilt,
    any_piece,
    at_height,
    neighbours_of_a_piece,
    pick,
    places,
    swapped_in,
    with_move,
    with_piece,
    with_plan,
    with_planned,
)


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


def pith_read_a_step_off(case: Any, rng: Rng) -> Spoilt:
    """One of the two readings is another than the plan was counted from."""
    read, by = case.plan.moves[0].pith_read, pick(rng, [-1, 1]) * case.mill.step_m
    off = pick(rng, [PithHeights(read.butt_m + by, read.top_m), PithHeights(read.butt_m, read.top_m + by)])
    return with_move(case, 0, pith_read=off), {Reason.TIP}


def both_piths_a_step_off(case: Any, rng: Rng) -> Spoilt:
    """And so is the lift, where the log stands free of the bed: only the lie itself tells."""
    move, by = case.plan.moves[0], pick(rng, [-1, 1]) * case.mill.step_m
    off = PithHeights(move.pith_read.butt_m + by, move.pith_read.top_m + by)
    lift = max(move.lift_m + by, 0.0) if move.lift_m > 0.001 else move.lift_m
    return with_move(case, 0, pith_read=off, lift_m=lift), {Reason.REST, Reason.TIP}


def lift_of_the_lie_off(case: Any, rng: Rng) -> Spoilt:
    lift = case.plan.moves[0].lift_m + pick(rng, [-1, 1]) * float(rng.uniform(1e-5, 0.01))
    return with_move(case, 0, lift_m=lift), {Reason.TIP}


def readings_left_out(case: Any, rng: Rng) -> Spoilt:
    return with_move(case, 0, pith_read=None), {Reason.TIP}


def said_to_lie_by_itself(case: Any, rng: Rng) -> Spoilt:
    spoilt = with_move(case, 0, tip=Tip.AS_IT_LIES, pith_read=pick(rng, [None, case.plan.moves[0].pith_read]))
    return with_plan(spoilt, tip=Tip.AS_IT_LIES, grid=replace(case.plan.grid, tips=(Tip.AS_IT_LIES,))), {Reason.TIP}


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


def pass_repeated(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, Pass))
    moves = case.plan.moves
    return with_plan(case, moves=(*moves[: i + 1], *moves[i:])), {Reason.REPEATED, Reason.ORDER}


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


def edging_height_off(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    by = pick(rng, [-100, 100])
    first = max(case.plan.moves[i].first_height_steps + by, 20)
    return with_move(case, i, first_height_steps=first), {Reason.EDGING}


def edging_higher_than_the_blade_goes(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_move(case, i, first_height_steps=int(case.mill.highest_m / case.mill.step_m) + 1), {Reason.LIMIT}


def edging_into_a_backstop(case: Any, rng: Rng) -> Spoilt:
    """Passes of the log that run lower are named first, for the same reason."""
    i = pick(rng, places(case, EdgeTogether))
    lowest = case.plan.moves[i].then_height_steps[-1] * case.mill.step_m
    return replace(case, mill=replace(case.mill, backstop_lowest_m=lowest)), {Reason.BACKSTOP}


def edging_too_narrow(case: Any, rng: Rng) -> Spoilt:
    """A flitch that becomes narrower is narrower than it is said to be, lies elsewhere, or is no more what it is said to be."""
    i = pick(rng, places(case, EdgeTogether))
    move = case.plan.moves[i]
    less = tuple(steps - 2 for steps in move.widths_steps)
    narrower = with_move(case, i, widths_steps=less, then_height_steps=tuple(sorted(set(less), reverse=True)))
    return narrower, {Reason.EDGING, Reason.SIZE}


def edging_a_step_off(case: Any, rng: Rng) -> Spoilt:
    """Every flitch a step off its place, or outside of what is free."""
    i = pick(rng, places(case, EdgeTogether))
    first = case.plan.moves[i].first_height_steps + pick(rng, [-1, 1])
    return with_move(case, i, first_height_steps=first), {Reason.EDGING, Reason.SIZE}


def flitch_stood_on_the_other_edge(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    up = list(case.plan.moves[i].low_y_up)
    j = int(rng.integers(len(up)))
    up[j] = not up[j]
    return with_move(case, i, low_y_up=tuple(up)), {Reason.EDGING, Reason.SIZE}


def edging_before_the_flitch_is_there(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    moves = [move for k, move in enumerate(case.plan.moves) if k != i]
    moves.insert(2, case.plan.moves[i])
    return with_plan(case, moves=tuple(moves)), {Reason.ORDER}


def edging_while_the_log_is_on_the_bed(case: Any, rng: Rng) -> Spoilt:
    """Before the log's last pass: all flitches may be there, but the bed is not free; what lies on it is no last piece yet."""
    i, last = places(case, EdgeTogether)[0], places(case, Pass)[-1]
    moves = [move for k, move in enumerate(case.plan.moves) if k != i]
    moves.insert(last, case.plan.moves[i])
    return with_plan(case, moves=tuple(moves)), {Reason.ORDER, Reason.HEIGHT}


def edged_twice(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_plan(case, moves=(*case.plan.moves, case.plan.moves[i])), {Reason.REPEATED}


def edging_in_a_wrong_order(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_move(case, i, then_height_steps=(80, 120)), {Reason.EDGING}


def somebody_elses_piece_edged(case: Any, rng: Rng) -> Spoilt:
    i = pick(rng, places(case, EdgeTogether))
    return with_move(case, i, names=(*case.plan.moves[i].names[:-1], "X9")), {Reason.ORDER}


def edging_left_out(case: Any, rng: Rng) -> Spoilt:
    """What it saved is still claimed, and its flitches lie where only common heights put them."""
    i = pick(rng, places(case, EdgeTogether))
    moves = case.plan.moves
    return with_plan(case, moves=(*moves[:i], *moves[i + 1 :])), {Reason.EDGING, Reason.MONEY, Reason.SIZE}


def step_of_another_scale(case: Any, rng: Rng) -> Spoilt:
    return with_plan(case, grid=replace(case.plan.grid, step_m=0.001)), {Reason.GRID}
