"""Missed: a piece came off thicker or thinner than it was to; where the later passes of its lie go, how thick the next comes.

Common practice and geometry, no source. Blade too high: the piece is thin, what stays on the bed is thick by as much, and the
heights stand, so that the next piece takes up the miss: it comes thick, and those after it as planned. Blade too low by one
mark of the scale: nobody sees it, the heights stand, and the next piece comes thin by that mark. By more: every height left in
this lie is lowered by the miss, so that the later pieces have their thickness and what stays on the bed is thinner.

A miss is counted from what was to come off at that height, which after another miss is not what the plan has.

- shift: by how many marks the heights left in a lie are off the plan's, 0 or below
- face: how many marks above its place in the plan a sawn face lies, in the wood
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


def face_after(shift: int, thick_steps: int) -> int:
    """Where the face lies that a cut leaves; shift: of its own height; thick_steps: by so many marks its piece came too thick.

    >>> face_after(0, -2), face_after(-2, 0), face_after(-2, 4)
    (2, -2, -6)
    """
    return shift - thick_steps


def comes_by(face: int, shift: int) -> int:
    """By how many marks the piece between a face and the next cut comes thicker than planned; shift: of that cut's height, 0
    for what stays on the bed.

    >>> comes_by(2, 0), comes_by(-1, 0), comes_by(-4, -4)
    (2, -1, 0)
    """
    return face - shift


def moved_by(wanted: Sequence[int], read: Sequence[int]) -> tuple[int, int]:
    """The log was moved: by how many steps all heights of this lie move, and by how many the top end then stands off.

    wanted, read: heights of the pith above the bed at the butt and at the top end, in steps. Half a step goes down: what stays
    on the bed is rather thick.

    >>> moved_by((100, 100), (104, 104)), moved_by((100, 100), (104, 101)), moved_by((100, 90), (97, 90))
    ((4, 0), (2, -3), (-2, 3))
    """
    butt, top = (r - w for r, w in zip(read, wanted, strict=True))
    return (butt + top) // 2, top - butt
