"""Weights: which of those that were told are of a piece as it lies there, and which of what it was before it was cut."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Moment:
    """When something was told, by the book's own count, and by the clock of whoever told it."""

    seq: int
    happened_at: str


def of_what_is_left(weight: Moment, cut: Moment | None) -> bool:
    """Whether a weight is of the sample board that is left; cut: when sections were cut from the piece, None: never.

    A weight that was told before, or that is told late and is older by its clock, is of the whole piece.
    """
    if cut is None:
        return True
    return weight.seq > cut.seq and datetime.fromisoformat(weight.happened_at) >= datetime.fromisoformat(cut.happened_at)
