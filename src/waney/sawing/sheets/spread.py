"""Spread: how much thickness differs between boards sawn at one setting."""

from __future__ import annotations

from math import sqrt
from statistics import stdev

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.pieces.measures import INCH_M
from waney.sawing.sheets.defaults import COMMON_PRACTICE

FEWEST_BOARDS = 6
"""Fewer say next to nothing about a spread."""


class NoSpread(Problem):
    """The boards say nothing about the spread."""


def default_spread() -> Estimate:
    """1/32 in [m], half to twice as much: common practice, no source."""
    return Estimate(INCH_M / 32, INCH_M / 64, INCH_M / 16, COMMON_PRACTICE, hard_min=0.0)


def spread_of(thicknesses_m: tuple[float, ...]) -> Estimate:
    """Standard deviation of six or more boards set alike [m], with its 90 % range.

    The likely value s is the sample's own (n - 1 below); the range is s·sqrt((n - 1)/q), q the 95 and 5 % points of chi-square
    with n - 1 degrees of freedom, exact for thicknesses spread normally. Raises NoSpread for fewer boards, or
    when all read alike.
    """
    n = len(thicknesses_m)
    if n < FEWEST_BOARDS:
        raise NoSpread(f"{n} boards say too little about the spread; give {FEWEST_BOARDS} or more, or leave this out.")
    from scipy.special import chdtri  # slow to load, and few mills have six boards measured

    spread = stdev(thicknesses_m)
    if spread < 1e-9:
        raise NoSpread("all boards read alike: read them finer (callipers, to 0.1 mm or 0.005 in), or leave this out.")
    low, high = (spread * sqrt((n - 1) / chdtri(n - 1, share_above)) for share_above in (0.05, 0.95))
    return Estimate(spread, low, high, Basis(Ground.HISTORY, f"{n} boards set alike"), hard_min=0.0)
