"""Counts of the trade for one piece: board feet, true and nominal, and surface measure. Sizes in metres."""

from __future__ import annotations

from math import floor

from waney.units.length import FOOT_NM, INCH_NM
from waney.units.volume import BOARD_FOOT

INCH_M = INCH_NM * 1e-9
FOOT_M = FOOT_NM * 1e-9
BOARD_FOOT_M3 = float(BOARD_FOOT.si)
SLACK_FT = 1e-9
"""A length this little below a whole foot counts as that foot, so that 8 ft in metres stays 8 ft."""


def board_feet(width_m: float, length_m: float, thickness_m: float, *, thin_counts_as_inch: bool) -> float:
    """Board feet, not rounded, by whatever thickness is handed in (true, finished or nominal).

    thin_counts_as_inch: under 1 in is counted as 1 in, as the hardwood trade does. Source: nhla-summary.
    """
    counted = max(thickness_m, INCH_M) if thin_counts_as_inch else thickness_m
    return width_m * length_m * counted / BOARD_FOOT_M3


def surface_measure_ft2(width_m: float, length_m: float) -> int:
    """Surface measure of a hardwood board [whole square feet].

    Width in inches with its fraction times length in whole feet (the rest dropped), over 12, to the nearest; a half goes up.
    Source: nhla-summary (from memory, the direction of the half too).
    """
    feet = floor(length_m / FOOT_M + SLACK_FT)
    return floor(round(width_m / INCH_M * feet / 12.0, 9) + 0.5)


def tally_board_feet(width_m: float, length_m: float, nominal_m: float) -> float:
    """Board feet as a hardwood tally counts them: surface measure times nominal inches, thin stock at surface measure."""
    return surface_measure_ft2(width_m, length_m) * max(1.0, nominal_m / INCH_M)
