"""Parts of a pile: pieces, what they lie on, layers; real pieces of mixed lengths and widths on stickers in line over bearers.

Frame: x along the pile from its left end, y across it from the front, z up from the top of the bearers [m].
NoPile     pieces, bearers or sizes that no pile can be made of
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from waney.drying.air import STICKER_M
from waney.figures.estimate import Estimate
from waney.figures.problem import Problem

DUST_M = 1e-9


class NoPile(Problem):
    """A pile that cannot be laid; the sentence says what to change."""


@dataclass(frozen=True)
class PilePiece:
    """One piece: its name, length, width and thickness as it lies [m], and what it weighs [kg]."""

    name: str
    length_m: float
    width_m: float
    thickness_m: float
    mass_kg: Estimate

    def __post_init__(self) -> None:
        if min(self.length_m, self.width_m, self.thickness_m) <= 0.0:
            raise NoPile(f"{self.name} has a size of nothing: measure its length, width and thickness.")

    @property
    def volume_m3(self) -> float:
        """Of the box it fills, as it lies."""
        return self.length_m * self.width_m * self.thickness_m


@dataclass(frozen=True)
class Base:
    """What a pile stands on and how it is laid.

    length_m, width_m: room along and across; height_m: room above the bearers; bearers_m: middles of the bearers along x, each
    with its line of stickers above; bearer_m: width of a bearer; sticker_m: thickness of a sticker;
    gap_m: least room between pieces side by side; within_m: most that thicknesses in one layer may differ; overhang_m: most that
    a piece may reach beyond its last sticker's middle.
    """

    length_m: float
    width_m: float
    height_m: float
    bearers_m: tuple[float, ...]
    bearer_m: float = 0.1
    sticker_m: float = STICKER_M
    gap_m: float = 0.0
    within_m: float = 0.003
    overhang_m: float = 0.3

    def __post_init__(self) -> None:
        inside = all(0.0 <= at <= self.length_m for at in self.bearers_m)
        rising = all(a < b for a, b in zip(self.bearers_m, self.bearers_m[1:], strict=False))
        if len(self.bearers_m) < 2 or not inside or not rising:
            raise NoPile(f"Bearers at {self.bearers_m} m: name two or more, from left to right, within {self.length_m:g} m.")
        if min(self.width_m, self.height_m, self.bearer_m, self.sticker_m) <= 0.0:
            raise NoPile("Room, bearers and stickers need a size above zero.")
        if min(self.gap_m, self.within_m, self.overhang_m) < 0.0:
            raise NoPile("Gap, difference of thickness and overhang cannot be below zero.")


@dataclass(frozen=True)
class Laid:
    """A piece in its place: its near left corner [m], and the stickers under it (numbers of bearers, from the left)."""

    piece: PilePiece
    x_m: float
    y_m: float
    on: tuple[int, ...]

    @property
    def end_m(self) -> float:
        """Its right end along the pile [m]."""
        return self.x_m + self.piece.length_m

    @property
    def side_m(self) -> float:
        """Its far side across the pile [m]."""
        return self.y_m + self.piece.width_m


@dataclass(frozen=True)
class Layer:
    """Pieces of one layer and the height of its underside, which lies on its stickers [m]."""

    laid: tuple[Laid, ...]
    z_m: float

    @property
    def thickness_m(self) -> float:
        """Of its thickest piece [m]."""
        return max(one.piece.thickness_m for one in self.laid)

    @property
    def stickers(self) -> tuple[int, ...]:
        """Which lines of stickers lie under it."""
        return tuple(sorted({at for one in self.laid for at in one.on}))

    @property
    def area_m2(self) -> float:
        """What its pieces cover."""
        return sum(one.piece.length_m * one.piece.width_m for one in self.laid)

    def on_line(self, bearer: int) -> tuple[float, float] | None:
        """From where to where across the pile its wood lies on a line of stickers [m]; None where there is none."""
        on = [one for one in self.laid if bearer in one.on]
        return (min(one.y_m for one in on), max(one.side_m for one in on)) if on else None


@dataclass(frozen=True)
class Pile:
    """Layers from the bottom up; `left` did not fit, each with the sentence that says why."""

    base: Base
    layers: tuple[Layer, ...]
    left: tuple[tuple[PilePiece, str], ...]

    @property
    def height_m(self) -> float:
        """From the bearers to the top of the wood [m]."""
        return self.layers[-1].z_m + self.layers[-1].thickness_m if self.layers else 0.0

    @property
    def volume_m3(self) -> float:
        """Of the wood that lies in it."""
        return sum(one.piece.volume_m3 for layer in self.layers for one in layer.laid)

    @property
    def pieces(self) -> tuple[PilePiece, ...]:
        """All that lie in it, from the bottom up."""
        return tuple(one.piece for layer in self.layers for one in layer.laid)


def bearers(length_m: float, spacing_m: float, inset_m: float = 0.05) -> tuple[float, ...]:
    """Middles of evenly spaced bearers, at most `spacing_m` apart, the outer ones `inset_m` from the ends [m]. Raises NoPile."""
    if spacing_m <= 0.0 or length_m <= 2.0 * inset_m:
        raise NoPile(f"No bearers {spacing_m:g} m apart fit under {length_m:g} m.")
    count = max(ceil((length_m - 2.0 * inset_m) / spacing_m - DUST_M), 1)
    step = (length_m - 2.0 * inset_m) / count
    return tuple(inset_m + i * step for i in range(count + 1))
