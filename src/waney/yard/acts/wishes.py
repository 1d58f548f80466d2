"""Wishes: what somebody would like, until a day."""

from __future__ import annotations

from dataclasses import dataclass

from waney.yard.acts.base import Fact, between, ids, lines
from waney.yard.acts.mill import LONGEST_M, THICKEST_M, WIDEST_M
from waney.yard.acts.promises import day
from waney.yard.streams import Stream, stream


@dataclass(frozen=True)
class WishLeft(Fact):
    """Somebody asks to be told of a piece, until the end of a day. None, empty: anything will do.

    thickness_m, width_m, length_m: at least; most_thickness_m: at most.
    """

    wish: str
    person: str
    until: str
    species: str = ""
    thickness_m: float | None = None
    most_thickness_m: float | None = None
    width_m: float | None = None
    length_m: float | None = None

    def __post_init__(self) -> None:
        ids(wish=self.wish, person=self.person)
        day(until=self.until)
        lines(species=self.species)
        between(0.0, THICKEST_M, thickness_m=self.thickness_m, most_thickness_m=self.most_thickness_m)
        between(0.0, WIDEST_M, width_m=self.width_m)
        between(0.0, LONGEST_M, length_m=self.length_m)

    def streams(self) -> tuple[Stream, ...]:
        """The wish."""
        return (self.makes(),)

    def makes(self) -> Stream:
        """The wish."""
        return stream("wish", self.wish)

    def needs(self) -> tuple[str, ...]:
        """Who asks."""
        return (stream("person", self.person),)


@dataclass(frozen=True)
class WishEnded(Fact):
    """It was met, or is no more."""

    wish: str

    def __post_init__(self) -> None:
        ids(wish=self.wish)

    def streams(self) -> tuple[Stream, ...]:
        """The wish."""
        return (stream("wish", self.wish),)
