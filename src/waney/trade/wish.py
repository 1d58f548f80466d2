"""Wishes and pieces: whether one fits, and which others are nearest to one that is gone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, log


@dataclass(frozen=True)
class Wish:
    """What somebody would like. None, empty: anything. Sizes at least [m]; most_thickness_m at most."""

    species: str = ""
    thickness_m: float | None = None
    most_thickness_m: float | None = None
    width_m: float | None = None
    length_m: float | None = None


@dataclass(frozen=True)
class Sized:
    """A piece as far as it was measured; width_m: its narrowest. None: not known."""

    name: str
    species: str
    thickness_m: float | None
    width_m: float | None
    length_m: float | None


SLACK_M = 1e-6


def fits(wish: Wish, piece: Sized) -> bool:
    """Whether a piece is what was wished for; a size that was wished for and is not known does not fit."""
    least = (
        (wish.thickness_m, piece.thickness_m),
        (wish.width_m, piece.width_m),
        (wish.length_m, piece.length_m),
    )
    big = all(want is None or (have is not None and have >= want - SLACK_M) for want, have in least)
    most = wish.most_thickness_m
    thin = most is None or (piece.thickness_m is not None and piece.thickness_m <= most + SLACK_M)
    return big and thin and wish.species in ("", piece.species)


def nearest(gone: Sized, others: Iterable[Sized], most: int | None = 3) -> tuple[Sized, ...]:
    """The others of the same wood that are likest in size, the likest first; none for a piece whose wood is not known.

    By the logarithms of their sizes, so that twice is as far as half; a size that is not known counts as twice.
    """
    same = [other for other in others if gone.species and other.species == gone.species and other.name != gone.name]
    return tuple(sorted(same, key=lambda other: (_far(gone, other), other.name))[:most])


def _far(one: Sized, other: Sized) -> float:
    sizes = ((one.thickness_m, other.thickness_m), (one.width_m, other.width_m), (one.length_m, other.length_m))
    return sum(_apart(a, b) for a, b in sizes)


def _apart(a: float | None, b: float | None) -> float:
    if a is None or b is None:
        return log(2.0)
    return abs(log(a / b)) if a > 0 and b > 0 else inf
