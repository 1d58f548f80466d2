"""Plans spoilt in their pieces: place, size, pith, metal, repeated or invented pieces.

Each with the reasons that are right for it.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from waney.logs.frames import placing
from waney.logs.measured import Hidden
from waney.sawing.check.verdict import Reason

from .spoiling import Rng, Spoilt, any_piece, pick, swapped_in, with_piece, with_plan, with_planned


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


def piece_repeated(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    return with_plan(case, pieces=(*case.plan.pieces[: i + 1], *case.plan.pieces[i:])), {Reason.REPEATED}


def piece_repeated_under_another_name(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    again = replace(case.plan.pieces[i], piece=replace(case.plan.pieces[i].piece, name="again"))
    return with_plan(case, pieces=(*case.plan.pieces, again)), {Reason.REPEATED}


def piece_from_nowhere(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    planned = case.plan.pieces[i]
    extra = replace(planned, piece=replace(planned.piece, name="extra"), lower_steps=planned.lower_steps + 400)
    return with_plan(case, pieces=(*case.plan.pieces, extra)), {Reason.ORDER}


def outside_slab_as_a_piece(case: Any, rng: Rng) -> Spoilt:
    name, steps = case.plan.moves[1].comes_off, case.plan.moves[1].height_steps
    extra = replace(case.plan.pieces[0], piece=replace(case.plan.pieces[0].piece, name=name), lower_steps=steps, upper_steps=None)
    return with_plan(case, pieces=(extra, *case.plan.pieces)), {Reason.PLACE}


def log_a_little_fatter(case: Any, rng: Rng) -> Spoilt:
    shape = case.shape
    radius = shape.radius_m * (1 + float(rng.uniform(1e-4, 0.02)))
    return replace(case, shape=replace(shape, radius_m=radius)), {Reason.REST, Reason.TIP}


def edge_of_a_piece_moved(case: Any, rng: Rng) -> Spoilt:
    i = any_piece(case, rng)
    piece = case.plan.pieces[i].piece
    high = piece.high_y_m.copy()
    plane, station = rng.choice(np.argwhere(~np.isnan(high)))
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
