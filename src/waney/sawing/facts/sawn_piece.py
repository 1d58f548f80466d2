"""Sawn piece: the piece that a plan has at a cut, with its place in the log and the rings that run through it."""

from __future__ import annotations

from waney.pieces.piece import Piece
from waney.sawing.facts.walk import last_name
from waney.sawing.moves import Pass
from waney.sawing.plan import Plan, PlannedPiece


def piece_of_cut(plan: Plan, cut: int | None) -> Piece | None:
    """What comes off at the nth cut (from 1), or stays on the bed last (None, or beyond the last cut); None for an outside slab
    that the plan does not name."""
    planned = planned_at(plan, cut)
    return None if planned is None else planned.piece


def planned_at(plan: Plan, cut: int | None) -> PlannedPiece | None:
    """The same with its lie and its passes."""
    names = [move.comes_off for move in plan.moves if isinstance(move, Pass)]
    name = last_name(plan) if cut is None or cut > len(names) else names[max(cut, 1) - 1]
    return next((planned for planned in plan.pieces if planned.piece.name == name), None)
