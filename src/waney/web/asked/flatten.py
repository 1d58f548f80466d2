"""Flattening a piece: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FlattenAsked:
    """A piece sheet with heights."""

    sheet: str
    metric: bool = False


@dataclass(frozen=True)
class FlattenAnswer:
    """left: thickness; rows: what, and how much; cuts: cut in two first, a sentence each; grid: how many heights it stands on;
    taller: how many times too tall the drawing (SVG) is."""

    left: str
    rows: tuple[tuple[str, str], ...]
    cuts: tuple[str, ...]
    grid: str
    rule: str
    taller: str
    drawing: str
