"""Facts: figures that a paper prints and does not compute. Whoever asks for the paper fills them; what is missing is said to be.

Every weight is an Estimate in kg; its high end is printed beside the act.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from waney.figures.estimate import Estimate
from waney.prices.product import WidthRule
from waney.sawing.mill import End


@dataclass(frozen=True)
class Block:
    """Something to put under the log before it is sawn."""

    end: End
    """the end that it lifts"""
    height_m: float
    """top of the block above the bed"""
    at_m: float
    """from the butt end of the bed"""
    crossbar: int | None
    """counted from 1 at the butt end of the bed; None: the crossbars are not known"""


class Look(StrEnum):
    """Why the sawyer stops after a cut and looks at the face. The words are printed."""

    FIRST_FACE = "First face: is the wood as sound, and the face as wide, as the card says?"
    STRESS = "Sight along the face: has it lifted or bowed? Then turn before you go on."
    METAL = "Metal was suspected near here: look for dark stain, listen, run the detector over the face."
    ROT = "Rot was noted near here: is it as large as the card says?"
    PITH = "The pith is near: look for shakes and checks before the next cut."
    GRAIN = "Look at the grain: is this the face that was wanted?"


@dataclass(frozen=True)
class CutFacts:
    """What is known of one pass."""

    weight_off: Estimate | None = None
    """of what comes off [kg]"""
    face_m: tuple[float, float] | None = None
    """width inside bark of the face that the pass opens, at the butt and at the top end"""
    looks: tuple[Look, ...] = ()
    metal: bool = False
    """the pass comes near metal that was suspected"""
    heavy: bool = False
    """what comes off is more than one person should lift"""


@dataclass(frozen=True)
class TurnFacts:
    """What is known of one turn."""

    weight: Estimate | None = None
    """of what is turned [kg]"""
    size_m: tuple[float, float] | None = None
    """height and width over bark of what then lies on the bed, at the butt end"""
    helped: bool = False
    """too heavy for the sawyer alone, by the mill sheet"""


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
    would_change: tuple[WouldChange, ...] = ()


@dataclass(frozen=True)
class RingShares:
    """Shares of one face by ring angle; they sum to 1 or less (undefined near the pith)."""

    flat: float
    rift: float
    quarter: float


@dataclass(frozen=True)
class PieceFacts:
    """What is measured on one piece besides what the plan holds. Metres, kg."""

    widths_m: Mapping[WidthRule, float] = field(default_factory=dict)
    """green, by rule"""
    rectangle_m: tuple[float, float] | None = None
    """width and length of the largest usable rectangle, green"""
    board_feet_true: float | None = None
    board_feet_nominal: float | None = None
    surface_measure: int | None = None
    green_weight: Estimate | None = None
    dry_weight: Estimate | None = None
    rings_a: RingShares | None = None
    rings_b: RingShares | None = None
    cup_m: float | None = None
    holds: tuple[str, ...] = ()
    """pith, metal, rot, knots inside it"""


@dataclass(frozen=True)
class PlanFacts:
    """What is known of one plan besides its pieces."""

    outcome_cents: Estimate | None = None
    minutes: float | None = None
    board_feet: float | None = None
    usable_m3: float | None = None
    """dry volume of the finished pieces"""
    warnings: tuple[str, ...] = ()
