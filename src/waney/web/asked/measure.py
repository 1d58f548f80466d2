"""A piece measured as it lies: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.pieces.as_counted import AsCounted


@dataclass(frozen=True)
class MeasureAsked:
    """A piece sheet, and the picture that its photo names, in base64; empty for none."""

    sheet: str
    picture: str = ""
    metric: bool = False


@dataclass(frozen=True)
class MeasureAnswer:
    """rows: what, and how much; widths: rule, width, surface measure, board feet as measured and by its name; advice: what would
    narrow a photo's answer; drawing: the piece from above (SVG); sizes: what the piece is counted by from now on."""

    rows: tuple[tuple[str, str], ...]
    widths: tuple[tuple[str, str, str, str, str], ...]
    advice: tuple[str, ...]
    drawing: str
    sizes: AsCounted
