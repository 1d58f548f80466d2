"""By plan: what a done step of a plan at the mill writes into the yard book, as an act."""

from __future__ import annotations

from dataclasses import dataclass

from waney.papers.mill_steps import Comes, Kind, Step
from waney.yard.acts.mill import AtTheMill, CameOff, Happened, Off

HAPPENED = {
    Kind.ROLL_ON: Happened.LAID,
    Kind.TURN: Happened.TURNED,
    Kind.EDGE: Happened.EDGED,
    Kind.CUT: Happened.OUTSIDE,
    Kind.LEFT: Happened.OUTSIDE,
}
THINNEST_M = 0.0015875
"""1/16 in: thinner than this nothing comes off a saw whole; common practice, no source"""


@dataclass(frozen=True)
class OnTheBed:
    """A log on the bed on a sawing day, by its plan; all three are ids."""

    day: str
    log: str
    plan: str


@dataclass(frozen=True)
class NewPiece:
    """A piece that comes off: its id, its name (empty: the book gives one), its place in the boule, the spot it is carried to."""

    id: str
    name: str
    order: int
    spot: str = ""


def kept(step: Step) -> Comes | None:
    """What comes off and is kept; None for an outside slab and for a step that is no cut."""
    return step.comes if step.comes is not None and step.comes.kept else None


def happened(bed: OnTheBed, step: Step, number: int, off_by_m: float | None = None) -> AtTheMill:
    """A step after which no piece is kept; number: its place among the steps, from 0."""
    return AtTheMill(HAPPENED[step.kind], bed.day, bed.log, plan=bed.plan, step=number, off_by_m=off_by_m)


def some_wood(thickness_m: float) -> float | None:
    """A thickness after misses; None where they leave no wood: then nobody knows how thick it is.

    >>> some_wood(0.0254 + 0.003175), some_wood(0.0127 - 0.0127)
    (0.028575, None)
    """
    return round(thickness_m, 9) if thickness_m >= THINNEST_M else None


def came_off(
    bed: OnTheBed,
    step: Step,
    piece: NewPiece,
    height_m: float | None,
    how: Off = Off.AS_MEANT,
    off_by_m: float | None = None,
    due_m: float = 0.0,
) -> CameOff:
    """The piece of a step, with its place in the log. height_m: where the blade really stood; due_m: by so much thicker than
    planned it was to come off there, because of cuts before it; off_by_m: and by so much more it did."""
    comes = kept(step)
    assert comes is not None, "a step that keeps nothing is told by happened()"
    return CameOff(
        piece.id,
        bed.day,
        bed.log,
        bed.plan,
        name=piece.name,
        cut=step.number,
        order=piece.order,
        how=how,
        off_by_m=off_by_m,
        height_m=height_m,
        thickness_m=None if comes.thickness_m is None else some_wood(comes.thickness_m + round(due_m + (off_by_m or 0.0), 9)),
        length_m=comes.length_m,
        widths_m=comes.widths_m,
        at=comes.at,
        product=comes.product,
        spot=piece.spot,
    )
