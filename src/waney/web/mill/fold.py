"""Fold: what comes next at the mill, from the steps of a plan and what was done.

`client/src/mill/fold.ts` does the same in the page; a test holds the two against each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.papers.mill_steps import AtMill, Kind, Step
from waney.sawing.missed import lower_by, moved_by
from waney.web.mill.holds import Done
from waney.yard.acts.mill import Happened, Off

TAGGED = "tag stapled on"
STEPS = (Happened.LAID, Happened.TURNED, Happened.OUTSIDE, Happened.EDGED)
"""what is a step of a plan"""


@dataclass(frozen=True)
class Stands:
    """Where the sawing stands. step: the index of the next one, None when all are done; height_steps: its height, counted again.

    shift_steps: by how much the heights of this lie differ from the plan's; off_steps: how much higher the top end lies than it
    should beside the butt; order: how many pieces came off.
    """

    step: int | None
    height_steps: int | None
    shift_steps: int
    off_steps: int
    order: int
    stops_steps: int | None = None
    """backstops and clamps below this; None where they stand right already"""


@dataclass(frozen=True)
class Called:
    """A piece that came off. about: its stream; name: what it is called now; tagged: a tag is on it."""

    about: str
    name: str
    tagged: bool = False


def called(done: Sequence[Done]) -> tuple[Called, ...]:
    """Pieces in the order they came off, each by its last tag."""
    tags = {each.about: each.name for each in done if each.kind == "tagged"}
    off = (each for each in done if each.kind == "came-off")
    return tuple(Called(each.about, tags.get(each.about, each.name), each.about in tags) for each in off)


def stands(mill: AtMill, done: Sequence[Done]) -> Stands:
    """The state after everything that was done."""
    finished: set[int] = set()
    missed, moved, off = ([0] * len(mill.pith_steps) for _ in range(3))
    for each in done:
        index = _index(mill, each)
        if index is not None:
            finished.add(index)
            missed[mill.steps[index].lie] -= lower_by(each.thick_steps)
        elif each.what == Happened.CLAMPED_AGAIN and each.pith_steps is not None:
            lie = _lie(mill, finished)
            moved[lie], off[lie] = moved_by(mill.pith_steps[lie], each.pith_steps)
    gone = any(_bed_is_empty(each) for each in done)
    left = [i for i, step in enumerate(mill.steps) if i not in finished and not (gone and step.kind is not Kind.EDGE)]
    order = sum(each.kind == "came-off" for each in done)
    if not left:
        return Stands(None, None, 0, 0, order)
    step: Step = mill.steps[left[0]]
    shift = missed[step.lie] + moved[step.lie]  # a log that was clamped again keeps what a missed cut took off it
    height = max(0, step.height_steps + shift) if step.height_steps else None
    lowered = min(0, shift)
    stops = max(0, step.stops_steps + lowered) if step.stops_steps and (step.lower_stops or lowered) else None
    return Stands(left[0], height, shift, off[step.lie], order, stops)


def _bed_is_empty(done: Done) -> bool:
    """What lay on the bed was kept as a cant: nothing is sawn off it any more; what came off before may still be edged."""
    return done.kind == "came-off" and done.what == Off.CANT and done.cut is None


def _index(mill: AtMill, done: Done) -> int | None:
    """Which step it was; None for none."""
    if done.kind == "came-off" and done.cut is not None:
        return next((i for i, step in enumerate(mill.steps) if step.number == done.cut), None)
    if done.what in STEPS and done.step is not None and done.step < len(mill.steps):
        return done.step
    return None


def _lie(mill: AtMill, finished: set[int]) -> int:
    left = [step.lie for index, step in enumerate(mill.steps) if index not in finished]
    return left[0] if left else mill.steps[-1].lie
