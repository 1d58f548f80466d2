"""Boule map of a plan: the butt end with every cut and name, before it is sawn."""

from __future__ import annotations

from datetime import date

from waney.papers.boule import WIDE_MM, BoulePiece, in_order
from waney.papers.butt import butt_drawing
from waney.papers.ink import PAPER
from waney.papers.paper import Paper, Picture, paper
from waney.papers.subject import Subject

_AS_DRAWN = "Stack it as drawn, every butt end the same way, each face upon the face it was sawn from."


def boule_map_of_plan(subject: Subject, plan_name: str, printed: date) -> Paper:
    """The map of a boule as it is planned: the butt end with every cut and name."""
    picture = Picture(
        butt_drawing(subject, PAPER, WIDE_MM).text(), f"Butt end of {subject.plan.log} with every cut and the name of each piece"
    )
    kept = [planned.piece for planned in subject.plan.pieces if subject.kept(planned.piece.name)]
    pieces = [BoulePiece(piece.name, piece.thickness_m) for piece in kept]
    parts = (picture, *in_order(pieces, "comes off", _AS_DRAWN, subject.shop))
    return paper("Boule map", subject.plan.log, plan_name, parts, subject.shop, printed)
