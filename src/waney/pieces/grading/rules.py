"""Grade rules: least board, least cuttings, and for each surface measure how many cuttings must give how many units.

Source: nhla-summary (chart summaries of the NHLA rules); rows that were inferred from a misaligned chart are marked mixed.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from waney.figures.tables import Row, table
from waney.pieces.measures import FOOT_M, INCH_M

UNIT_IN2 = 12.0
"""A cutting unit: 1 inch by 1 foot [square inches]."""


@dataclass(frozen=True)
class Way:
    """One way to reach a grade: in at most `cuttings` pieces (None: any number) at least `units` cutting units."""

    cuttings: int | None
    units: float
    full_width: bool = False
    """each cutting as wide as the board"""


@dataclass(frozen=True)
class GradeRule:
    """One grade. least_cuttings_m: (width, length) of the alternatives; least_area_m2: what each cutting holds besides, 0 where
    its sides say all; sound: sound cuttings do, else clear-face ones."""

    name: str
    short: str
    least_width_m: float
    least_length_m: float
    least_cuttings_m: tuple[tuple[float, float], ...]
    least_area_m2: float
    sound: bool

    def ways(self, surface_measure: int) -> tuple[Way, ...]:
        """Every way to this grade for a board of so many square feet; empty when it is too small for the grade."""
        return tuple(_way(row, surface_measure) for row in table("lumber_grade_ways") if _holds(row, self.short, surface_measure))

    def big_enough(self, width_m: float, length_m: float, *, allowed_m: float = 0.0) -> bool:
        """Whether the board itself is; allowed_m: what a kiln-dried board may lack in width (1/2 in)."""
        return width_m + allowed_m >= self.least_width_m - 1e-9 and length_m >= self.least_length_m - 1e-9


KILN_DRIED_M = 0.5 * INCH_M
"""Shrinkage in width that a kiln-dried board may have in the least size of its grade. Source: nhla-summary."""


def _holds(row: Row, short: str, surface_measure: int) -> bool:
    last = int(row["to_sm"]) if row["to_sm"] else surface_measure
    return row["grade"] == short and int(row["from_sm"]) <= surface_measure <= last


def _way(row: Row, surface_measure: int) -> Way:
    units = surface_measure * float(row["multiplier"])
    if not row["most"]:
        return Way(None, units)
    divide = int(row["divide"])
    by_rule = (surface_measure + int(row["add"])) // divide if divide else 0
    limit = int(row["most"]) - int(row["more"])
    return Way(min(by_rule, limit) + int(row["more"]), units, row["full_width"] == "yes")


@cache
def grade_rules() -> dict[str, GradeRule]:
    """Every grade by its short name, best first."""
    return {row["short"]: _rule(row) for row in table("lumber_grades")}


def _rule(row: Row) -> GradeRule:
    sizes = {(float(row[f"cutting_{x}_width_in"]) * INCH_M, float(row[f"cutting_{x}_length_ft"]) * FOOT_M) for x in "ab"}
    return GradeRule(
        row["grade"],
        row["short"],
        float(row["min_board_width_in"]) * INCH_M,
        float(row["min_board_length_ft"]) * FOOT_M,
        tuple(sorted(sizes)),
        float(row["cutting_area_in2"] or 0.0) * INCH_M**2,
        row["face"] == "sound",
    )
