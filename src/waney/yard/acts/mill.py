"""The sawing day: what came off and what happened at the mill."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Fact, between, day_if_any, ids, ids_if_any, lines, name_if_any, rigid_if_any
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, stream

THICKEST_M, WIDEST_M, LONGEST_M = 3.0, 4.0, 40.0
"""beyond these somebody typed millimetres for metres"""


@dataclass(frozen=True)
class DayOpened(Fact):
    """A day at the mill begins."""

    day: str
    on: str

    def __post_init__(self) -> None:
        ids(day=self.day)
        day_if_any(on=self.on)
        if not self.on:
            raise BadAct("a sawing day has a date; write it as 2026-05-04.")

    def streams(self) -> tuple[Stream, ...]:
        """The day."""
        return (stream("day", self.day),)

    def makes(self) -> Stream:
        """The day."""
        return stream("day", self.day)


@dataclass(frozen=True)
class DayClosed(Fact):
    """The mill is swept and the day over."""

    day: str

    def __post_init__(self) -> None:
        ids(day=self.day)

    def streams(self) -> tuple[Stream, ...]:
        """The day."""
        return (stream("day", self.day),)


@dataclass(frozen=True)
class PiecesGoTo(Fact):
    """From now on what comes off on this day is carried to a spot; no spot: nobody said where."""

    day: str
    spot: str = ""

    def __post_init__(self) -> None:
        ids(day=self.day)
        ids_if_any(spot=self.spot)

    def streams(self) -> tuple[Stream, ...]:
        """The day."""
        return (stream("day", self.day),)

    def needs(self) -> tuple[str, ...]:
        """The day and the spot."""
        return (*self.streams(), *([stream("spot", self.spot)] if self.spot else []))


class Off(StrEnum):
    """How a piece came off, against what was meant."""

    AS_MEANT = "as meant"
    THICK = "thick"
    THIN = "thin"
    WEDGE = "wedge"
    SHORT = "short"
    SPOILED = "spoiled"
    CANT = "kept as a cant"


class Transform(StrEnum):
    """What was done to a piece when it became several."""

    SAWN_AGAIN = "sawn again"
    EDGED = "edged"
    CROSSCUT = "crosscut"
    RIPPED = "ripped"


@dataclass(frozen=True)
class CameOff(Fact):
    """A piece came off the saw. What is not known is left out: log, plan, sizes, its place in the log.

    cut: number of the pass in the plan; order: place in the boule, from the first off; height_m: bed height of the blade;
    off_by_m: by how much it is thicker than what was to come off at the height that was wanted (after another miss that is not
    what the plan has); thickness_m: with all of it; at: rigid map from the piece's frame to the log's; transform: what was done
    to the parent. No name: the book gives the next one.
    """

    piece: str
    day: str = ""
    log: str = ""
    plan: str = ""
    parent: str = ""
    name: str = ""
    species: str = ""
    cut: int | None = None
    order: int | None = None
    how: Off = Off.AS_MEANT
    off_by_m: float | None = None
    height_m: float | None = None
    thickness_m: float | None = None
    length_m: float | None = None
    widths_m: tuple[float, ...] = ()
    at: tuple[float, ...] = ()
    product: str = ""
    spot: str = ""
    transform: Transform | None = None

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        ids_if_any(day=self.day, log=self.log, plan=self.plan, parent=self.parent, spot=self.spot)
        name_if_any(self.name)
        lines(species=self.species, product=self.product)
        between(0.0, 10_000, cut=self.cut, order=self.order)
        between(-THICKEST_M, THICKEST_M, off_by_m=self.off_by_m)
        between(0.0, THICKEST_M, height_m=self.height_m)
        sizes_within(self.thickness_m, self.length_m, self.widths_m)
        rigid_if_any(self.at)
        if self.parent == self.piece:
            raise BadAct("a piece cannot come off itself.")
        if self.transform and not self.parent:
            raise BadAct("what was done to a piece needs the piece.")
        if self.at and not self.log:
            raise BadAct("a place in the log needs the log.")

    def streams(self) -> tuple[Stream, ...]:
        """The piece; it counts in its day, its log and what it was sawn from."""
        others = (("day", self.day), ("log", self.log), ("piece", self.parent))
        return (self.makes(), *(stream(kind, ident) for kind, ident in others if ident))

    def makes(self) -> Stream:
        """The piece."""
        return stream("piece", self.piece)

    def needs(self) -> tuple[str, ...]:
        """Day, log, parent, plan and spot, as far as they are told."""
        others = (("plan", self.plan), ("spot", self.spot))
        return (*self.streams()[1:], *(stream(kind, ident) for kind, ident in others if ident))


def sizes_within(thickness_m: float | None, length_m: float | None, widths_m: tuple[float, ...]) -> None:
    """Sizes of a piece are sizes of a piece. Raises BadAct."""
    between(0.0005, THICKEST_M, thickness_m=thickness_m)
    between(0.01, LONGEST_M, length_m=length_m)
    for width in widths_m:
        between(0.001, WIDEST_M, width_m=width)


class Happened(StrEnum):
    """What can happen at the mill besides a cut."""

    LAID = "laid on the bed"
    OUTSIDE = "outside slab off"
    EDGED = "edged"
    TURNED = "turned"
    CLAMPED_AGAIN = "moved or clamped again"
    METAL = "found metal"
    ROT = "found rot"
    WANDERED = "blade wandered"
    BLADE = "blade changed"


@dataclass(frozen=True)
class AtTheMill(Fact):
    """Something happened with a log on the bed.

    plan, step: which step of a saw plan it was, counted from 0; off_by_m: how much thicker the slice was than meant;
    roll_deg: how far it was turned, positive clockwise from the butt; pith_m: its two heights over the bed as read, butt first;
    along_m: distance from the butt, clock: where on the end (0 to 12), of what was found; piece: in which it shows.
    """

    what: Happened
    day: str
    log: str = ""
    piece: str = ""
    roll_deg: float | None = None
    pith_m: tuple[float, ...] = ()
    along_m: float | None = None
    clock: float | None = None
    words: str = ""
    plan: str = ""
    step: int | None = None
    off_by_m: float | None = None

    def __post_init__(self) -> None:
        ids(day=self.day)
        ids_if_any(log=self.log, piece=self.piece, plan=self.plan)
        between(0.0, 10_000, step=self.step)
        between(-THICKEST_M, THICKEST_M, off_by_m=self.off_by_m)
        between(-360.0, 360.0, roll_deg=self.roll_deg)
        between(0.0, LONGEST_M, along_m=self.along_m)
        between(0.0, 12.0, clock=self.clock)
        for height in self.pith_m:
            between(0.0, THICKEST_M, pith_m=height)
        lines(words=self.words)
        if len(self.pith_m) not in (0, 2):
            raise BadAct("the pith is read at the butt and at the top: two heights, or none.")

    def streams(self) -> tuple[Stream, ...]:
        """The day; it counts in the log and the piece."""
        others = (("log", self.log), ("piece", self.piece))
        return (stream("day", self.day), *(stream(kind, ident) for kind, ident in others if ident))
