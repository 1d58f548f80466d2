"""Batch: flitches that stand on edge together, with the one first height and the later heights that earn most.

Heights that are looked at: as the first, the highest that leaves some flitch without wane; as a later one, the greatest width
that some flitch then has, or the width that is enough for it. A flitch takes the later height next to its own that earns more.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, floor, inf

from waney.prices.measure import whole_cents
from waney.sawing.edging.flitch import Flitch, Side
from waney.sawing.kernel.passes import pass_cost
from waney.sawing.kernel.records import Ask

Way = tuple[float, int, list[int]]
"""Cents, minus the number of later heights chosen, and these, rising."""
Changes = Callable[[int, int], float]
"""Cents by which the worth of flitch i changes when it becomes so many steps wide."""


@dataclass(frozen=True)
class Standing:
    """A flitch in a batch: which edge is up first, and how wide it becomes [steps]."""

    flitch: Flitch
    side: Side
    width: int


@dataclass(frozen=True)
class Batch:
    """Flitches that are edged together. saved: against edging them one by one; gained: the same, with what their widths give or
    cost [whole cents]."""

    first: int
    standing: tuple[Standing, ...]
    saved_cents: int
    gained_cents: int

    @property
    def then(self) -> tuple[int, ...]:
        """The later heights, falling."""
        return tuple(sorted({one.width for one in self.standing}, reverse=True))

    @property
    def spared(self) -> int:
        """Passes and standings spared against three for each flitch."""
        return 3 * len(self.standing) - 2 - len(self.then)


def batch_of(flitches: Sequence[Flitch], ask: Ask, edging_cents: float) -> Batch | None:
    """The best heights for these flitches; None when the mill cannot do it, or when standing them up saves nothing."""
    thick = sum(flitch.thickness_m for flitch in flitches)
    if thick > ask.effort.widest + 1e-9:
        return None
    cost = pass_cost(ask.effort, thick, max(flitch.length_m for flitch in flitches))
    setting = len(flitches) * edging_cents - ask.effort.edge_min * ask.effort.cents_per_min - cost
    if setting - cost < 0.0:  # not even one height for all of them saves anything
        return None
    best: Batch | None = None
    for first in _first_heights(flitches, ask):
        found = _at_first(flitches, first, ask, setting, cost)
        if found is not None and (best is None or _better(found, best)):
            best = found
    return best


def _better(one: Batch, other: Batch) -> bool:
    return (one.gained_cents, one.spared) > (other.gained_cents, other.spared)


def _first_heights(flitches: Sequence[Flitch], ask: Ask) -> list[int]:
    """From the highest down; a lower one only where some flitch then has more room."""
    head = ask.effort.thickest + ask.kerf
    least = max([lowest_height(ask), *(ceil((f.height_m - head) / ask.step - 1e-9) for f in flitches if head < inf)])
    most = min([highest_height(ask), *(f.highest for f in flitches)])
    heights = sorted({side.highest for f in flitches for side in f.sides} | {most}, reverse=True)
    kept: list[int] = []
    rooms: list[list[int]] = []
    for first in heights:
        if least <= first <= most:
            room = [_room(flitch, first) for flitch in flitches]
            if not any(all(a >= b for a, b in zip(other, room, strict=True)) for other in rooms):
                kept.append(first)
                rooms.append(room)
    return kept


def _room(flitch: Flitch, first: int) -> int:
    side = flitch.side_at(first)
    assert side is not None
    return flitch.room(side, first)


def lowest_height(ask: Ask) -> int:
    """The lowest the blade can stand, over the backstops [steps]."""
    over_stops = floor(ask.effort.backstop / ask.step + 1e-9) + 1
    return max(ceil(ask.effort.lowest / ask.step - 1e-9), over_stops, 1)


def highest_height(ask: Ask) -> int:
    """The highest the blade can stand [steps]."""
    return floor(ask.effort.highest / ask.step + 1e-9)


def _at_first(flitches: Sequence[Flitch], first: int, ask: Ask, setting: float, cost: float) -> Batch | None:
    sides = [side for flitch in flitches if (side := flitch.side_at(first)) is not None]
    rooms = [flitch.room(side, first) for flitch, side in zip(flitches, sides, strict=True)]
    under_head = ceil(first - (ask.effort.thickest + ask.kerf) / ask.step - 1e-9) if ask.effort.thickest < inf else 0
    lowest = max(lowest_height(ask), under_head)
    targets = [min(flitch.enough, room) for flitch, room in zip(flitches, rooms, strict=True)]
    values = sorted({target for target in targets if target >= lowest})

    def changes(i: int, width: int) -> float:
        return flitches[i].changes_by(sides[i], first, width)

    widths = _widths(targets, values, changes, cost)
    if widths is None:
        return None
    change = sum(changes(i, width) for i, width in enumerate(widths))
    saved = whole_cents(setting - len(set(widths)) * cost)
    standing = tuple(Standing(*one) for one in zip(flitches, sides, widths, strict=True))
    return Batch(first, standing, saved, saved + int(change))


def _widths(targets: list[int], values: list[int], changes: Changes, cost: float) -> list[int] | None:
    """The widths that earn most, each of the values paid for once; the fewest values on ties. None when there are none.

    Along rising values: a flitch whose own value lies between two chosen ones takes the better of these.
    """
    best: list[Way] = []
    """for each value as the last one chosen so far"""
    for j, value in enumerate(values):
        ways = [_between(targets, None, value, changes, (0.0, 0, []), cost)]
        ways += [_between(targets, values[i], value, changes, best[i], cost) for i in range(j)]
        best.append(max(ways, key=_rank))
    ends = [_above(targets, value, changes, way) for value, way in zip(values, best, strict=True)]
    cents, _, chosen = max(ends, key=_rank, default=(-inf, 0, []))
    if cents == -inf:
        return None
    return [max(_neighbours(chosen, target), key=lambda width: changes(i, width)) for i, target in enumerate(targets)]


def _rank(way: Way) -> tuple[float, int]:
    return round(way[0], 6), way[1]


def _between(targets: list[int], last: int | None, value: int, changes: Changes, so_far: Way, cost: float) -> Way:
    """One more value chosen above the last: those whose own value lies between take the better of both."""
    cents, count, chosen = so_far
    for i, target in enumerate(targets):
        if (last is None or target > last) and target <= value:
            under = changes(i, last) if last is not None and target < value else -inf
            cents += max(changes(i, value), under)
    return cents - cost, count - 1, [*chosen, value]


def _above(targets: list[int], value: int, changes: Changes, so_far: Way) -> Way:
    """No value chosen above this one."""
    cents, count, chosen = so_far
    return cents + sum(changes(i, value) for i, target in enumerate(targets) if target > value), count, chosen


def _neighbours(chosen: list[int], target: int) -> list[int]:
    """The chosen values next to a flitch's own, the greater first."""
    over = [value for value in chosen if value >= target][:1]
    return over + [value for value in chosen if value < target][-1:]
