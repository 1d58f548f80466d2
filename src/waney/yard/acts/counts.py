"""Counting the stock: a count begins, tags are seen, it ends."""

from __future__ import annotations

from dataclasses import dataclass

from waney.yard.acts.base import Fact, ids, ids_if_any
from waney.yard.names import read_name
from waney.yard.streams import Stream, stream


@dataclass(frozen=True)
class CountBegun(Fact):
    """Somebody begins to look which pieces are there. spot: it and all within it; empty: the whole yard."""

    count: str
    spot: str = ""

    def __post_init__(self) -> None:
        ids(count=self.count)
        ids_if_any(spot=self.spot)

    def streams(self) -> tuple[Stream, ...]:
        """The count, and where it goes on."""
        return (self.makes(), *([stream("spot", self.spot)] if self.spot else []))

    def makes(self) -> Stream:
        """The count."""
        return stream("count", self.count)


@dataclass(frozen=True)
class TagSeen(Fact):
    """A tag was seen at a count. piece: the one that bore the name for whoever saw it; empty: nothing that they knew of."""

    count: str
    name: str
    piece: str = ""

    def __post_init__(self) -> None:
        ids(count=self.count)
        ids_if_any(piece=self.piece)
        read_name(self.name)

    def streams(self) -> tuple[Stream, ...]:
        """The count, and the piece."""
        return (stream("count", self.count), *([stream("piece", self.piece)] if self.piece else []))


@dataclass(frozen=True)
class CountEnded(Fact):
    """All that is there was looked at."""

    count: str

    def __post_init__(self) -> None:
        ids(count=self.count)

    def streams(self) -> tuple[Stream, ...]:
        """The count."""
        return (stream("count", self.count),)
