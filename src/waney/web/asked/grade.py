"""The grade of a piece: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class GradeAsked:
    """A piece sheet, and the picture that its photo names, in base64; empty for none."""

    sheet: str
    picture: str = ""
    metric: bool = False


@dataclass(frozen=True)
class FaceSaid:
    """One face in the grade that decided. gave: units found of those needed; doubt: where cuttings are not proved the best."""

    face: str
    grade: str
    gave: str
    doubt: str
    cuttings: tuple[str, ...]


@dataclass(frozen=True)
class GradeAnswer:
    """grade: its name, or that there is none; measure: surface measure [ft2]; board: what was graded; marks: how many lie on it;
    lacks: why no better grade; rule: where it comes from; drawing: both faces with their cuttings (SVG)."""

    grade: str
    measure: int
    clear: str
    board: str
    marks: int
    faces: tuple[FaceSaid, ...]
    lacks: tuple[str, ...]
    rule: str
    drawing: str
