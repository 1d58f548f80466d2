"""Missed: a piece came off thicker or thinner than meant; where the later passes of the same lie go then.

Common practice, no source. Blade too high: the piece is thin, what stays on the bed is thick by as much, and the heights stand.
Blade too low by one mark of the scale: nobody sees it, the heights stand. By more: every height left in this lie is lowered by
the miss, so that the later pieces have their thickness and what stays on the bed is thinner.
"""

from __future__ import annotations

from collections.abc import Sequence

SEEN_STEPS = 1
"""a miss up to this many marks of the scale is let be"""


def lower_by(thick_steps: int) -> int:
    """By how many steps the later heights of this lie are lowered after a piece that is too thick by so many (thin: below 0).

    >>> [lower_by(miss) for miss in (-3, 0, 1, 2, 3)]
    [0, 0, 0, 2, 3]
    """
    return thick_steps if thick_steps > SEEN_STEPS else 0


def moved_by(wanted: Sequence[int], read: Sequence[int]) -> tuple[int, int]:
    """The log was moved: by how many steps all heights of this lie move, and by how many the top end then stands off.

    wanted, read: heights of the pith above the bed at the butt and at the top end, in steps. Half a step goes down: what stays
    on the bed is rather thick.

    >>> moved_by((100, 100), (104, 104)), moved_by((100, 100), (104, 101)), moved_by((100, 90), (97, 90))
    ((4, 0), (2, -3), (-2, 3))
    """
    butt, top = (r - w for r, w in zip(read, wanted, strict=True))
    return (butt + top) // 2, top - butt
