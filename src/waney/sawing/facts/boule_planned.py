"""Boule planned: the pieces of a plan as they lay upon each other in the log, with the widths of their faces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from waney.pieces.boule_way import Wide
from waney.pieces.piece import Piece
from waney.sawing.plan import Plan

Array = NDArray[np.float64]
LEVEL = 0.99
"""cosine: faces that are nearer to square than this lie in no boule"""


def boule_planned(plan: Plan) -> tuple[Wide, ...]:
    """Mean widths of the upper and the under face, from what comes off first on; nothing where the pieces do not all lie
    upon each other (sawn round a cant), or where a place in the log is not known."""
    placed = [(piece, piece.to_log) for piece in (planned.piece for planned in plan.pieces)]
    turns = [np.array(to_log.turn)[:, 2] for _, to_log in placed if to_log is not None]
    if not turns or len(turns) < len(placed) or any(abs(turn @ turns[0]) < LEVEL for turn in turns):
        return ()
    rows = [
        (float(np.array(to_log.shift) @ turns[0]), _wide(piece, upside_down=bool(turn @ turns[0] < 0)))
        for (piece, to_log), turn in zip(placed, turns, strict=True)
        if to_log is not None
    ]
    return tuple(wide for _, wide in sorted(rows, key=lambda row: -row[0]))


def _wide(piece: Piece, *, upside_down: bool) -> Wide:
    under, _, upper = (_mean(face) for face in piece.high_y_m - piece.low_y_m)
    return (under, upper) if upside_down else (upper, under)


def _mean(widths: Array) -> float:
    """0 where there is no wood."""
    return float(np.nan_to_num(widths).mean())
