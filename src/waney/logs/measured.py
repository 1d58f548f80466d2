"""MeasuredLog: what was measured, nothing else. What is missing stays missing here; `logs.doubts` names it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

Point = tuple[float, float]


class Inside(StrEnum):
    """What a diameter or girth was taken over."""

    BARK = "over bark"
    WOOD = "inside bark"


@dataclass(frozen=True)
class RoundReading:
    """What was read round the log at one place: one or two calliper readings at right angles, a girth, or a trace."""

    at_m: float
    """distance from the butt end, 0..length"""
    over: Inside
    diameters_m: tuple[float, ...] = ()
    """one reading or two at right angles"""
    girth_m: float | None = None
    first_clock_h: float = 12.0
    """clock position along which the first diameter was read; 12 = upright"""
    trace_m: tuple[Point, ...] = ()
    """outline in log-frame x, y, about any origin (ends only); empty when there is none"""
    reading_error_m: float = 0.0
    """half of the 90 % range of the diameter; 0 = the instrument's default"""


@dataclass(frozen=True)
class PithReading:
    """Where a pith was seen on an end: offset from the centre of that end's wood, log-frame x, y."""

    at_m: float
    offset_m: Point
    which: int = 0
    """0 for the first or only pith, 1 for the second of a crotch"""


@dataclass(frozen=True)
class BarkReading:
    """Bark by single thickness, or by volume share of the wood; both None when only the species is known."""

    thickness_m: float | None = None
    share_of_wood_volume: float | None = None
    none_left: bool = False
    """debarked: the log lies on wood"""


@dataclass(frozen=True)
class BendReading:
    """Sweep (a bow) or crook (a sharp bend): the largest distance of the centre line from the line of the end centres."""

    depth_m: float
    clock_h: float
    """the side towards which the middle bulges"""
    at_m: float | None = None
    """where a crook bends; None: a gradual sweep, deepest in the middle"""


class Hidden(StrEnum):
    """What can be inside a log besides sound wood."""

    METAL = "metal"
    ROT = "rot"
    HOLLOW = "hollow"
    STAIN = "stain"
    KNOT = "knot"
    CROTCH = "crotch"
    SPLIT = "split"


@dataclass(frozen=True)
class HiddenReading:
    """Something in the log, as a short upright cylinder along z, in the log frame."""

    kind: Hidden
    from_m: float
    to_m: float
    """along the log, from the butt"""
    clock_h: float | None
    """None: about the pith"""
    depth_m: float
    """distance of the nearest point of it from the outside of the wood; ignored when clock_h is None"""
    across_m: float
    """diameter of the zone"""
    chance: float = 1.0
    """1 when sure, less when suspected"""
    note: str = ""

    @property
    def middle_m(self) -> float:
        """Half way along it, from the butt."""
        return (self.from_m + self.to_m) / 2


class From(StrEnum):
    """What a flat's distance was measured from."""

    PITH = "the pith"
    """or the middle of the end, when no pith was read"""
    OPPOSITE = "the flat opposite"


@dataclass(frozen=True)
class FlatReading:
    """A face that was sawn or hewn before, flat from end to end: the way it faces, and its distance from something at both ends.

    The ends are those of the log as it is now, after trimming.
    """

    clock_h: float
    """the side it faces: wood on that side of it is gone"""
    butt_m: float
    top_m: float
    """below zero when what it is measured from lies on the side that is gone"""
    measured_from: From = From.PITH


@dataclass(frozen=True)
class Trimmed:
    """What was cut off the ends, square to the log [m]. Distances elsewhere are still those of the log before trimming."""

    butt_m: float = 0.0
    top_m: float = 0.0


@dataclass(frozen=True)
class MeasuredLog:
    """One log as it was measured. Lengths in metres; clock positions are the butt's."""

    name: str
    species: str
    """a species id of `wood.species`, or "" when not known"""
    length_m: float
    rounds: tuple[RoundReading, ...]
    """ordered by at_m; at least one"""
    piths: tuple[PithReading, ...] = ()
    bark: BarkReading | None = None
    bends: tuple[BendReading, ...] = ()
    hidden: tuple[HiddenReading, ...] = ()
    butt_log: bool | None = None
    """True: the first length from the ground; None: not said"""
    felled_on: date | None = None
    place: str = ""
    paid_cents: int | None = None
    notes: str = ""
    flats: tuple[FlatReading, ...] = ()
    """what was sawn or hewn off before"""
    trimmed: Trimmed = Trimmed()
    sheet_sha256: str = ""
    """hash of the sheet text it was read from; "" when it was built in code"""
