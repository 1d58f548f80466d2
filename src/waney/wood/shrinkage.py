"""How wood shrinks and moves across the grain: by ring angle, by moisture, and by the handbook's change coefficients.

Shrinkage S is a share of the green size, from green to oven dry. The one law of size is
size(M) = size_green · (1 - S · (1 - M/0.30)) below M = 0.30, and size_green above.
"""

from __future__ import annotations

from math import cos, sin

from waney.figures.problem import OutOfRange
from waney.wood.limits import SHRINKAGE_START

COEFFICIENT_LOW, COEFFICIENT_HIGH = 0.06, 0.14
"""Moisture [-] between which the change coefficients hold: Wood Handbook FPL-GTR-190 ch. 13."""
_SOURCE = "Wood Handbook FPL-GTR-190 ch. 13"


def by_ring_angle(radial: float, tangential: float, angle_rad: float) -> float:
    """Shrinkage [-] along a direction at `angle_rad` to the radial: S_R cos²a + S_T sin²a.

    Source: the strain tensor of an orthotropic body, turned; design section 4.
    >>> from math import pi
    >>> by_ring_angle(0.05, 0.08, 0.0), round(by_ring_angle(0.05, 0.08, pi / 2), 6), round(by_ring_angle(0.05, 0.08, pi / 4), 6)
    (0.05, 0.08, 0.065)
    """
    return radial * cos(angle_rad) ** 2 + tangential * sin(angle_rad) ** 2


def shrunk_share(shrinkage: float, mc: float) -> float:
    """Share of the green size that is lost at moisture `mc` [-]: S · (1 - M/0.30), zero from 0.30 up.

    Source: Wood Handbook FPL-GTR-282 Eq 4-9.
    >>> round(shrunk_share(0.086, 0.06), 4)     # red oak, tangential, to 6 %: worked example C9
    0.0688
    """
    if mc < 0.0:
        raise OutOfRange("Moisture", mc * 100, 0.0, 300.0, "%", "The law of shrinkage")
    return shrinkage * max(0.0, 1.0 - mc / SHRINKAGE_START)


def size_at(green_size_m: float, shrinkage: float, mc: float) -> float:
    """Size at moisture `mc` of what measured `green_size_m` green [m]."""
    return green_size_m * (1.0 - shrunk_share(shrinkage, mc))


def green_size(size_m: float, shrinkage: float, mc: float) -> float:
    """Green size of what measures `size_m` at moisture `mc` [m]: the inverse of `size_at`."""
    return size_m / (1.0 - shrunk_share(shrinkage, mc))


def moved(size_m: float, shrinkage: float, from_mc: float, to_mc: float) -> float:
    """Size at `to_mc` of what measures `size_m` at `from_mc` [m]: the ratio of the one law at both."""
    return size_at(green_size(size_m, shrinkage, from_mc), shrinkage, to_mc)


def change_coefficient(shrinkage: float) -> float:
    """The handbook's change of size per 1 % of moisture, referred to the size at 10 %: (S/30)/(1 - 20 S/30).

    Source: reproduces Table 13-5 of FPL-GTR-190 from Table 4-3 to the printed digit where both were read for one species.
    >>> round(change_coefficient(0.099), 5), round(change_coefficient(0.055), 5)      # sugar maple T, black walnut R
    (0.00353, 0.0019)
    """
    per_pct = shrinkage / 30.0
    return per_pct / (1.0 - 20.0 * per_pct)


def shrinkage_of_coefficient(coefficient: float) -> float:
    """Shrinkage [-] that a change coefficient per 1 % implies: the inverse of `change_coefficient`."""
    return 30.0 * coefficient / (1.0 + 20.0 * coefficient)


def moved_by_coefficient(size_m: float, coefficient: float, from_mc: float, to_mc: float) -> float:
    """Size at `to_mc` by the handbook's change coefficient [m], to stand beside `moved`; 6 to 14 % only.

    Source: Wood Handbook FPL-GTR-190 ch. 13, dD = D · C · (M_F - M_I). Raises OutOfRange outside 6 to 14 %.
    """
    for mc in (from_mc, to_mc):
        if not COEFFICIENT_LOW - 1e-12 <= mc <= COEFFICIENT_HIGH + 1e-12:
            raise OutOfRange("Moisture", mc * 100, COEFFICIENT_LOW * 100, COEFFICIENT_HIGH * 100, "%", _SOURCE)
    return size_m * (1.0 + coefficient * 100.0 * (to_mc - from_mc))


def volumetric_from_gravity(sg_green: float) -> float:
    """Volumetric shrinkage [-] from green specific gravity alone: 26.5 % · Gb.

    Source: Wood Handbook Eq 4-12, from memory. A mean over species: woods rich in extractives shrink far less.
    """
    return 0.265 * sg_green
