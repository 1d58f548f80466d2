"""Verdict: a plan holds, or this is the first thing in it that does not."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.figures.problem import Problem


class Reason(StrEnum):
    """What kind of thing differs."""

    SHAPE = "shape of the log"
    GRID = "grid"
    ROLL = "roll"
    TIP = "tip"
    REST = "rest on the bed"
    TURN = "turn"
    ORDER = "order"
    HEIGHT = "bed height"
    KERF = "kerf"
    AIR = "cut in air"
    LIMIT = "mill limit"
    BACKSTOP = "backstops and clamps"
    REPEATED = "repeated"
    PLACE = "place in the log"
    SIZE = "size"
    RINGS = "rings and pith"
    METAL = "metal and other zones"
    PRODUCT = "what the piece can be"
    PRICE = "worth of a piece"
    SETTING = "setting"
    SET = "set"
    COUNT = "count"
    EDGING = "edging together"
    MONEY = "money of the plan"
    BOUND = "bound"


class Difference(Problem):
    """The plan says one thing, the geometry or the money another."""

    def __init__(self, reason: Reason, sentence: str) -> None:
        self.reason = reason
        super().__init__(sentence)


@dataclass(frozen=True)
class Verdict:
    """`reason` is None when the whole plan was replayed and nothing differed; else `sentence` names the first difference."""

    reason: Reason | None
    sentence: str

    @property
    def accepted(self) -> bool:
        """Whether the plan holds."""
        return self.reason is None
