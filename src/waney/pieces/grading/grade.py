"""Grade of a board from its face map: what each face makes, the grade, and what a better one lacks. Advice, not a grade stamp."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from waney.figures.problem import Problem
from waney.pieces.face_map import Face, FaceMap, Mark, MarkKind
from waney.pieces.grading.cuttings import Blank, Cuttings, best_cuttings, full_width_cuttings
from waney.pieces.grading.rules import KILN_DRIED_M, UNIT_IN2, GradeRule, Way, grade_rules
from waney.pieces.measures import FOOT_M, INCH_M, surface_measure_ft2

COMMON = ("1C", "2A", "2B", "3A", "3B")
END_M = FOOT_M
"""Each end foot of FAS counts for itself."""
END_SPOILED = 0.25
"""Share of an end foot that may be spoiled. Source: nhla-summary."""

DIVERGES = 1.0 / 12.0
"""A split may stray so much across over its length. Source: nhla-summary."""
STRAIGHT_M = 0.25 * INCH_M
"""What a straight crack spoils across; as far as the box round it is wider, it strays (ours, a choice: a box says no more)."""


class NoBoard(Problem):
    """Sizes that no board has."""


@dataclass(frozen=True)
class FaceCut:
    """How a face does in one grade: the way that was met, or the one that came nearest."""

    face: Face
    rule: GradeRule
    way: Way | None
    """None: the surface measure is too small for the grade"""
    found: Cuttings

    @property
    def met(self) -> bool:
        """Whether the units are there."""
        return self.way is not None and self.found.units >= self.way.units - 1e-9


@dataclass(frozen=True)
class Grading:
    """grade: None below every grade. cuts: both faces in the grade that decided. lacks: why no better grade. clear_share: of the
    poorer face, in cuttings of the grade (of the lowest, below all), of the surface measure."""

    grade: GradeRule | None
    surface_measure: int
    cuts: tuple[FaceCut, FaceCut]
    lacks: tuple[str, ...]

    @property
    def clear_share(self) -> float:
        """Least share of the surface measure in cuttings, of both faces."""
        least = min(cut.found.units for cut in self.cuts)
        return least / (UNIT_IN2 * self.surface_measure) if self.surface_measure else 0.0

    @property
    def exact(self) -> bool:
        """Whether both faces' cuttings are proved to be the best."""
        return all(cut.found.exact for cut in self.cuts)


@dataclass(frozen=True)
class Board:
    """An edged board, or what edging would leave of a piece; marks in its face map's frame [m]."""

    length_m: float
    width_m: float
    faces: FaceMap
    kiln_dried: bool = False

    def __post_init__(self) -> None:
        if not (0.0 < self.length_m <= 20.0 and 0.0 < self.width_m <= 3.0):
            raise NoBoard(f"A board {self.length_m:g} m by {self.width_m:g} m cannot be; look at length and width.")

    @property
    def surface_measure(self) -> int:
        """Square feet, whole."""
        return surface_measure_ft2(self.width_m, self.length_m)


def grade(board: Board) -> Grading:
    """The best grade that the rules give the board. Raises TooManyMarks."""
    return _Grader(board).graded()


@dataclass(frozen=True)
class _Grader:
    board: Board

    @cached_property
    def _known(self) -> dict[tuple[object, ...], Cuttings]:
        return {}

    def graded(self) -> Grading:
        lacks: list[str] = []
        for short, judged in (("FAS", self._fas()), ("F1F", self._one_face("F1F")), ("Selects", self._one_face("Selects"))):
            if isinstance(judged, str):
                lacks.append(f"{grade_rules()[short].name}: {judged}")
            else:
                return self._answer(short, judged, lacks)
        for short in COMMON:
            if self._small(short):
                lacks.append(f"{grade_rules()[short].name}: {self._small(short)}")
                continue
            cuts = self._both(short)
            if all(cut.met for cut in cuts):
                return self._answer(short, cuts, lacks)
            lacks.append(f"{grade_rules()[short].name}: {_short_of(cuts)}")
        return Grading(None, self.board.surface_measure, self._both("3B"), tuple(lacks))

    def _answer(self, short: str, cuts: tuple[FaceCut, FaceCut], lacks: list[str]) -> Grading:
        return Grading(grade_rules()[short], self.board.surface_measure, cuts, tuple(lacks))

    def _small(self, short: str) -> str:
        rule, board = grade_rules()[short], self.board
        allowed = KILN_DRIED_M if board.kiln_dried else 0.0
        if rule.big_enough(board.width_m, board.length_m, allowed_m=allowed):
            return ""
        return f"needs a board {rule.least_width_m / INCH_M:g} in wide and {rule.least_length_m / FOOT_M:g} ft long."

    def _fas(self) -> tuple[FaceCut, FaceCut] | str:
        """Both faces make it and break no limit, or why not."""
        if self._small("FAS"):
            return self._small("FAS")
        cuts = self._both("FAS")
        if not all(cut.met for cut in cuts):
            return _short_of(cuts)
        return next((f"face {face}: {broken}" for face in Face for broken in limits_broken(self.board, face)), cuts)

    def _one_face(self, short: str) -> tuple[FaceCut, FaceCut] | str:
        """The better face makes it and the other one No. 1 Common, or why not."""
        if self._small(short):
            return self._small(short)
        said = []
        for face in Face:
            better, poorer = self._cut("FAS" if short == "F1F" else short, face), self._cut("1C", face.other)
            broken = next(self._one_face_broken(face), "")
            if better.met and poorer.met and not broken:
                return (better, poorer) if face is Face.A else (poorer, better)
            said.append(broken if better.met and poorer.met else _short_of((better, poorer)))
        return said[0] if said[0] == said[1] else " or ".join(word.rstrip(".") for word in said) + "."

    def _one_face_broken(self, better: Face) -> Iterator[str]:
        """Limits that one better face breaks: of FAS on it, of wane on the other; boards under 6 in hold all of them on both.

        Source: nhla-summary."""
        rule, board = grade_rules()["F1F"], self.board
        narrow = not rule.big_enough(board.width_m, rule.least_length_m, allowed_m=KILN_DRIED_M if board.kiln_dried else 0.0)
        for face in tuple(Face) if narrow else (better,):
            yield from (f"face {face}: {broken}" for broken in limits_broken(board, face))
        for face in tuple(Face) if narrow else (better.other,):
            yield from (f"face {face}: {broken}" for broken in _wane_broken(board, face))

    def _both(self, short: str) -> tuple[FaceCut, FaceCut]:
        return self._cut(short, Face.A), self._cut(short, Face.B)

    def _cut(self, short: str, face: Face) -> FaceCut:
        """The first way that is met, else the one that comes nearest in units."""
        rule = grade_rules()[short]
        tried = [FaceCut(face, rule, way, self._found(rule, face, way)) for way in rule.ways(self.board.surface_measure)]
        if not tried:
            return FaceCut(face, rule, None, Cuttings((), True, 0.0))
        met = [cut for cut in tried if cut.met]
        return met[0] if met else max(tried, key=lambda cut: cut.found.units - (cut.way.units if cut.way else 0.0))

    def _found(self, rule: GradeRule, face: Face, way: Way) -> Cuttings:
        marks = self.board.faces.not_sound if rule.sound else self.board.faces.not_clear(face)
        key = (rule.least_cuttings_m, rule.least_area_m2, marks, way.cuttings, way.full_width)
        if key not in self._known:
            boxes = [(m.x0_m, m.x1_m, m.y0_m, m.y1_m) for m in marks]
            blank = Blank.of(self.board.length_m, self.board.width_m, rule.least_cuttings_m, boxes, rule.least_area_m2)
            full = way.full_width and way.cuttings is not None
            self._known[key] = full_width_cuttings(blank, way.cuttings or 0) if full else best_cuttings(blank, way.cuttings)
        return self._known[key]


def _short_of(cuts: tuple[FaceCut, FaceCut]) -> str:
    """What the worse of two faces lacks, as the end of a sentence."""
    lacking = [cut for cut in cuts if not cut.met]
    if not lacking:
        return ""
    cut = max(lacking, key=lambda c: (c.way.units if c.way else 1e9) - c.found.units)
    if cut.way is None:
        return "the surface measure is too small."
    number = "any number of" if cut.way.cuttings is None else f"at most {cut.way.cuttings}"
    return (
        f"face {cut.face} gives {cut.found.units:.1f} of {cut.way.units:g} units in {number} "
        f"cutting{'s' if cut.way.cuttings != 1 else ''} ({cut.rule.short})."
    )


def limits_broken(board: Board, face: Face) -> Iterator[str]:
    """What a face holds beyond the limits of FAS, as sentences. Source: nhla-summary."""
    measure, faces = board.surface_measure, board.faces
    pith = sum(mark.x1_m - mark.x0_m for mark in faces.of(face, MarkKind.PITH)) / INCH_M
    if pith > measure:
        yield f"{pith:.0f} in of pith, not over {measure} in."
    yield from _long_wane(board, face)
    for mark in faces.of(face, MarkKind.KNOT, MarkKind.HOLE):
        across = mark.mean_diameter_m / INCH_M
        if across > measure / 3.0 + 1e-9:
            yield f"a {mark.kind} {across:.1f} in across, not over {measure / 3.0:.1f} in."
    cracks = faces.of(face, MarkKind.CRACK)
    for mark in cracks:
        strays = mark.y1_m - mark.y0_m - STRAIGHT_M
        if strays > DIVERGES * (mark.x1_m - mark.x0_m) + 1e-9:
            long = (mark.x1_m - mark.x0_m) / INCH_M
            yield f"a crack that strays {strays / INCH_M:.1f} in over {long:.1f} in, not over 1 in 12."
    splits = sum(mark.x1_m - mark.x0_m for mark in cracks) / INCH_M
    if splits > max(2 * measure, 12):
        yield f"{splits:.0f} in of cracks, not over {max(2 * measure, 12)} in."
    yield from _ends_broken(board, face)


def _wane_broken(board: Board, face: Face) -> Iterator[str]:
    """Wane beyond what the No. 1 Common face of FAS one face may hold: both limits where the chart says "or" (careful)."""
    wane = board.faces.of(face, MarkKind.WANE)
    widths = (sum(_on_board_m(board, each) for each in wane if each.x0_m <= mark.x0_m < each.x1_m) for mark in wane)
    if max(widths, default=0.0) > board.width_m / 3.0 + 1e-9:
        yield "wane over a third of the width."
    yield from _long_wane(board, face)


def _long_wane(board: Board, face: Face) -> Iterator[str]:
    for edge in (_at_edge(board, face, low=True), _at_edge(board, face, low=False)):
        if sum(mark.x1_m - mark.x0_m for mark in edge) > board.length_m / 2.0:
            yield "wane on one edge over half of the length."


def _on_board_m(board: Board, mark: Mark) -> float:
    """How far a mark reaches across the board."""
    return max(0.0, min(mark.y1_m, board.width_m) - max(mark.y0_m, 0.0))


def _at_edge(board: Board, face: Face, *, low: bool) -> list[Mark]:
    wane = board.faces.of(face, MarkKind.WANE)
    return [mark for mark in wane if (mark.y0_m <= 1e-6 if low else mark.y1_m >= board.width_m - 1e-6)]


def _ends_broken(board: Board, face: Face) -> Iterator[str]:
    """An end foot with too much that is not clear (boxes that overlap count twice: the careful side)."""
    marks = board.faces.not_clear(face)
    for name, start, end in (("marked", 0.0, END_M), ("far", board.length_m - END_M, board.length_m)):
        spoiled = sum(max(0.0, min(mark.x1_m, end) - max(mark.x0_m, start)) * _on_board_m(board, mark) for mark in marks)
        if spoiled > END_SPOILED * END_M * board.width_m + 1e-9:
            yield f"more than a quarter of the foot at the {name} end is spoiled."
