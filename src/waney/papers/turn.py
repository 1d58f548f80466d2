"""Turn: what lay on the bed, which way it goes over, what then lies there; as seen from where the sawyer stands."""

from __future__ import annotations

from math import cos, pi, sin

import numpy as np
import shapely

from waney.papers import marks
from waney.papers.ends import LogEnd, log_end
from waney.papers.ink import BED, CHALK, LARGE, Ink, Stroke
from waney.papers.onto import Onto
from waney.papers.subject import Subject
from waney.papers.svg import Sheet, Spot
from waney.sawing.mill import End
from waney.sawing.moves import Turn

TOP_MM, FOOT_MM, GAP_MM = 16.0, 9.0, 16.0
ARC = Stroke(0.9)
QUARTERS = {1: "a quarter turn", 2: "a half turn", 3: "a quarter turn"}


def turns(subject: Subject) -> tuple[Turn, ...]:
    """The turns of a plan; number i leads to lie i + 1."""
    return tuple(move for move in subject.plan.moves if isinstance(move, Turn))


def clockwise_here(subject: Subject, turn: Turn) -> bool:
    """Whether the turn looks clockwise from where the sawyer stands. Three quarters one way are one quarter the other."""
    return (turn.quarters != 3) == (subject.mill.sawyer_stands_at is End.BUTT)


def turn_words(subject: Subject, turn: Turn) -> str:
    """Which way the log goes over, as seen from where the sawyer stands, and onto what."""
    hand = "clockwise" if clockwise_here(subject, turn) else "anticlockwise"
    way = "" if turn.quarters == 2 else f", {hand} as you stand"
    onto = "onto the sawn face" if turn.onto_flat else "onto the bark, sawn face to the backstops"
    return f"{QUARTERS[turn.quarters]}{way}, {onto}"


def turn_drawing(subject: Subject, ink: Ink, lie: int, width_mm: float) -> Sheet:
    """The turn that leads to a lie (1 or more): before on the left, after on the right."""
    end = log_end(subject.plan, subject.shape, subject.mill, subject.mill.sawyer_stands_at)
    left = end.on_bed[lie]
    here = subject.mill.sawyer_stands_at
    flat = [Onto(end.planes[i], here, 1.0).extent(left) for i in (lie - 1, lie)]
    wide, tall = sum(box[2] - box[0] for box in flat), max(-box[1] for box in flat)
    scale = min((width_mm - GAP_MM - 8) / wide, 60.0 / tall)
    bed_y = TOP_MM + scale * tall
    sheet = Sheet(width_mm, bed_y + FOOT_MM, ink, f"{subject.plan.log}, the turn before lie {lie + 1}")
    x = 4.0
    for i, box in zip((lie - 1, lie), flat, strict=True):
        onto = Onto(end.planes[i], here, scale, (x - scale * box[0], bed_y))
        _state(sheet, onto, end, left, lie)
        x += scale * (box[2] - box[0]) + GAP_MM
    first = Onto(end.planes[lie - 1], here, scale, (4.0 - scale * flat[0][0], bed_y)).extent(left)
    _arc(sheet, first, clockwise_here(subject, turns(subject)[lie - 1]))
    _words(sheet, bed_y, x)
    return sheet


def _state(sheet: Sheet, onto: Onto, end: LogEnd, left: shapely.Geometry, lie: int) -> None:
    """What is there, on the bed, its last sawn face drawn heavily."""
    box = onto.extent(left)
    marks.outlines(sheet, onto, left, left.intersection(end.wood))
    sawn = [cut for cut in end.cuts if cut.lie == lie - 1 and cut.stroke]
    if sawn:
        sheet.line(onto.spots(np.array(marks.stroke_of(sawn[-1]))), CHALK)
    sheet.line([(box[0] - 3, onto.shift[1]), (box[2] + 3, onto.shift[1])], BED)


def _arc(sheet: Sheet, box: tuple[float, float, float, float], clockwise: bool) -> None:
    """A bent arrow over what is turned."""
    x, y, reach = (box[0] + box[2]) / 2, box[1] + 6, (box[2] - box[0]) / 2 * 0.7
    angles = np.linspace(pi * 0.8, pi * 0.2, 14)
    spots: list[Spot] = [(x + reach * cos(a), y - 12 * sin(a)) for a in angles]
    sheet.arrow(spots if clockwise else spots[::-1], ARC, 4.0)


def _words(sheet: Sheet, bed_y: float, right: float) -> None:
    sheet.letters((4.0, bed_y + 6.0), "before", LARGE * 0.8)
    sheet.letters((right - GAP_MM, bed_y + 6.0), "after", LARGE * 0.8, anchor="end")
