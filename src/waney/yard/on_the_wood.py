"""The name that is on the wood itself: what a piece with tags was called before any of them, in crayon on its butt end."""

from __future__ import annotations

from collections.abc import Sequence

from waney.yard.names import Name


def on_the_wood(tags: Sequence[tuple[Name, Name | None]]) -> Name | None:
    """tags: every tag a piece ever got, those that were taken back too, and what it was called until then, in the order of the
    book. A name that it got otherwise between two of them is the later one. None: nothing was written on it.

    >>> str(on_the_wood([(Name("C", 1), Name("W", 2)), (Name("C", 2), Name("C", 1))]))
    'W-2-5'
    """
    before = dict(reversed(tags))
    name = tags[-1][1]
    while name is not None and name in before:
        name = before.pop(name)
    return name
