"""Tally: what came off a log, piece by piece in board feet, counted by rules that are printed beside it.

A piece counts to the nearest tenth of a board foot (a half up), so that a sum is what the printed lines sum to.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor

from waney.pieces.measures import INCH_M, board_feet
from waney.trade.counted import By, Counted

TENTHS = 10
QUARTER_M = INCH_M / 4.0
SLACK = 1e-6
"""of a quarter or a tenth: a size that was typed in millimetres misses neither by what was rounded away"""


@dataclass(frozen=True)
class Sawn:
    """A piece as it was measured off the saw [m]; width_m: middle of its narrowest and widest place. None: not measured."""

    name: str
    thickness_m: float | None = None
    width_m: float | None = None
    length_m: float | None = None
    spoiled: bool = False


@dataclass(frozen=True)
class PieceTally:
    """One line. counted_m: the thickness that counts; tenths: of a board foot, 0 for a spoiled piece."""

    piece: Sawn
    counted_m: float
    tenths: int

    @property
    def board_feet(self) -> float:
        """Board feet."""
        return self.tenths / TENTHS


@dataclass(frozen=True)
class LogTally:
    """All of one log. unmeasured: names of pieces of which a size is missing; they do not count yet."""

    log: str
    lines: tuple[PieceTally, ...]
    unmeasured: tuple[str, ...]

    @property
    def tenths(self) -> int:
        """Of a board foot, together."""
        return sum(line.tenths for line in self.lines)

    @property
    def counted(self) -> Counted:
        """Board feet of tally."""
        pieces = sum(not line.piece.spoiled for line in self.lines)
        return Counted(self.tenths / TENTHS, By.TALLY, f"{pieces} piece{'' if pieces == 1 else 's'}")


def log_tally(log: str, pieces: Iterable[Sawn], allowance_m: float | None = None) -> LogTally:
    """Tally a log; allowance_m: as `counted_thickness_m`."""
    lines, unmeasured = [], []
    for piece in pieces:
        if piece.spoiled:
            lines.append(PieceTally(piece, 0.0, 0))
        elif piece.thickness_m is None or piece.width_m is None or piece.length_m is None:
            unmeasured.append(piece.name)
        else:
            counted = counted_thickness_m(piece.thickness_m, allowance_m)
            feet = board_feet(piece.width_m, piece.length_m, counted, thin_counts_as_inch=True)
            lines.append(PieceTally(piece, counted, floor(feet * TENTHS + 0.5 + SLACK)))
    return LogTally(log, tuple(lines), tuple(unmeasured))


def counted_thickness_m(sawn_m: float, allowance_m: float | None) -> float:
    """The thickness that a tally counts by: as sawn, where no allowance was agreed; else what is left after it, down to a whole
    quarter inch. Under an inch counts as an inch (nhla-summary).

    >>> [round(counted_thickness_m(inches * INCH_M, 0.125 * INCH_M) / INCH_M, 4) for inches in (1.125, 1.375, 2.25, 0.75)]
    [1.0, 1.25, 2.0, 1.0]
    """
    left = sawn_m if allowance_m is None else floor((sawn_m - allowance_m) / QUARTER_M + SLACK) * QUARTER_M
    return max(left, INCH_M)


def counting_rule(allowance_m: float | None, allowance: str = "") -> str:
    """How boards are counted, in a sentence; allowance: as the shop writes it."""
    thick = (
        "its thickness as sawn"
        if allowance_m is None
        else f"its thickness as sawn less {allowance}, then down to a whole quarter inch"
    )
    return (
        f"A board counts its length times the middle of its narrowest and widest place times {thick}, under an inch as an inch; "
        "each to the nearest tenth of a board foot. What was spoiled at the saw does not count."
    )


def mostly_thick(lines: Iterable[PieceTally]) -> tuple[float, float] | None:
    """Thickness as sawn and as counted [m] of the boards that most of a tally is; None where nothing counts."""
    feet: dict[tuple[float, float], int] = {}
    for line in lines:
        if line.tenths and line.piece.thickness_m is not None:
            both = (line.piece.thickness_m, line.counted_m)
            feet[both] = feet.get(both, 0) + line.tenths
    return max(feet, key=lambda both: (feet[both], both), default=None)
