"""Cant: two opposite faces opened, then what is left sawn square to them. The best pair of faces, by branch and bound.

a, b: passes of the first lie that make the lower and the upper face (a < b). Side boards above b come off in the first lie,
those below a after a half turn onto b; the cant between them is turned a quarter and sawn through. Boxes of pairs are bounded by
the best side boards in them and by what any cant in them can give (`outlook`); the box with the highest bound is looked into
first.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.arcs import arcs_of, passable, within
from waney.sawing.kernel.bound import most_of_box
from waney.sawing.kernel.outlook import Outlook
from waney.sawing.kernel.passes import can_be_first, costs_of
from waney.sawing.kernel.path import NEVER, best_above
from waney.sawing.kernel.records import Ask, Obstacles, Whole
from waney.sawing.kernel.slice_bound import Box
from waney.sawing.kernel.slices import Cut, cut_at
from waney.sawing.kernel.tables import Tables

A1, A2, B1, B2, BOUND = 0, 1, 2, 3, 4
"""Columns of a box: a from A1 to A2, b from B1 to B2 (indices into the faces), and what no pair in it can pass."""


class Standing(NamedTuple):
    """The log after its quarter turn: tables without ring samples, obstacles, settings (J, P), and +1 or -1: which way u
    counts the faces of the first lie (face at height v stands at u = sign·v)."""

    t: Tables
    obstacles: Obstacles
    steps: Whole
    sign: int


class Pair(NamedTuple):
    """The best pair of faces found in one lie: passes a, b, cents (before loading and turns), bound, boxes looked into."""

    a: int
    b: int
    cents: int
    bound: int
    work: int


@compiled
def cut_between(standing: Standing, a: int, b: int) -> Cut:
    """The sawn planes of a cant."""
    low, high = a * standing.t.step, b * standing.t.step
    if standing.sign < 0:
        low, high = -high, -low
    return cut_at(low, high)


@compiled
def cant_cents(ask: Ask, standing: Standing, a: int, b: int) -> tuple[int, Whole, Whole, Whole, Whole]:
    """What the cant between passes a and b earns, its passes paid [cents]; and the best from each pass, arcs chosen,
    passes it takes, spans."""
    cut = cut_between(standing, a, b)
    arcs = arcs_of(ask.orders, standing.obstacles, standing.t, standing.steps, within(cut))
    cost = costs_of(ask.effort, standing.obstacles, standing.t, 0, cut)
    arcs = passable(arcs, ask, cost)
    best, choice, made = best_above(arcs.worth, arcs.span, cost, can_be_first(ask.effort, standing.t))
    return int(best.max()), best, choice, made, arcs.span


@compiled
def best_pair(
    ask: Ask,
    standing: Standing,
    outlook: Outlook,
    faces: Whole,
    above: Whole,
    below: Whole,
    least: int,
    to_beat: int,
    budget: int,
    deep: bool,
) -> Pair:
    """The best pair of faces that earns more than to_beat. faces (F,): passes on the face grid; above, below (F,): what the side
    boards above and below each face earn, their passes paid; least: thinnest cant in passes; budget: boxes to look into;
    deep: the newest box first, for something good soon, instead of the most promising, for a proof.

    The pair's cents are to_beat and a = b = 0 when none is better. bound: nothing in this lie earns more.
    """
    boxes = np.empty((2 * budget + 2, 5), np.int64)
    boxes[0] = 0, len(faces) - 1, 0, len(faces) - 1, np.int64(1) << 60
    free = can_be_first(ask.effort, standing.t)
    count, work = 1, 0
    best = Pair(0, 0, to_beat, to_beat, 0)
    while count > 0 and work < budget:
        i = count - 1 if deep else int(np.argmax(boxes[:count, BOUND]))
        box = boxes[i].copy()
        if box[BOUND] <= best.cents and not deep:
            break
        count -= 1
        boxes[i] = boxes[count]
        work += 1
        if box[A1] == box[A2] and box[B1] == box[B2]:
            if box[BOUND] <= best.cents:
                continue
            a, b = faces[box[A1]], faces[box[B1]]
            cents = above[box[B1]] + below[box[A1]] + cant_cents(ask, standing, a, b)[0]
            if cents > best.cents:
                best = Pair(a, b, cents, 0, 0)
            continue
        if box[BOUND] <= best.cents:
            continue
        for half in range(2):
            child = _half(box, half)
            bound = _bound(ask, standing, outlook, free, faces, above, below, least, child)
            if bound > best.cents:
                boxes[count] = child
                boxes[count, BOUND] = min(bound, box[BOUND])
                count += 1
        if count > 1 and boxes[count - 2, BOUND] > boxes[count - 1, BOUND]:  # the more promising of the two lies on top
            boxes[count - 2 : count] = boxes[count - 2 : count][::-1].copy()
    bound = max(best.cents, boxes[:count, BOUND].max() if count > 0 else best.cents)
    return Pair(best.a, best.b, best.cents, bound, work)


@compiled
def _half(box: Whole, half: int) -> Whole:
    child = box.copy()
    low, high = (A1, A2) if box[A2] - box[A1] >= box[B2] - box[B1] else (B1, B2)
    middle = (box[low] + box[high]) // 2
    if half == 0:
        child[high] = middle
    else:
        child[low] = middle + 1
    return child


@compiled
def _bound(
    ask: Ask, standing: Standing, outlook: Outlook, free: Whole, faces: Whole, above: Whole, below: Whole, least: int, box: Whole
) -> int:
    """No pair of a box can earn more; NEVER when it holds none that can be sawn."""
    outer_a, outer_b = faces[box[A1]], faces[box[B2]]
    if outer_b - outer_a < least:
        return int(NEVER)
    top = above[box[B1] : box[B2] + 1].max()
    bottom = below[box[A1] : box[A2] + 1].max()
    if top == NEVER or bottom == NEVER:
        return int(NEVER)
    step = standing.t.step
    inner = (faces[box[A2]] * step, faces[box[B1]] * step)
    cants = Box(box[A1], box[A2], box[B1], box[B2], (outer_a * step, outer_b * step), inner)
    cant = most_of_box(ask, standing.obstacles, outlook, standing.t, free, cants)
    return int(top + bottom + cant) if cant > NEVER // 2 else int(NEVER)
