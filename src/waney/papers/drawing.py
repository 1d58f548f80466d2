"""Drawing: a whole plan on one sheet: the butt end, the log from the side, every lie on the bed with the turn before it, and
what stands on edge together."""

from __future__ import annotations

from waney.papers.bed import bed_drawing
from waney.papers.butt import butt_drawing
from waney.papers.ink import Ink
from waney.papers.on_edge import on_edge_drawing
from waney.papers.side import side_drawing
from waney.papers.subject import Subject
from waney.papers.turn import turn_drawing
from waney.sawing.facts.blocks import Block
from waney.sawing.moves import EdgeTogether

WIDE_MM = 170.0


def plan_drawing(subject: Subject, ink: Ink, blocks: tuple[Block, ...] = ()) -> str:
    """SVG of a plan, for screen (SCREEN) or paper (PAPER): the same lines in other ink."""
    sheet = butt_drawing(subject, ink, WIDE_MM)
    sheet.title = f"{subject.plan.log}: saw plan"
    sheet.below(side_drawing(subject, ink, WIDE_MM, blocks))
    for lie in range(len(subject.plan.lies)):
        if lie:
            sheet.below(turn_drawing(subject, ink, lie, WIDE_MM))
        sheet.below(bed_drawing(subject, ink, lie, WIDE_MM))
    for move in subject.plan.moves:
        if isinstance(move, EdgeTogether):
            sheet.below(on_edge_drawing(subject, ink, move, WIDE_MM))
    return sheet.text()
