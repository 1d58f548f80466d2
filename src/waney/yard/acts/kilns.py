"""Wood that goes to someone else's kiln: handed over with what is wanted of it, and taken back with what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from waney.drying.core_record import COLDEST_C, HOTTEST_C, LONGEST_MIN, MOST_READINGS
from waney.yard.acts.base import Fact, between, filled_lines, ids, ids_if_any, lines
from waney.yard.acts.stacks import each_once
from waney.yard.problems import BadAct
from waney.yard.streams import Stream, checked_id, stream

LONGEST_DAYS = 1000.0
MOST_CENTS = 10**12


@dataclass(frozen=True)
class HandedPiece:
    """A piece as it is handed over. owner: empty, the shop's own; cracks, stain, metal: in words, empty: not told; shell_mc,
    core_mc: wanted [-]; hottest_c: the hottest that its wood may get; heat_treat: whether treatment is wanted."""

    piece: str
    owner: str = ""
    cracks: str = ""
    stain: str = ""
    metal: str = ""
    shell_mc: float | None = None
    core_mc: float | None = None
    hottest_c: float | None = None
    heat_treat: bool = False

    def __post_init__(self) -> None:
        checked_id(self.piece, "pieces")
        lines(owner=self.owner, cracks=self.cracks, stain=self.stain, metal=self.metal)
        between(0.01, 0.5, shell_mc=self.shell_mc, core_mc=self.core_mc)
        between(20.0, 150.0, hottest_c=self.hottest_c)


@dataclass(frozen=True)
class LoadHandedOver(Fact):
    """Pieces were handed over to someone else's kiln. kiln: what it is called; whose: who took them; fee: the rule, in words."""

    load: str
    kiln: str
    whose: str
    pieces: tuple[HandedPiece, ...]
    fee: str = ""
    words: str = ""

    def __post_init__(self) -> None:
        ids(load=self.load)
        filled_lines(kiln=self.kiln, whose=self.whose)
        lines(fee=self.fee, words=self.words)
        each_once(tuple(each.piece for each in self.pieces))

    def streams(self) -> tuple[Stream, ...]:
        """The load and each piece."""
        return (self.makes(), *(stream("piece", each.piece) for each in self.pieces))

    def makes(self) -> Stream:
        """The load."""
        return stream("load", self.load)


@dataclass(frozen=True)
class PieceOwner:
    """Whose a piece is; empty: the shop's own."""

    piece: str
    owner: str = ""

    def __post_init__(self) -> None:
        checked_id(self.piece, "pieces")
        lines(owner=self.owner)


@dataclass(frozen=True)
class OwnersTold(Fact):
    """Whose the pieces of a load are; of those that are not named nothing changes."""

    load: str
    pieces: tuple[PieceOwner, ...]

    def __post_init__(self) -> None:
        ids(load=self.load)
        each_once(tuple(each.piece for each in self.pieces))

    def streams(self) -> tuple[Stream, ...]:
        """The load and each piece."""
        return (stream("load", self.load), *(stream("piece", each.piece) for each in self.pieces))


class Treated(StrEnum):
    """What is known of heat treatment; only a record of the core shows it."""

    NOT_KNOWN = "not known"
    NO = "no"
    SAID = "said to be, without a core record"
    RECORD = "yes, with a core record"


@dataclass(frozen=True)
class BroughtBack:
    """A piece that came back; damage: in words, empty: none was seen."""

    piece: str
    damage: str = ""

    def __post_init__(self) -> None:
        checked_id(self.piece, "pieces")
        lines(damage=self.damage)


@dataclass(frozen=True)
class CoreAt:
    """What a probe in the core read [°C], so many minutes after the record began."""

    minutes: float
    core_c: float

    def __post_init__(self) -> None:
        between(0.0, LONGEST_MIN, minutes=self.minutes)
        between(COLDEST_C, HOTTEST_C, core_c=self.core_c)


@dataclass(frozen=True)
class LoadTakenBack(Fact):
    """Pieces of a load were taken back, or left our own kiln early; the others are still there. Weights and moistures are told
    piece by piece beside it.

    days: in the kiln; core_c, core_min: what the core record says was held, and how long; record: the record itself, reading by
    reading, in order of time; fee: for these pieces; empty, None: not told.
    """

    load: str
    pieces: tuple[BroughtBack, ...]
    days: float | None = None
    treated: Treated = Treated.NOT_KNOWN
    core_c: float | None = None
    core_min: float | None = None
    fee_cents: int | None = None
    currency: str = ""
    spot: str = ""
    words: str = ""
    record: tuple[CoreAt, ...] = ()

    def __post_init__(self) -> None:
        ids(load=self.load)
        ids_if_any(spot=self.spot)
        lines(currency=self.currency, words=self.words)
        each_once(tuple(each.piece for each in self.pieces))
        between(0.0, LONGEST_DAYS, days=self.days)
        between(COLDEST_C, HOTTEST_C, core_c=self.core_c)
        between(0.0, LONGEST_MIN, core_min=self.core_min)
        between(0, MOST_CENTS, fee_cents=self.fee_cents)
        summed_up = self.core_c is not None and self.core_min is not None
        if self.treated is Treated.RECORD and not (summed_up or self.record):
            raise BadAct(
                "a core record says how hot the core was held and for how many minutes; write both, or the record itself."
            )
        if self.record and self.treated is not Treated.RECORD:
            raise BadAct(
                f"a core record was told, and yet it is said that heat treatment is: {self.treated}. Choose which is so."
            )
        if len(self.record) > MOST_READINGS or [one.minutes for one in self.record] != sorted(one.minutes for one in self.record):
            raise BadAct(f"a core record has at most {MOST_READINGS} readings, in order of time.")

    def streams(self) -> tuple[Stream, ...]:
        """The load, each piece, and the spot."""
        spot = [stream("spot", self.spot)] if self.spot else []
        return (stream("load", self.load), *(stream("piece", each.piece) for each in self.pieces), *spot)
