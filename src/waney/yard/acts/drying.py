"""How a stack stands and dries: since when, under what, to what; bark and ends, pieces to weigh, sample boards, prongs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Fact, between, day_if_any, ids
from waney.yard.acts.people_places import HEAVIEST_KG
from waney.yard.acts.stacks import HAVE_MOISTURE, THICKEST_STICKER_M, each_once
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_stream, stream

LIGHTEST_KG = 0.0001
"""a tenth of a gram: what sections are weighed to"""
MOST_SECTIONS = 6


class Shelter(StrEnum):
    """What a stack stands under; the words are those of `drying.outdoors.Exposure`."""

    OPEN = "in the open, top covered"
    ROOF = "under a roof"
    FAN = "under a roof, with a fan"
    SUN = "in a chamber that the sun warms"
    DEHUMIDIFIER = "in a chamber with a dehumidifier"


FASTEST_M_S = 20.0


@dataclass(frozen=True)
class ChamberRead:
    """What was read in the chamber that a stack stands in; None: not told. inside_c, humidity [°C, -]: what a dehumidifier holds;
    day, night [°C]: two thermometers at one time, inside and outside, where the sun warms it; day_humidity: inside, by day [-];
    speed_m_s: air between the layers."""

    inside_c: float | None = None
    humidity: float | None = None
    day_inside_c: float | None = None
    day_outside_c: float | None = None
    night_inside_c: float | None = None
    night_outside_c: float | None = None
    day_humidity: float | None = None
    speed_m_s: float | None = None

    def __post_init__(self) -> None:
        between(-10.0, 100.0, inside=self.inside_c, day_inside=self.day_inside_c, night_inside=self.night_inside_c)
        between(-50.0, 60.0, day_outside=self.day_outside_c, night_outside=self.night_outside_c)
        between(0.05, 1.0, humidity=self.humidity, day_humidity=self.day_humidity)
        between(0.05, FASTEST_M_S, speed_m_s=self.speed_m_s)
        if not self.of_dehumidifier and not self.of_sun:
            raise BadAct(
                "a chamber with a dehumidifier takes temperature and humidity as read inside; one that the sun warms takes two "
                "thermometers, inside and outside, by day and by night, all four."
            )

    @property
    def of_dehumidifier(self) -> bool:
        """Whether it tells what a dehumidifier holds."""
        return None not in (self.inside_c, self.humidity)

    @property
    def of_sun(self) -> bool:
        """Whether it tells what the sun makes of it."""
        return None not in (self.day_inside_c, self.day_outside_c, self.night_inside_c, self.night_outside_c)


@dataclass(frozen=True)
class StackStood(Fact):
    """How a stack stands, as far as somebody told: since: the day it was put on stickers; wanted_mc: to which moisture it is to
    come [-]; stickers as when it was built; wide_m: how wide it is, the way the air crosses it; chamber: what was read in it.
    None, "": what was told before stays."""

    stack: str
    since: str = ""
    shelter: Shelter | None = None
    wanted_mc: float | None = None
    sticker_m: float | None = None
    apart_m: float | None = None
    chamber: ChamberRead | None = None
    wide_m: float | None = None

    def __post_init__(self) -> None:
        ids(stack=self.stack)
        day_if_any(since=self.since)
        between(0.01, 1.0, wanted_mc=self.wanted_mc)
        between(0.001, THICKEST_STICKER_M, sticker_m=self.sticker_m)
        between(0.05, 5.0, apart_m=self.apart_m)
        between(0.1, 10.0, wide_m=self.wide_m)

    def streams(self) -> tuple[Stream, ...]:
        """The stack."""
        return (stream("stack", self.stack),)


class Bark(StrEnum):
    """Whether there is bark on the edges of a piece."""

    ON = "on"
    OFF = "off"
    NOT_KNOWN = "not known"


class Ends(StrEnum):
    """How the ends of a piece are."""

    COATED = "coated"
    BARE = "bare"
    NOT_KNOWN = "not known"


@dataclass(frozen=True)
class SidesTold(Fact):
    """Bark and ends of pieces; the last word counts. None: what was told before stays; since: empty, the day it was told."""

    pieces: tuple[str, ...]
    bark: Bark | None = None
    ends: Ends | None = None
    since: str = ""

    def __post_init__(self) -> None:
        each_once(self.pieces)
        day_if_any(since=self.since)
        if self.bark is None and self.ends is None:
            raise BadAct("nothing is told of bark or ends; choose one of both.")

    def streams(self) -> tuple[Stream, ...]:
        """Each piece."""
        return tuple(stream("piece", each) for each in self.pieces)


@dataclass(frozen=True)
class ToWeigh(Fact):
    """These pieces of a stack are weighed every week, and no others of it."""

    stack: str
    pieces: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        ids(stack=self.stack)
        each_once(self.pieces, 0)

    def streams(self) -> tuple[Stream, ...]:
        """The stack and each piece."""
        return (stream("stack", self.stack), *(stream("piece", each) for each in self.pieces))


@dataclass(frozen=True)
class SampleCut(Fact):
    """Moisture sections were cut from a piece; what is left is a sample board, weighed at once.

    wet_kg: the sections as cut, in their order; mark_kg: between two marks of the weighing scale; None is not told.
    """

    piece: str
    mass_kg: float
    wet_kg: tuple[float, ...]
    mark_kg: float | None = None

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        between(0.001, HEAVIEST_KG, mass_kg=self.mass_kg)
        between(LIGHTEST_KG, HEAVIEST_KG, mark_kg=self.mark_kg)
        sections(self.wet_kg)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


@dataclass(frozen=True)
class SectionsDried(Fact):
    """The sections of a sample board came out of the oven at constant weight, in the order in which they were cut."""

    piece: str
    dry_kg: tuple[float, ...]

    def __post_init__(self) -> None:
        ids(piece=self.piece)
        sections(self.dry_kg)

    def streams(self) -> tuple[Stream, ...]:
        """The piece."""
        return (stream("piece", self.piece),)


def sections(weights_kg: tuple[float, ...]) -> None:
    """Weights of moisture sections: two or a few more. Raises BadAct."""
    if not 2 <= len(weights_kg) <= MOST_SECTIONS:
        raise BadAct(f"a sample board has 2 to {MOST_SECTIONS} moisture sections; one alone may be pith, sap or a knot.")
    for each in weights_kg:
        between(LIGHTEST_KG, HEAVIEST_KG, section=each)


class Prongs(StrEnum):
    """What the prongs of a slotted section did."""

    IN = "bent in, towards each other"
    STRAIGHT = "stayed straight"
    OUT = "bent out, away from each other"


@dataclass(frozen=True)
class ProngsSeen(Fact):
    """A prong test: what was seen; hours: how long after the saw, None is not told."""

    what: str
    seen: Prongs
    hours: float | None = None

    def __post_init__(self) -> None:
        checked_stream(self.what, "what", HAVE_MOISTURE)
        between(0.0, 1000.0, hours=self.hours)

    def streams(self) -> tuple[Stream, ...]:
        """What it was cut from."""
        return (Stream(self.what),)
