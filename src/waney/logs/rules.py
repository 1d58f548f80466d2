"""Log rules: the board feet that a buyer's table gives for a scaling diameter and a length, and the Hoppus volume.

A rule is a trade convention, not a measurement: inches and feet are part of its definition, so the rules themselves take them.
Everything else in and out is metres. Every result carries the diameter it was read at and how that was rounded.
Doyle and Scribner know no taper: they understate long logs, which buyers usually scale in lengths of at most 20 ft (memory).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from math import floor

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from waney.figures.problem import OutOfRange, Problem
from waney.figures.tables import table
from waney.logs.log_rule import Rule as Rule
from waney.logs.shape import LogShape
from waney.logs.volume import areas

Array = NDArray[np.float64]

INCH_M, FOOT_M = 0.0254, 0.3048


class DiameterRounding(StrEnum):
    """How the measured diameter became the one the rule was read at."""

    NEAREST = "to the nearest inch"
    """Forest Service practice (fsh-2409-11, from memory); a half goes up"""
    DOWN = "down to the whole inch"
    """what many buyers do (common practice, no source)"""


@dataclass(frozen=True)
class LogScale:
    """Gross scale of one log by one rule, and what it was read at."""

    rule: Rule
    board_feet: int
    unrounded: float
    """board feet before the rule's own rounding"""
    diameter_in: int
    """scaling diameter, inside bark at the small end, as it was looked up"""
    diameter_rounding: DiameterRounding
    length_ft: int
    """whole feet, trim left out"""


@dataclass(frozen=True)
class Hoppus:
    """Quarter-girth volume: (girth / 4)^2 x length; pi/4 of the true volume of a round log."""

    volume_m3: float
    """Hoppus metres; a Hoppus foot is 0.3048^3 of one"""
    girth_m: float
    length_m: float

    @property
    def feet(self) -> float:
        """Hoppus feet."""
        return self.volume_m3 / FOOT_M**3


@dataclass(frozen=True)
class Deduction:
    """Board feet taken off a gross scale, as someone typed them, and what for."""

    board_feet: int
    what: str


@dataclass(frozen=True)
class NetScale:
    """Gross scale less the deductions that were typed in; nothing is deducted otherwise."""

    gross: LogScale
    deductions: tuple[Deduction, ...]

    @property
    def board_feet(self) -> int:
        """What is left."""
        return self.gross.board_feet - sum(one.board_feet for one in self.deductions)


class DeductionTooLarge(Problem):
    """Deductions are below zero or leave less than nothing."""


def doyle(diameter_in: float, length_ft: float) -> float:
    """Board feet by Doyle, unrounded: (D - 4)^2 L / 16; 0 below 4 in. Source: doyle-rule.

    Source: formula from memory; confirmed by 105 printed cells, 8-36 in, 8-20 ft.
    >>> doyle(16, 12)
    108.0
    """
    return max(diameter_in - 4.0, 0.0) ** 2 * length_ft / 16.0


def scribner(diameter_in: float, length_ft: float) -> float:
    """Board feet by the formula fitted to Scribner's diagrams, unrounded: (0.79 D^2 - 2 D - 4) L / 16, never below 0.

    Source: bruce-schumacher-1950.
    """
    return max(0.79 * diameter_in**2 - 2.0 * diameter_in - 4.0, 0.0) * length_ft / 16.0


def international(diameter_in: float, length_ft: float) -> float:
    """Board feet by International 1/4-inch, unrounded: 4-ft sections that grow 1/2 in each towards the butt.

    0.905 (0.22 d^2 - 0.71 d) for each whole section, the short one at the small end pro rata; 0 below 4 in.
    Source: usfs-log-scaling.
    """
    if diameter_in < 4:
        return 0.0
    whole = floor(length_ft / 4.0)
    full = sum(_four_feet(diameter_in + (whole - j) / 2.0) for j in range(1, whole + 1))
    return full + (length_ft / 4.0 - whole) * _four_feet(diameter_in)


def _four_feet(diameter_in: float) -> float:
    return 0.905 * (0.22 * diameter_in**2 - 0.71 * diameter_in)


def scribner_by_table(diameter_in: int, length_ft: int) -> float:
    """Board feet by the factor table behind Scribner Decimal C, unrounded: F(D) x L.

    Raises OutOfRange outside 1-120 in and 1-40 ft. Source: usfs-log-scaling.
    """
    _within("Scribner diameter", diameter_in, 1, 120, "in")
    _within("Scribner length", length_ft, 1, 40, "ft")
    factors = _scribner_factors()
    return length_ft * factors.get((diameter_in, _length_class(length_ft)), factors.get((diameter_in, "all lengths"), 0.0))


def _length_class(length_ft: int) -> str:
    if length_ft < 16:
        return "lengths 15 ft and under"
    return "16 to 31 ft" if length_ft < 32 else "32 to 40 ft"


def _doyle_printed(diameter_in: int, length_ft: int) -> tuple[float, int]:
    exact = doyle(diameter_in, length_ft)
    return exact, floor(exact + 0.5)


def _scribner_printed(diameter_in: int, length_ft: int) -> tuple[float, int]:
    exact = scribner(diameter_in, length_ft)
    return exact, floor(exact + 0.5)


def _scribner_c_printed(diameter_in: int, length_ft: int) -> tuple[float, int]:
    """The table in tens, with the published exceptions of one ten up or down."""
    exact = scribner_by_table(diameter_in, length_ft)
    return exact, 10 * (floor((exact + 5.0) / 10.0) + _scribner_exceptions().get((length_ft, diameter_in), 0))


def _international_printed(diameter_in: int, length_ft: int) -> tuple[float, int]:
    """To the nearest 5; anything below 7.5 is 5 (nothing below 4 in)."""
    exact = international(diameter_in, length_ft)
    if exact == 0.0:
        return exact, 0
    return exact, max(5, 5 * floor(exact / 5.0 + 0.5))


_PRINTED: Mapping[Rule, Callable[[int, int], tuple[float, int]]] = {
    Rule.DOYLE: _doyle_printed,
    Rule.SCRIBNER: _scribner_printed,
    Rule.SCRIBNER_C: _scribner_c_printed,
    Rule.INTERNATIONAL: _international_printed,
}


def scale_of(
    rule: Rule, diameter_m: float, length_m: float, *, rounding: DiameterRounding = DiameterRounding.NEAREST, trim_m: float = 0.0
) -> LogScale:
    """Gross scale of a log by one rule.

    Args:
        rule: the log rule
        diameter_m: scaling diameter, inside bark at the small end [m]
        length_m: whole length [m]; the rule counts whole feet of what the trim leaves
        rounding: how the diameter becomes whole inches
        trim_m: trim allowance, not counted [m]
    Raises OutOfRange where the rule's table ends.
    """
    inches = diameter_m / INCH_M
    whole_in = floor(inches + (0.5 if rounding is DiameterRounding.NEAREST else 0.0) + 1e-9)
    length_ft = max(floor((length_m - trim_m) / FOOT_M + 1e-9), 0)
    exact, board_feet = _PRINTED[rule](whole_in, length_ft)
    return LogScale(rule, board_feet, exact, whole_in, rounding, length_ft)


def scales_of(
    diameter_m: float, length_m: float, *, rounding: DiameterRounding = DiameterRounding.NEAREST, trim_m: float = 0.0
) -> tuple[LogScale, ...]:
    """The same log by every rule, side by side; arguments and errors as for `scale_of`."""
    return tuple(scale_of(rule, diameter_m, length_m, rounding=rounding, trim_m=trim_m) for rule in Rule)


def net_of(gross: LogScale, deductions: tuple[Deduction, ...]) -> NetScale:
    """Net scale from deductions typed in. Raises DeductionTooLarge when one is below zero or nothing would be left."""
    taken = sum(one.board_feet for one in deductions)
    if any(one.board_feet < 0 for one in deductions) or taken > gross.board_feet:
        raise DeductionTooLarge(
            f"Deductions of {taken} bd ft from a gross scale of {gross.board_feet}; "
            "write each as board feet of 0 or more, together not above the gross scale."
        )
    return NetScale(gross, deductions)


def hoppus(girth_m: float, length_m: float) -> Hoppus:
    """Quarter-girth volume from the girth half way along.

    Source: definition of the trade; one Hoppus foot of a round log is 4/pi = 1.273 cubic feet of wood.
    """
    return Hoppus((girth_m / 4.0) ** 2 * length_m, girth_m, length_m)


def scaling_diameter(shape: LogShape) -> float:
    """Diameter of the small end inside bark [m]: mean of the narrowest calliper reading and the one at right angles to it.

    Forest Service practice (fsh-2409-11, from memory). One printed Doyle table takes the narrowest alone.
    """
    ends = shape.surface(bark=False)[[0, -1], :, :2]
    butt_m2, top_m2 = areas(ends)
    widths = calliper_widths(ends[0 if butt_m2 < top_m2 else 1])
    narrowest = int(np.argmin(widths))
    return float(widths[narrowest] + widths[(narrowest + 90) % 180]) / 2.0


def calliper_widths(outline_m: Array) -> Array:
    """What a calliper reads across an outline of shape (m, 2), jaws moved in 180 directions 1 degree apart from x [m]."""
    along = outline_m @ _jaws()
    widths: Array = along.max(axis=0) - along.min(axis=0)
    return widths


@cache
def _jaws() -> Array:
    """Which way the jaws stand, (2, 180)."""
    angle = np.radians(np.arange(180.0))
    return np.stack([np.cos(angle), np.sin(angle)])


def tape_girth(outline_m: Array) -> float:
    """What a tape pulled tight round an outline of shape (m, 2) reads [m]: it bridges every hollow."""
    return float(ConvexHull(outline_m).area)  # of a polygon scipy calls the perimeter "area"


def mid_girth(shape: LogShape, *, bark: bool) -> float:
    """Tape girth half way along the shape [m], over bark or inside it."""
    middle, surface = shape.length_m / 2.0, shape.surface(bark=bark)
    i = int(np.clip(np.searchsorted(shape.z_m, middle) - 1, 0, len(shape.z_m) - 2))
    t = (middle - shape.z_m[i]) / (shape.z_m[i + 1] - shape.z_m[i])
    return tape_girth(((1.0 - t) * surface[i] + t * surface[i + 1])[:, :2])


def _within(what: str, value: float, low: float, high: float, unit: str) -> None:
    if not low <= value <= high:
        raise OutOfRange(what, value, low, high, unit, "the Forest Service table")


@cache
def _scribner_factors() -> Mapping[tuple[int, str], float]:
    rows = table("scribner_factors")
    return {(int(row["diameter_in"]), row["length_class"]): float(row["factor_bd_ft_per_ft"]) for row in rows}


@cache
def _scribner_exceptions() -> Mapping[tuple[int, int], int]:
    rows = table("scribner_exceptions")
    return {(int(row["log_length_ft"]), int(row["diameter_in"])): int(row["adjust_decimal_c_units"]) for row in rows}
