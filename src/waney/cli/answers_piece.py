"""Answers as JSON of the commands for one piece as it lies there; the forms as in `waney.cli.answers`."""

from __future__ import annotations

from dataclasses import dataclass

from waney.cli.answers import Range


@dataclass(frozen=True)
class CuttingFound:
    """One cutting: from x0, y0 to x1, y1 from the marked end and edge, and its cutting units (12 square inches each)."""

    x0_m: float
    x1_m: float
    y0_m: float
    y1_m: float
    units: float


@dataclass(frozen=True)
class FaceGraded:
    """One face in the grade that decided: what was needed and found. exact: proved; at_most: no set has more units."""

    face: str
    grade: str
    needed_units: float | None
    allowed_cuttings: int | None
    units: float
    exact: bool
    at_most_units: float
    cuttings: tuple[CuttingFound, ...]


@dataclass(frozen=True)
class BoardGraded:
    """What `waney grade` says; grade null: below every grade. clear_share: cuttings of the poorer face, of the measure.

    length, width: of the board; edged: it is what edging would leave of a live-edge slab.
    """

    piece: str
    length_m: float
    width_m: float
    edged: bool
    grade: str | None
    surface_measure_ft2: int
    clear_share: float
    faces: tuple[FaceGraded, ...]
    lacks: tuple[str, ...]


@dataclass(frozen=True)
class Plane:
    """The lower plane z = at + slope_along x + slope_across y, thickness above it, and what comes off each face on average."""

    at_m: float
    slope_along: float
    slope_across: float
    thickness_m: float
    off_under_m: float
    off_upper_m: float


@dataclass(frozen=True)
class CutFirst:
    """Cut in two at a line of the grid, each half flattened for itself; saves: thickness more than flattening it whole."""

    at_m: float
    thickness_m: float
    saves_m: float
    halves: tuple[Plane, Plane]


@dataclass(frozen=True)
class PieceFlattened:
    """What `waney flatten` says; null: not enough rows of heights to read it, or no line to cut at."""

    piece: str
    best: Plane
    equal: Plane | None
    bow_m: float | None
    cup_m: float | None
    wind_m: float | None
    cut_across: CutFirst | None
    cut_along: CutFirst | None


@dataclass(frozen=True)
class WidthCounted:
    """One width rule: width, area, surface measure, board feet (not rounded) by true and by nominal thickness, tally."""

    rule: str
    width_m: float
    area_m2: float
    surface_measure_ft2: int
    board_feet_true: float
    board_feet_nominal: float | None
    tally_board_feet: float | None


@dataclass(frozen=True)
class UsableRectangle:
    """The largest rectangle free of holes and of marks that were to be kept off."""

    length_m: float
    width_m: float
    angle_rad: float
    x_m: float
    y_m: float


@dataclass(frozen=True)
class FacePlanned:
    """One face as a plan has it, green: its area, and at each place from the butt end its left and right edge from the straight
    line, and its width with the range of the log's doubt."""

    area_m2: Range
    at_m: tuple[float, ...]
    left_m: tuple[float, ...]
    right_m: tuple[float, ...]
    width_m: tuple[Range, ...]


@dataclass(frozen=True)
class EdgesPlanned:
    """What `waney measure PLAN --piece` says: a forecast, not measured; a face null: the bark takes it whole."""

    piece: str
    thickness_m: float
    upper: FacePlanned | None
    under: FacePlanned | None


@dataclass(frozen=True)
class TargetPrinted:
    """What `waney target` wrote: the file, the paper, its marks, and the length of its long row at 100 %."""

    path: str
    paper: str
    marks: int
    long_row_m: float


@dataclass(frozen=True)
class SeasonWidths:
    """A width through the year in a room; months 1 to 12; lag: days by which its moisture follows the air."""

    place: str
    finish: str
    width_m: float
    mc: float
    lag_days: Range
    narrowest_m: Range
    narrowest_month: int
    driest: Range
    widest_m: Range
    widest_month: int
    dampest: Range
    moves_m: Range
    months_m: tuple[Range, ...]


@dataclass(frozen=True)
class ReadyForRoom:
    """Whether it is ready for a room: mean moisture of the room's year, driest and dampest month [-]; weeks to lie there, null:
    nothing to wait for; late: share of cases not there in two years; sentence, figures, advice: the same in words."""

    verdict: str
    mean: Range
    driest: float
    dampest: float
    weeks: Range | None
    late: float
    sentence: str
    figures: tuple[tuple[str, str], ...]
    advice: tuple[str, ...]


@dataclass(frozen=True)
class PieceMeasured:
    """What `waney measure` says of a piece as it lies; null: not known. both_faces: whether the under face was measured too."""

    piece: str
    wood: str | None
    thickness_m: float
    nominal_m: float | None
    length_m: float
    square_length_m: float
    """between square cuts at its ends: what widths and board feet are counted over"""
    area_m2: float
    area_range_m2: Range | None
    """where it was traced on a photo"""
    both_faces: bool
    widths: tuple[WidthCounted, ...]
    rectangle: UsableRectangle | None
    marks: tuple[str, ...]
    advice: tuple[str, ...]
    """what would narrow a photo's answer"""
    seasons: SeasonWidths | None
    """where a place and a room were named, and the sheet says its moisture"""
    ready: ReadyForRoom | None
    """for that room"""
