"""Load groups: of all ways to part lots into loads, the one with the fewest loads, then the fewest days; exactly.

A group is a mask over the lots: bit i is set where lot i is in it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

Mask = int


def groups_that_fit(count: int, fits: Callable[[Mask], bool]) -> tuple[Mask, ...]:
    """All groups of `count` lots that fit, by size: one is tried only where every group with one lot less fits too."""
    found: set[Mask] = set()
    for group in sorted(range(1, 1 << count), key=int.bit_count):
        fewer = (group & ~(1 << i) for i in range(count) if group >> i & 1)
        if all(one == 0 or one in found for one in fewer) and fits(group):
            found.add(group)
    return tuple(sorted(found, key=lambda one: (one.bit_count(), one)))


def cheapest(count: int, days: Mapping[Mask, float]) -> tuple[Mask, ...] | None:
    """Groups, each of those with days, that hold every lot once: the fewest of them, of these the fewest days; None: no way.

    Exact: what is left after the group of the lowest lot is parted as well as may be, for every set of lots once.
    """
    best: dict[Mask, tuple[int, float, tuple[Mask, ...]]] = {0: (0, 0.0, ())}
    for lots in range(1, 1 << count):
        lowest = lots & -lots
        ways = (
            (best[lots ^ group][0] + 1, best[lots ^ group][1] + days[group], (group, *best[lots ^ group][2]))
            for group in days
            if group & lowest and group & lots == group and lots ^ group in best
        )
        if (found := min(ways, default=None)) is not None:
            best[lots] = found
    whole = best.get((1 << count) - 1)
    return None if whole is None else whole[2]
