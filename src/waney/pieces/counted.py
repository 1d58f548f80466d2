"""A piece counted by every width rule of the trade and by each thickness: which one a buyer means is never left out."""

from __future__ import annotations

from dataclasses import dataclass, fields

from waney.pieces.as_counted import Sizes
from waney.pieces.measures import board_feet, surface_measure_ft2, tally_board_feet


@dataclass(frozen=True)
class Counted:
    """One width rule: the field of `Sizes` it is, width [m], area [m2], surface measure [ft2], board feet (not rounded)."""

    rule: str
    width_m: float
    area_m2: float
    surface_measure: int
    by_true: float
    """by the thickness as measured"""
    by_nominal: float | None
    """by the name of the thickness, under 1 in as 1 in; None: it has no such name"""
    tally: float | None
    """surface measure times nominal inches"""


def counted(sizes: Sizes, nominal_m: float | None) -> tuple[Counted, ...]:
    """By every width rule, widest rule of `Sizes` last. nominal_m: what the name of its thickness says, such as 2 in for 8/4."""
    rules = [field.name for field in fields(Sizes) if field.name not in ("thickness_m", "length_m")]
    return tuple(_by(rule, getattr(sizes, rule), sizes, nominal_m) for rule in rules)


def _by(rule: str, width_m: float, sizes: Sizes, nominal_m: float | None) -> Counted:
    length = sizes.length_m
    return Counted(
        rule,
        width_m,
        width_m * length,
        surface_measure_ft2(width_m, length),
        board_feet(width_m, length, sizes.thickness_m, thin_counts_as_inch=False),
        None if nominal_m is None else board_feet(width_m, length, nominal_m, thin_counts_as_inch=True),
        None if nominal_m is None else tally_board_feet(width_m, length, nominal_m),
    )
