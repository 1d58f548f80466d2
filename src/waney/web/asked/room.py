"""Whether a piece is ready for its room: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.web.asked.figure import Figure
from waney.web.asked.stack import MoistureAsked


@dataclass(frozen=True)
class RoomAsked:
    """A piece, what was read of it, and its room as people tell it; today: from when it would lie there."""

    wood: str
    thickness_m: float | None
    moistures: tuple[MoistureAsked, ...]
    place: str
    indoors: str
    highest: str
    today: str
    meter: str = ""
    metric: bool = False


@dataclass(frozen=True)
class RoomAnswer:
    """verdict: a sentence; figures: what was read and when, what is wanted, each with what it stands on; advice: what to do."""

    verdict: str
    figures: tuple[Figure, ...]
    advice: tuple[str, ...]
