"""Ink: with what a drawing is made, on screen and on paper, and how heavy each kind of line is."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Ink:
    """Colours and letters of one medium. No colour ever stands for a product, a grade or a thickness."""

    ground: str
    ink: str
    accent: str
    """the line that is being talked about, never the only sign of it"""
    letters: str
    """font family"""


SCREEN = Ink(ground="#FBF8F1", ink="#1C1A17", accent="#1B4F8A", letters="sans-serif")
PAPER = Ink(ground="#FFFFFF", ink="#000000", accent="#000000", letters="DejaVu Sans Mono")


@dataclass(frozen=True)
class Stroke:
    """How a line is drawn. Widths and dashes in mm."""

    width: float
    dash: str = ""
    strength: float = 1.0
    """below 1 the ink is thinned: only for what nothing depends on"""
    accent: bool = False


RING = Stroke(0.15, strength=0.45)
BARK = Stroke(0.25)
WOOD = Stroke(0.45)
FAR_END = Stroke(0.25, dash="1.6 1.2")
CHALK = Stroke(0.8)
LATER = Stroke(0.35, dash="2.4 1.2")
"""a cut of another lie"""
CRAYON = Stroke(1.3, accent=True)
EDGE = Stroke(0.3)
HATCH = Stroke(0.22)
HATCH_EDGE = Stroke(0.35)
DIMENSION = Stroke(0.22)
BED = Stroke(0.9)
PITH_LINE = Stroke(0.3, dash="4 1 0.6 1")

SMALL = 3.3
"""least height of letters [mm]: about 9 pt"""
PLAIN = 4.1
LARGE = 5.2
