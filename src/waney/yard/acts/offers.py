"""Trees that are offered, what was answered, and stems before they are cut to length."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum

from waney.yard.acts.base import Decision, Fact, bad_likely_good, between, day_if_any, hashes, ids, ids_if_any, lines, texts
from waney.yard.acts.mill import LONGEST_M, WIDEST_M
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, stream

FARTHEST_M, MOST_HOURS = 5e6, 1000.0
"""beyond it a slip of the hand"""


class ReadWith(StrEnum):
    """What the sizes of a tree were read with."""

    TAPE = "tape"
    EYE = "eye"
    PHOTO = "photo"


@dataclass(frozen=True)
class TreeOffered(Fact):
    """Somebody offers a tree or a log that lies elsewhere: what could be read off it, or a photo. None, empty: not known.

    girth_m: round the bark at breast height or at the butt; length_m: of clear stem; asked_cents: below zero, they pay.
    where: a place to find it again, not a person; how: what the sizes were read with; yard_tree: it grew by a house or a road;
    way_m: there and back; hours: of driving and loading, everybody's together.
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
    how: ReadWith = ReadWith.TAPE
    yard_tree: bool | None = None
    way_m: float | None = None
    hours: float | None = None

    def __post_init__(self) -> None:
        _can_be(self)
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


@dataclass(frozen=True)
class TreeToldAgain(Fact):
    """More is known of an offered tree, or otherwise than it was told; what is None or empty stays as it was. Raises BadAct.

    girth_off, small_end_off, length_off: half of the 90 % range of a size that is told with it, over the size; None: by what it
    was read with. girth_at_m: from the butt, None: breast height. taps: what was tapped on a photo
    to read them, as the page keeps it.
    """

    tree: str
    species: str = ""
    girth_m: float | None = None
    small_end_m: float | None = None
    length_m: float | None = None
    asked_cents: int | None = None
    where: str = ""
    words: str = ""
    how: ReadWith | None = None
    yard_tree: bool | None = None
    way_m: float | None = None
    hours: float | None = None
    girth_off: float | None = None
    small_end_off: float | None = None
    length_off: float | None = None
    girth_at_m: float | None = None
    taps: str = ""

    def __post_init__(self) -> None:
        _can_be(self)
        between(0.0, 1.0, girth_off=self.girth_off, small_end_off=self.small_end_off, length_off=self.length_off)
        between(0.0, LONGEST_M, girth_at_m=self.girth_at_m)
        texts(taps=self.taps)
        told = {field.name: getattr(self, field.name) for field in fields(self) if field.name != "tree"}
        if all(value in (None, "") for value in told.values()):
            raise BadAct("nothing of the tree was told anew.")

    def streams(self) -> tuple[Stream, ...]:
        """The tree."""
        return (stream("tree", self.tree),)


def _can_be(told: TreeOffered | TreeToldAgain) -> None:
    ids(tree=told.tree)
    between(0.0, FARTHEST_M, way_m=told.way_m)
    between(0.0, MOST_HOURS, hours=told.hours)
    lines(species=told.species, where=told.where)
    texts(words=told.words)
    between(0.05, 4 * WIDEST_M, girth_m=told.girth_m)
    between(0.02, WIDEST_M, small_end_m=told.small_end_m)
    between(0.1, 2 * LONGEST_M, length_m=told.length_m)
    between(-(10**9), 10**9, asked_cents=told.asked_cents)


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
        bad_likely_good(self.money_cents)

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
