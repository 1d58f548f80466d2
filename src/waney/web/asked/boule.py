"""A jumbled boule: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.pieces.boule_order import BouleOrder


@dataclass(frozen=True)
class JumbledPiece:
    """A piece: its sheet (empty: none) and the picture that its photo names, in base64; first, second: what was typed of the
    widths of its faces, and the same read [m]."""

    id: str
    name: str
    sheet: str
    picture: str
    first: str
    second: str
    first_m: tuple[float, ...]
    second_m: tuple[float, ...]


@dataclass(frozen=True)
class BouleAsked:
    """The pieces as they stand in the book, and the plan that is chosen for their log; empty: none."""

    pieces: tuple[JumbledPiece, ...]
    plan: str = ""


class Ends(StrEnum):
    """What the plan of a log says of the ends of a row."""

    NO_PLAN = ""
    TOLD = "by the plan"
    """the row begins with what came off first"""
    ALIKE = "the plan does not tell them apart"


@dataclass(frozen=True)
class BouleAnswer:
    """order: None where none was found, and then the sentence says why; left_out: pieces that were not weighed up, and why;
    outlined: of how many in the order the outlines of both faces were read; ends: how the ends of the row were told apart."""

    order: BouleOrder | None
    sentence: str = ""
    left_out: tuple[tuple[str, str], ...] = ()
    outlined: int = 0
    ends: Ends = Ends.NO_PLAN

    @property
    def by_outlines(self) -> bool:
        """Whether all of it was found by outlines."""
        return self.order is not None and self.outlined == len(self.order.places)

    @property
    def by(self) -> str:
        """What the order was found by, as somebody may say how they know; empty where none was."""
        if self.order is None:
            return ""
        if self.by_outlines:
            return "by the outlines of their faces"
        widths = "by the widths of their faces"
        return f"{widths}, {self.outlined} of {len(self.order.places)} by both outlines" if self.outlined else widths
