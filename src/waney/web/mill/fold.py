"""Fold: what comes next at the mill, from the steps of a plan and what was done.

`client/src/mill/fold.ts` does the same in the page; a test holds the two against each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from waney.papers.by_plan import kept
from waney.papers.mill_steps import AtMill, Kind, Step
from waney.sawing.missed import comes_by, face_after, lower_by, moved_by
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
    comes_steps: int = 0
    """by so many marks what comes off next is thicker than planned, because cuts before it were missed"""
    wedge: bool = False
    """the piece before came off as a wedge, so that its face is out of true"""

    def thickness_m(self, mill: AtMill) -> float | None:
        """How thick the next piece is to come off, where that is not as planned; None where it is."""
        comes = None if self.step is None else kept(mill.steps[self.step])
        if comes is None or comes.thickness_m is None or not self.comes_steps:
            return None
        return max(0.0, round(comes.thickness_m + self.comes_steps * mill.step_m, 9))


@dataclass(frozen=True)
class Face:
    """A face that a cut left. at_steps: how many marks above its place in the plan; wedge: what came off it was one."""

    at_steps: int = 0
    wedge: bool = False


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
    faces: dict[int, Face] = {}
    missed, moved, off = ([0] * len(mill.pith_steps) for _ in range(3))
    for each in done:
        index = _index(mill, each)
        if index is not None:
            finished.add(index)
            lie = mill.steps[index].lie
            faces[index] = Face(face_after(missed[lie], each.thick_steps), each.what == Off.WEDGE)
            missed[lie] -= lower_by(each.thick_steps)
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
    above = _face_above(mill, faces, left[0])
    comes = 0 if above is None else comes_by(above.at_steps, missed[step.lie] if step.kind is Kind.CUT else 0)
    return Stands(left[0], height, shift, off[step.lie], order, stops, comes, above is not None and above.wedge)


def _face_above(mill: AtMill, faces: dict[int, Face], index: int) -> Face | None:
    """The face that was sawn last above what a step takes off; None where it is bark, where nobody told, and for no piece."""
    step = mill.steps[index]
    if step.kind not in (Kind.CUT, Kind.LEFT):
        return None
    before = (i for i in range(index - 1, -1, -1) if mill.steps[i].kind is Kind.CUT and mill.steps[i].lie == step.lie)
    return faces.get(next(before, -1))


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
