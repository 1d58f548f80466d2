"""The pile of a load: what is asked of a worker, and what it draws."""

from __future__ import annotations

from dataclasses import dataclass

from waney.web.asked.paper import PieceOnPaper


@dataclass(frozen=True)
class PileAsked:
    """Which pieces, into which kiln of the kilns sheet; metric: how it is written."""

    kilns: str
    kiln: str
    pieces: tuple[PieceOnPaper, ...]
    metric: bool


@dataclass(frozen=True)
class PileDrawn:
    """pictures: SVG and what it shows, from the front and then layer by layer; says: how high and how heavy; left: pieces that
    are not drawn, and why; sentence: why there is no drawing."""

    pictures: tuple[tuple[str, str], ...] = ()
    says: str = ""
    left: tuple[tuple[str, str], ...] = ()
    sentence: str = ""
