"""Why a tally differs from the log scale: what the rule allows for kerf, what another rule would say, what is left over."""

from __future__ import annotations

from dataclasses import dataclass

from waney.pieces.measures import INCH_M
from waney.trade.counted import By, Counted
from waney.units.share import print_share

ALLOWED_KERF_M = 0.25 * INCH_M
"""Saw kerf of the International 1/4-inch rule, by its name."""
ALLOWED_SHRINKAGE_M = INCH_M / 16.0
"""For each board of one inch besides the kerf; 0.905 in the rule is (1 + 1/8 + 1/16) / (1 + 1/4 + 1/16) (from memory)."""


@dataclass(frozen=True)
class Part:
    """One reason, as a factor on the scale."""

    why: str
    factor: float


@dataclass(frozen=True)
class Overrun:
    """tally / scale; above 1 the customer gets more boards than the scale said. The factors of the parts multiply to it."""

    scale: Counted
    tally: Counted
    parts: tuple[Part, ...]

    @property
    def ratio(self) -> float:
        """Tally over scale."""
        return self.tally.board_feet / self.scale.board_feet

    @property
    def words(self) -> str:
        """The overrun in one line."""
        over = self.ratio - 1.0
        called = "overrun" if over >= 0 else "underrun"
        by_scale = f"{self.scale.board_feet:g} by {self.scale.by}"
        return f"{self.tally.board_feet:g} tallied, {by_scale}: {called} {print_share(abs(over), 1)}"


def overrun(scale: Counted, international: Counted, tally: Counted, kerf_m: float, green_m: float, counted_m: float) -> Overrun:
    """Explain a tally against a scale of the same logs, above zero both.

    international: the same logs by International 1/4-inch; kerf_m: of this mill; green_m, counted_m: thickness as sawn, and as
    the tally counts it, of the boards that most of it is.
    """
    by_rule = international.board_feet / scale.board_feet
    taken = (ALLOWED_KERF_M + ALLOWED_SHRINKAGE_M) / INCH_M
    here = (green_m + kerf_m) / counted_m
    kerf = (1.0 + taken) / here
    rest = tally.board_feet / international.board_feet / kerf
    other = Part(f"{scale.by} counts these logs otherwise than {By.INTERNATIONAL}, which follows their taper", by_rule)
    saw = f"of each inch {By.INTERNATIONAL} gives {taken:.4g} in to kerf and shrinkage; this mill takes {here - 1.0:.4g}"
    both = (Part(saw, kerf), Part("the rest: widths, outside slabs, sweep, rot, and what was left in cants", rest))
    return Overrun(scale, tally, both if scale.by is By.INTERNATIONAL else (other, *both))
