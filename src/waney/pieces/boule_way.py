"""Boule way: which end of a row of pieces came off first, by the widths that the log's plan has for each.

Faces cannot show it: a row turned round fits as well. The plan can, where one half of the log differs from the other. The row
may lack pieces of the plan; it keeps the plan's order or turns it round.
"""

from __future__ import annotations

from collections.abc import Sequence

Wide = tuple[float, float]
"""mean widths [m] of the face that lay up and of the one that lay down"""
TOLD_M = 0.015
"""so much nearer to the plan, a face, must one way be to be told (ours; how often it is right: docs/design/pieces.md)"""
MOST_GONE = 3
"""of the plan's pieces may be missing in the row: with more of them gone the other way fits too well"""


def first_off(row: Sequence[Wide], planned: Sequence[Wide]) -> bool | None:
    """Whether the first of a row came off first; False: the last did; None: the plan does not tell.

    >>> plan = [(0.2, 0.3), (0.3, 0.4), (0.4, 0.35)]
    >>> first_off(plan, plan), first_off([(0.35, 0.4), (0.4, 0.3)], plan), first_off([(0.3, 0.3), (0.3, 0.3)], plan)
    (True, False, None)
    """
    if not 2 <= len(row) <= len(planned) <= len(row) + MOST_GONE:
        return None
    as_told, turned = least_off(row, planned), least_off([wide[::-1] for wide in reversed(row)], planned)
    if abs(as_told - turned) < TOLD_M * 2 * len(row):
        return None
    return as_told < turned


def least_off(row: Sequence[Wide], planned: Sequence[Wide]) -> float:
    """By how much all faces of a row differ from those of the plan's pieces that they fit best, in the plan's order [m]."""
    best = [0.0] * (len(planned) + 1)  # of no piece yet, among the first so many of the plan
    for wide in row:
        nearer = [float("inf")]
        for place, other in enumerate(planned):
            here = best[place] + abs(wide[0] - other[0]) + abs(wide[1] - other[1])
            nearer.append(min(nearer[-1], here))
        best = nearer
    return best[-1]
