"""Kiln bill: what a load cost, parted among those whose wood was in it, piece by piece, to the cent.

A piece counts its volume as it went in, times the days it was in, times what its thickness adds: thick wood holds a kiln longer.
The sum is parted among owners by what their pieces count, and each owner's part among their pieces (`trade.shares`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, isfinite

from waney.figures.problem import Problem
from waney.trade.shares import shares
from waney.units.length import INCH_NM, from_nanometres

QUARTER_M = from_nanometres(INCH_NM) / 4.0
FOUR_QUARTERS = 4
DUST = 1e-6
NO_OWNER = "our own"
"""What a piece is called that belongs to nobody else."""


class BadKilnBill(Problem):
    """A load that no bill can be made of."""


@dataclass(frozen=True)
class PieceInKiln:
    """A piece of a load: its name, whose it is (empty: the shop's own), volume and thickness as it went in, days in the kiln."""

    name: str
    owner: str
    volume_m3: float
    thickness_m: float
    days: float

    def __post_init__(self) -> None:
        if not all(isfinite(size) and size > 0.0 for size in (self.volume_m3, self.thickness_m)):
            raise BadKilnBill(f"{self.name}: a bill goes by volume and thickness; measure it, both must be above zero.")
        if not (isfinite(self.days) and self.days >= 0.0):
            raise BadKilnBill(f"{self.name}: {self.days:g} days in the kiln cannot be; write from when to when it was in.")

    @property
    def quarters(self) -> int:
        """Whole quarter inches in its thickness as it went in: 28.6 mm is 4, 54 mm is 8."""
        return int(self.thickness_m / QUARTER_M + DUST)


@dataclass(frozen=True)
class Split:
    """By what a bill is parted, besides volume. days: a piece that leaves early pays for less; thicker: how much more a volume
    counts for every whole quarter inch over four [-]; 0: thickness does not count."""

    days: bool = True
    thicker: float = 0.0

    def __post_init__(self) -> None:
        if not (isfinite(self.thicker) and self.thicker >= 0.0):
            raise BadKilnBill(f"{self.thicker:g} more for a quarter inch cannot be; write zero or more.")

    def counts(self, piece: PieceInKiln) -> float:
        """What a piece counts."""
        thick = 1.0 + self.thicker * max(piece.quarters - FOUR_QUARTERS, 0)
        return piece.volume_m3 * thick * (piece.days if self.days else 1.0)

    @property
    def method(self) -> str:
        """The method, as the sentence that a bill prints."""
        days = " times its days in the kiln" if self.days else ""
        thick = f", and {100 * self.thicker:g} % more for every whole quarter inch of thickness over four" if self.thicker else ""
        return (
            f"Each piece counts its volume as it went in{days}{thick}. The sum is parted by what the pieces count, to the cent: "
            "a cent left over goes where the broken part of a cent is largest, by name among equals."
        )


@dataclass(frozen=True)
class PiecePart:
    """What one piece pays."""

    piece: PieceInKiln
    cents: int


@dataclass(frozen=True)
class OwnerPart:
    """What one owner pays, and how it falls on their pieces, by name; share: of what all pieces count [-]."""

    owner: str
    cents: int
    share: float
    pieces: tuple[PiecePart, ...]

    @property
    def volume_m3(self) -> float:
        """Of their pieces as they went in."""
        return fsum(one.piece.volume_m3 for one in self.pieces)


@dataclass(frozen=True)
class KilnBill:
    """A sum parted among owners, by name; method: how, as a sentence."""

    total_cents: int
    method: str
    owners: tuple[OwnerPart, ...]

    def of(self, owner: str) -> int:
        """What one owner pays [cents]; empty: the shop itself."""
        return sum(one.cents for one in self.owners if one.owner == owner)


def kiln_bill(pieces: Sequence[PieceInKiln], total_cents: int, split: Split = Split()) -> KilnBill:
    """Part the cost of a load: parts of owners sum to `total_cents`, parts of an owner's pieces to the owner's.

    The order of the pieces does not matter. Raises BadKilnBill for no pieces, two of one name, or pieces that count nothing.
    """
    _can_be_billed(pieces, total_cents, split)
    counted = {piece.name: split.counts(piece) for piece in pieces}
    owned = {owner: _of(pieces, owner) for owner in sorted({piece.owner for piece in pieces})}
    weights = {owner: fsum(counted[piece.name] for piece in theirs) for owner, theirs in owned.items()}
    parts, whole = shares(total_cents, weights), fsum(counted.values())
    return KilnBill(
        total_cents,
        split.method,
        tuple(
            OwnerPart(owner, parts[owner], weights[owner] / whole, _parted(owned[owner], parts[owner], counted))
            for owner in owned
        ),
    )


def _can_be_billed(pieces: Sequence[PieceInKiln], total_cents: int, split: Split) -> None:
    names = [piece.name for piece in pieces]
    if len(set(names)) < len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise BadKilnBill(f"Two pieces are named {twice}: give each a name of its own.")
    if total_cents < 0:
        raise BadKilnBill("A load cannot cost less than nothing; write what was charged.")
    if not any(split.counts(piece) for piece in pieces):
        raise BadKilnBill("No piece of this load counts anything; write which pieces were in it, and for how many days.")


def _of(pieces: Sequence[PieceInKiln], owner: str) -> tuple[PieceInKiln, ...]:
    return tuple(sorted((piece for piece in pieces if piece.owner == owner), key=lambda piece: piece.name))


def _parted(pieces: Sequence[PieceInKiln], cents: int, counted: dict[str, float]) -> tuple[PiecePart, ...]:
    """An owner's cents among their pieces; pieces that count nothing pay nothing."""
    weights = {piece.name: counted[piece.name] for piece in pieces}
    parts = shares(cents, weights) if any(weights.values()) else dict.fromkeys(weights, 0)
    return tuple(PiecePart(piece, parts[piece.name]) for piece in pieces)
