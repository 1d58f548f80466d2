"""Loads of a kiln: what is asked of a worker, and what it answers."""

from __future__ import annotations

from dataclasses import dataclass

from waney.drying.known_sides import NOT_TOLD, KnownSides
from waney.web.asked.figure import Figure
from waney.web.asked.stack import MoistureAsked


@dataclass(frozen=True)
class Expected:
    """What the forecast of its stack says of a piece on the day of loading [-]; read: it was read, so the forecast knows it;
    followed: the moisture down to which a stack is followed, where it is there already, else None."""

    low: float
    likely: float
    high: float
    read: bool
    followed: float | None


@dataclass(frozen=True)
class KilnPiece:
    """A piece that asks for the kiln, sizes as it lies; mass_kg: last weight, None: from its wood; reads: all that
    was read of its moisture; expected: None where there is no forecast, or none is needed; cup_m: by which it is cupped; bark: it
    is still on; known: of its edges and ends."""

    name: str
    length_m: float
    width_m: float
    thickness_m: float
    mass_kg: float | None
    reads: tuple[MoistureAsked, ...] = ()
    expected: Expected | None = None
    cup_m: float = 0.0
    bark: bool = False
    known: KnownSides = NOT_TOLD


@dataclass(frozen=True)
class LotAsked:
    """Like pieces. moisture, target: as they were typed; empty: as read, and as usual; sapwood: all of it."""

    name: str
    species: str
    thickness_m: float
    pieces: tuple[KilnPiece, ...]
    moisture: str = ""
    target: str = ""
    sapwood: bool = False


@dataclass(frozen=True)
class LoadAsked:
    """Which lots, into which kiln of the kilns sheet, on which day; metric: how it is written; meter: the meter sheet; place,
    weather: the nearest place as settled, the shop's own weather squeezed, for a kiln that the sun warms."""

    kilns: str
    kiln: str
    lots: tuple[LotAsked, ...]
    metric: bool
    on: str
    meter: str = ""
    place: str = ""
    weather: str = ""


@dataclass(frozen=True)
class LotShown:
    """A lot in a load, in words; pieces: their names, from the bottom of the pile."""

    lot: str
    says: str
    pieces: tuple[str, ...]


@dataclass(frozen=True)
class LoadShown:
    """One load: its figures, its lots, and what is to be minded of single pieces."""

    figures: tuple[Figure, ...]
    lots: tuple[LotShown, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class ProposalShown:
    """Loads one after the other: what they aim at, how long all take; left_out: pieces that fit in none, and why."""

    aims: str
    days: str
    loads: tuple[LoadShown, ...]
    left_out: tuple[str, ...]


@dataclass(frozen=True)
class LoadAnswer:
    """lots: each at what moisture it was taken; sharing: every two lots; sentence: why there is no answer; air: of a kiln that
    the sun warms, what is taken for its weather; evened: whether equalising is told in days."""

    kiln: str = ""
    lots: tuple[Figure, ...] = ()
    sharing: tuple[str, ...] = ()
    proposals: tuple[ProposalShown, ...] = ()
    least: str = ""
    remarks: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    basis: Figure | None = None
    sentence: str = ""
    air: str = ""
    evened: bool = False
