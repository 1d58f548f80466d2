"""Facts of a card: figures that it prints and does not compute. What is missing is said to be.

Every weight is an Estimate in kg; its high end is printed beside the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from waney.figures.estimate import Estimate
from waney.sawing.facts.blocks import Block
from waney.sawing.facts.cut_facts import CutFacts, TurnFacts
from waney.sawing.recount import Comparison


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
    pith_read: Comparison | None = None
    """the pith heights that were really read, and what follows; None: nobody read them yet"""
    would_change: tuple[WouldChange, ...] | None = None
    """None: not worked out"""
