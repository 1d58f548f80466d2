"""Path: the best chain of slices, bottom to top, as a longest path over passes. Whole cents, so ties are exact.

h: pass, a height in bed-scale steps. cost[h]: cents of that pass, NEVER where the mill cannot make it.
"""

from __future__ import annotations

from functools import cache

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.records import Whole

NEVER = np.int64(-(1 << 60))
"""Worth of what cannot be; any real sum is far above it."""


@compiled
def best_above(worth: Whole, span: Whole, cost: Whole, top_free: Whole) -> tuple[Whole, Whole, Whole]:
    """For every pass h: the most that passes h and above can earn, pass h itself paid; the arc taken there (-1 = none); and how
    many passes that takes. Of chains that earn the same the one of fewest passes is taken: time that nobody priced is time too.

    worth, span (P, C): arcs; cost (P,); top_free (P,): 1 where nothing needs to be sawn above h. NEVER where h cannot be.
    """
    passes, choices = worth.shape
    best = np.full(passes, NEVER, np.int64)
    choice = np.full(passes, -1, np.int64)
    made = np.zeros(passes, np.int64)
    for h in range(passes - 1, -1, -1):
        if cost[h] == NEVER:
            continue
        top, fewest = 0 if top_free[h] else NEVER, 0
        for c in range(choices):
            after = h + span[h, c]
            if span[h, c] > 0 and after < passes and best[after] != NEVER:
                earns = worth[h, c] + best[after]
                if earns > top or (earns == top and made[after] < fewest):
                    top, fewest, choice[h] = earns, made[after], c
        if top != NEVER:
            best[h], made[h] = top - cost[h], fewest + 1
    return best, choice, made


def best_above_reference(worth: Whole, span: Whole, cost: Whole, top_free: Whole) -> int | None:
    """What the best start of `best_above` earns: try every next slice, then the rest. Slow and obviously right."""

    @cache
    def earn(h: int) -> float:
        if cost[h] == NEVER:
            return -np.inf
        nexts = [
            int(worth[h, c]) + earn(h + int(span[h, c]))
            for c in range(worth.shape[1])
            if span[h, c] > 0 and h + span[h, c] < len(worth)
        ]
        return max([0.0 if top_free[h] else -np.inf, *nexts]) - int(cost[h])

    most = max(earn(h) for h in range(len(worth) - 1, -1, -1))
    return None if most == -np.inf else int(most)


def chain(start: int, choice: Whole, span: Whole) -> list[tuple[int, int]]:
    """The arcs (pass, choice) from a start upwards."""
    arcs: list[tuple[int, int]] = []
    h = start
    while choice[h] >= 0:
        arcs.append((h, int(choice[h])))
        h += int(span[h, choice[h]])
    return arcs
