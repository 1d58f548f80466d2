"""Green thickness: what quarters of an inch by name measure as they come off the saw."""

from __future__ import annotations

from waney.figures.problem import Problem
from waney.figures.tables import table
from waney.units.length import INCH_NM, from_nanometres
from waney.units.thickness import Thickness


class NoGreenThickness(Problem):
    """The table has no green thickness for these quarters."""


def sawn_m(thickness: Thickness) -> float:
    """Green thickness [m]: as typed, or for a name such as 8/4 the green target of the sawmill table. Raises NoGreenThickness.

    Source: data/lumber_thickness.csv, sawmill practice, no source.
    >>> from waney.units.thickness import parse_thickness
    >>> round(sawn_m(parse_thickness("4/4", None)) * 1000, 1)
    28.6
    """
    if thickness.quarters is None:
        return thickness.metres
    sizes = {row["quarter_name"]: row["suggested_green_sawn_in"] for row in table("lumber_thickness")}
    inches = sizes.get(f"{thickness.quarters}/4", "")
    if not inches:
        known = ", ".join(name for name, green in sizes.items() if green)
        raise NoGreenThickness(
            f"No green thickness is known for {thickness.quarters}/4 (there is one for {known}): write what it measures."
        )
    return float(inches) * from_nanometres(INCH_NM)
