"""People, spots, and what is done to whatever stands somewhere: moved, weighed, noted, photographed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import (
    Decision,
    Fact,
    between,
    filled_lines,
    hashes,
    ids,
    ids_if_any,
    lines,
    moment_if_any,
    texts,
)
from waney.yard.problems import BadAct
from waney.yard.streams import KINDS, Stream, checked_stream, stream

HEAVIEST_KG = 100_000.0
SUMS_WITHIN_KG = 0.002
"""how far a sum may be off after its parts were written with fewer digits"""
STAND_SOMEWHERE = ("log", "piece", "stack")
ARE_WEIGHED = ("log", "piece")
HAVE_A_STORY = tuple(kind for kind in KINDS if kind != "photo")


NAMELESS = "somebody"
"""what a person is called who was forgotten; the guards of the database know this word, so it never changes"""


@dataclass(frozen=True)
class PersonAdded(Fact):
    """Somebody works here; nothing but what to call them."""

    person: str
    called: str

    def __post_init__(self) -> None:
        ids(person=self.person)
        filled_lines(called=self.called)

    def streams(self) -> tuple[Stream, ...]:
        """The person."""
        return (stream("person", self.person),)

    def makes(self) -> Stream:
        """The person."""
        return stream("person", self.person)


@dataclass(frozen=True)
class PersonForgotten(Decision):
    """What somebody was called goes out of the book for good; what they did stays. The owner decides: nothing brings it back."""

    person: str

    def __post_init__(self) -> None:
        ids(person=self.person)

    def streams(self) -> tuple[Stream, ...]:
        """The person."""
        return (stream("person", self.person),)


@dataclass(frozen=True)
class SpotNamed(Fact):
    """A place where wood stands gets its name: shed, rack 2, under the oak."""

    spot: str
    called: str
    within: str = ""

    def __post_init__(self) -> None:
        ids(spot=self.spot)
        ids_if_any(within=self.within)
        filled_lines(called=self.called)
        if self.spot == self.within:
            raise BadAct("a spot cannot lie within itself.")

    def streams(self) -> tuple[Stream, ...]:
        """The spot, and what it lies within."""
        return (stream("spot", self.spot), *([stream("spot", self.within)] if self.within else []))

    def makes(self) -> Stream:
        """The spot."""
        return stream("spot", self.spot)


@dataclass(frozen=True)
class Moved(Fact):
    """A log, a piece or a whole stack stands on another spot now."""

    what: str
    spot: str

    def __post_init__(self) -> None:
        checked_stream(self.what, "what", STAND_SOMEWHERE)
        ids(spot=self.spot)

    def streams(self) -> tuple[Stream, ...]:
        """What was moved, and where to."""
        return Stream(self.what), stream("spot", self.spot)


class Scales(StrEnum):
    """What something was weighed with."""

    PLATFORM = "platform scale"
    HANGING = "hanging scale"
    VEHICLE = "vehicle scale"


@dataclass(frozen=True)
class Weighed(Fact):
    """A log or a piece was on the scales: the weight of the wood alone. by: with which; None is not told.

    ends_kg: what was read, one end after the other with the other end on a block; tare_kg: of that, sling, stickers and
    blocks; mark_kg: between two marks of the weighing scale, or its last digit. Nothing, None: not told.
    """

    what: str
    mass_kg: float
    by: Scales | None = None
    ends_kg: tuple[float, ...] = ()
    tare_kg: float | None = None
    mark_kg: float | None = None

    def __post_init__(self) -> None:
        checked_stream(self.what, "what", ARE_WEIGHED)
        between(0.001, HEAVIEST_KG, mass_kg=self.mass_kg)
        between(0.0, HEAVIEST_KG, tare_kg=self.tare_kg)
        between(0.0001, HEAVIEST_KG, mark_kg=self.mark_kg)
        if len(self.ends_kg) not in (0, 2):
            raise BadAct("a piece is weighed in one reading, or in two, one end after the other.")
        summed = sum(self.ends_kg) - (self.tare_kg or 0.0)
        if self.ends_kg and abs(summed - self.mass_kg) > SUMS_WITHIN_KG:
            raise BadAct(f"both ends less the tare are {summed:g} kg, and yet the wood is told to weigh {self.mass_kg:g} kg.")

    def streams(self) -> tuple[Stream, ...]:
        """What was weighed."""
        return (Stream(self.what),)


@dataclass(frozen=True)
class NoteWritten(Fact):
    """A few words about something."""

    about: str
    words: str

    def __post_init__(self) -> None:
        checked_stream(self.about, "about", HAVE_A_STORY)
        texts(words=self.words)

    def streams(self) -> tuple[Stream, ...]:
        """What it is about."""
        return (Stream(self.about),)


@dataclass(frozen=True)
class PhotoTaken(Fact):
    """A photo that is already among the files; `about` may be told later. wet: None is not told."""

    photo: str
    file: str
    about: str = ""
    taken_at: str = ""
    shows: str = ""
    wet: bool | None = None

    def __post_init__(self) -> None:
        ids(photo=self.photo)
        hashes(file=self.file)
        if self.about:
            checked_stream(self.about, "about", HAVE_A_STORY)
        moment_if_any(taken_at=self.taken_at)
        lines(shows=self.shows)

    def streams(self) -> tuple[Stream, ...]:
        """The photo, and what it is about."""
        return (stream("photo", self.photo), *([Stream(self.about)] if self.about else []))

    def makes(self) -> Stream:
        """The photo."""
        return stream("photo", self.photo)

    def files(self) -> tuple[str, ...]:
        """The picture."""
        return (self.file,)


@dataclass(frozen=True)
class PhotoFiled(Fact):
    """Somebody said what a photo is about. wet: whether the wood in it is; None: what was told before stays."""

    photo: str
    about: str
    wet: bool | None = None

    def __post_init__(self) -> None:
        ids(photo=self.photo)
        checked_stream(self.about, "about", HAVE_A_STORY)

    def streams(self) -> tuple[Stream, ...]:
        """The photo, and what it is about."""
        return stream("photo", self.photo), Stream(self.about)
