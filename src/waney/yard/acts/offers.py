"""Trees that are offered, what was answered, and stems before they are cut to length."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.yard.acts.base import Decision, Fact, between, day_if_any, hashes, ids, ids_if_any, lines, texts
from waney.yard.acts.mill import LONGEST_M, WIDEST_M
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, stream


@dataclass(frozen=True)
class TreeOffered(Fact):
    """Somebody offers a tree or a log that lies elsewhere: what could be read off it, or a photo. None, empty: not known.

    girth_m: round the bark at breast height or at the butt; length_m: of clear stem; asked_cents: below zero, they pay.
    where: a place to find it again, not a person.
    """

    tree: str
    species: str = ""
    girth_m: float | None = None
    small_end_m: float | None = None
    length_m: float | None = None
    asked_cents: int | None = None
    where: str = ""
    words: str = ""
    photo: str = ""

    def __post_init__(self) -> None:
        ids(tree=self.tree)
        lines(species=self.species, where=self.where)
        texts(words=self.words)
        between(0.05, 4 * WIDEST_M, girth_m=self.girth_m)
        between(0.02, WIDEST_M, small_end_m=self.small_end_m)
        between(0.1, 2 * LONGEST_M, length_m=self.length_m)
        between(-(10**9), 10**9, asked_cents=self.asked_cents)
        if self.photo:
            hashes(photo=self.photo)

    def streams(self) -> tuple[Stream, ...]:
        """The tree."""
        return (self.makes(),)

    def makes(self) -> Stream:
        """The tree."""
        return stream("tree", self.tree)

    def files(self) -> tuple[str, ...]:
        """Its photo."""
        return (self.photo,) if self.photo else ()


class Reply(StrEnum):
    """What is said to who offers a tree."""

    FETCH = "fetch"
    IF_FREE = "only if free"
    LEAVE = "leave"


@dataclass(frozen=True)
class TreeAnswered(Decision):
    """The answer, with its reason and the money it was given on (bad, likely, good; whole cents), if any was worked out."""

    tree: str
    reply: Reply
    reason: str = ""
    money_cents: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        ids(tree=self.tree)
        lines(reason=self.reason)
        if len(self.money_cents) not in (0, 3) or list(self.money_cents) != sorted(self.money_cents):
            raise BadAct("money is three figures, bad, likely and good, in rising order; or none.")

    def streams(self) -> tuple[Stream, ...]:
        """The tree."""
        return (stream("tree", self.tree),)


@dataclass(frozen=True)
class StemFelled(Fact):
    """A stem lies there, not yet cut to length; logs that are cut from it say where in it they were."""

    stem: str
    tree: str = ""
    species: str = ""
    length_m: float | None = None
    felled_on: str = ""
    words: str = ""

    def __post_init__(self) -> None:
        ids(stem=self.stem)
        ids_if_any(tree=self.tree)
        lines(species=self.species)
        texts(words=self.words)
        between(0.1, 2 * LONGEST_M, length_m=self.length_m)
        day_if_any(felled_on=self.felled_on)

    def streams(self) -> tuple[Stream, ...]:
        """The stem; it counts in its tree."""
        return (self.makes(), *([stream("tree", self.tree)] if self.tree else []))

    def makes(self) -> Stream:
        """The stem."""
        return stream("stem", self.stem)
