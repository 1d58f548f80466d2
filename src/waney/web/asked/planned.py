"""The edges of a piece as its plan has them: what a worker answers to the question about its place in the log (`PlaceAsked`)."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class EdgesPlanned:
    """Both edges of both faces at one place along, as distances from the straight line; empty where that face has no wood."""

    at: str
    left: str
    right: str
    under_left: str
    under_right: str


@dataclass(frozen=True)
class PlannedAnswer:
    """rows: what, and from where to where; stations: places along; drawing: both faces from above (SVG); sentence: why there is
    no outline, empty where there is one."""

    rows: tuple[tuple[str, str], ...] = ()
    stations: tuple[EdgesPlanned, ...] = ()
    drawing: str = ""
    sentence: str = ""
