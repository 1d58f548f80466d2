"""What a quarter thickness measures when it is dry: rough, and surfaced on two sides."""

from __future__ import annotations

from waney.figures.problem import Problem
from waney.figures.tables import table
from waney.prices.product import Surface
from waney.units.length import length_of

SOURCE = "nhla-thickness"


class NoStandard(Problem):
    """The trade's table has no finished thickness for these quarters."""


def finished_m(quarters: int, surface: Surface) -> float:
    """Dry, finished thickness [m] of a quarter thickness: rough it is what its name says; planed, what the table prints.

    Source: data/lumber_thickness.csv (from memory of the NHLA rules). Raises NoStandard.
    >>> finished_m(4, Surface.PLANED), finished_m(7, Surface.ROUGH)      # 13/16 in, 1 3/4 in
    (0.0206375, 0.04445)
    """
    rows = {row["quarter_name"]: row for row in table("lumber_thickness")}
    row = rows.get(f"{quarters}/4")
    if surface is Surface.ROUGH:
        return length_of(float(row["rough_in"]) if row else quarters / 4, "in")
    if row is None:
        known = ", ".join(name for name in rows if name.endswith("/4") and name != "3/4")
        raise NoStandard(f"{quarters}/4 has no standard planed thickness (there is one for {known}); add a line with `finished`.")
    return length_of(float(row["surfaced_two_sides_in"]), "in")
