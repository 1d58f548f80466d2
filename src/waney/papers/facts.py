"""Facts of a card: figures that it prints and does not compute. What is missing is said to be.

Every weight is an Estimate in kg; its high end is printed beside the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waney.figures.estimate import Estimate
from waney.sawing.blocks import Block
from waney.sawing.cut_facts import CutFacts, TurnFacts


@dataclass(frozen=True)
class PithRead:
    """The pith heights that were really read above the bed, and what follows. The plan printed is counted from them."""

    butt_m: float
    top_m: float
    still_best: bool
    better: str = ""
    """the name of the plan that would now be best"""
    better_by_cents: int = 0


@dataclass(frozen=True)
class WouldChange:
    """One thing that would make another plan the best: "4/4 boards above $6.10 a board foot", "plan B"."""

    if_so: str
    then: str


@dataclass(frozen=True)
class CardFacts:
    """All figures of a height card that the plan does not hold. Empty: the card says what is not known."""

    log_weight: Estimate | None = None
    """before it is rolled on [kg]"""
    blocks: tuple[Block, ...] = ()
    cuts: Mapping[int, CutFacts] = field(default_factory=dict)
    """by the number of the pass, from 1 over all lies"""
    turns: Mapping[int, TurnFacts] = field(default_factory=dict)
    """by the lie that the turn leads to, from 1"""
    pith_read: PithRead | None = None
    would_change: tuple[WouldChange, ...] | None = None
    """None: not worked out"""
