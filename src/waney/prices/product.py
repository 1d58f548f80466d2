"""Product: a finished, dry thing that somebody wants from a log, and how it is paid."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from math import inf

from waney.figures.problem import Problem
from waney.logs.measured import Hidden


class BadProduct(Problem):
    """A product contradicts itself."""


class Edges(StrEnum):
    """What the long edges look like when it is done."""

    LIVE = "live edge"
    EDGED = "edged"


class Surface(StrEnum):
    """What is done to the faces after drying."""

    ROUGH = "rough"
    PLANED = "flattened and planed"


class Grain(StrEnum):
    """Ring angle of the face by the shop's limits (default 0-30-60-90 degrees)."""

    FLAT = "flat"
    RIFT = "rift"
    QUARTER = "quarter"


class Per(StrEnum):
    """What one price is paid for."""

    BOARD_FOOT = "board foot"
    CUBIC_METRE = "m3"
    SQUARE_FOOT = "square foot"
    SQUARE_METRE = "m2"
    FOOT = "foot"
    METRE = "m"
    PIECE = "piece"


class WidthRule(StrEnum):
    """How the width of a live edge is counted; an edged piece has one width under all of them."""

    NARROW_FACE = "narrow face"
    """area of the narrower face divided by its length"""
    MEAN_OF_FACES = "mean of faces"
    """both faces' areas divided by their lengths, averaged"""
    MID_LENGTH = "mid-length"
    """both faces' widths at half length, averaged"""
    WIDEST = "widest"
    """the widest place of the wider face"""


@dataclass(frozen=True)
class PriceRule:
    """Money for a measure: `cents` per one `per`, in whole or broken cents; width by `width_rule`."""

    per: Per
    cents: float
    width_rule: WidthRule = WidthRule.NARROW_FACE
    by_nominal: bool = True
    """board feet and m3 count the nominal thickness (else the true finished one)"""
    thin_counts_as_inch: bool = True
    """board feet only: under 1 in is counted as 1 in (hardwood trade)"""
    wide_factors: tuple[tuple[float, float], ...] = ()
    """(from finished width [m], factor), rising; the last one reached applies"""


@dataclass(frozen=True)
class Product:
    """A wanted finished thing. Sizes are dry and finished, in metres.

    Raises BadProduct when least exceeds most, no length is wanted, or a set is smaller than one.
    """

    name: str
    thickness_m: float
    price: PriceRule
    edges: Edges
    lengths_m: tuple[float, ...]
    """wanted lengths, any of them will do; without trim"""
    least_width_m: float
    """LIVE: of the narrow face at its narrowest place within the length; EDGED: of the piece"""
    most_width_m: float = inf
    widths_m: tuple[float, ...] = ()
    """EDGED: only these widths; empty = any"""
    surface: Surface = Surface.PLANED
    nominal_quarters: int | None = None
    """4 for 4/4; None when an exact thickness is asked"""
    trim_m: float = 0.0
    planing_m: float = 0.0
    """both faces together, taken off the dry piece"""
    flattening_m: float = 0.0
    """for bow and wind, besides the cup that is computed for each piece"""
    finishing_cents_per_m2: float = 0.0
    grain: Grain | None = None
    grain_share: float = 0.8
    """least share of the face that must be of that grain"""
    set_of: int = 1
    """so many consecutive slices or none; a bookmatched pair is 2"""
    set_factor: float = 1.0
    pith_kept: bool = True
    """False: boxed out, no pith inside the finished piece"""
    pith_factor: float = 1.0
    """on the price when the pith is inside"""
    may_hold: frozenset[Hidden] = field(default_factory=lambda: frozenset({Hidden.KNOT, Hidden.STAIN, Hidden.CROTCH}))
    """what may be inside the finished piece"""
    at_least: int = 0
    at_most: int | None = None
    green_m: float | None = None
    """green thickness fixed by the person; None: the program finds the setting"""

    def __post_init__(self) -> None:
        if not self.lengths_m:
            raise BadProduct(f"{self.name}: no length is wanted; write at least one, or a least length.")
        if self.thickness_m <= 0 or self.least_width_m > self.most_width_m:
            raise BadProduct(f"{self.name}: thickness must be above zero and the least width not over the most.")
        if self.set_of < 1 or (self.at_most is not None and self.at_most < self.at_least):
            raise BadProduct(f"{self.name}: a set holds one piece or more, and 'at most' is not below 'at least'.")

    @property
    def nominal_m(self) -> float:
        """Nominal thickness [m]: quarters of an inch, else the finished thickness."""
        return self.nominal_quarters * 0.00635 if self.nominal_quarters is not None else self.thickness_m
