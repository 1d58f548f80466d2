"""Drawn logs sawn into boules through and through, their faces traced or taped with noise, the pieces shuffled and turned."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.logs.rings import RingField
from waney.logs.shape import LogShape
from waney.pieces.faces_met import TwoFaces
from waney.pieces.outline import Outline, from_offsets

Array = NDArray[np.float64]
STATIONS, AROUND = 61, 120
TAPE_M = 0.0015
"""standard error of a width by tape on a waney edge: an eighth of an inch is two of it (common practice, no source)"""
TRACE_M, SCALE = 0.002, 0.003
"""of an edge that was traced, over stretches of a hand's width, and of its scale (ours; `docs/methods/pieces.md` has photos)"""


@dataclass(frozen=True)
class Kind:
    """What logs are drawn: how far swellings over knots stand out [m], how many a metre, how rough the surface is [m]."""

    name: str
    knot_m: float
    knots_per_m: float
    rough_m: float


SMOOTH = Kind("straight and smooth", 0.004, 1.0, 0.001)
KNOTTY = Kind("knotty", 0.012, 4.0, 0.002)


def drawn_log(draw: np.random.Generator, kind: Kind) -> LogShape:
    """A tapered, lobed, bent log of 1.8 to 3 m and 0.30 to 0.55 m, with swellings over its knots and a rough surface."""
    long, size = draw.uniform(1.8, 3.0), draw.uniform(0.15, 0.275)
    z, a = np.linspace(0.0, long, STATIONS), 2.0 * np.pi * np.arange(AROUND) / AROUND
    two, three, turn = draw.uniform(0.0, 0.05), draw.uniform(0.0, 0.03), draw.uniform(0.0, 2.0 * np.pi)
    radius = (
        size
        * (1.0 - draw.uniform(0.03, 0.06) * z / size * 0.2)[:, None]
        * (1 + two * np.cos(2 * a + turn) + three * np.cos(3 * a))
    )
    radius = radius + _swellings(draw, kind, z, a) + _rough(draw, kind.rough_m, z, a)
    bend = 4.0 * (z / long) * (1.0 - z / long) * draw.uniform(0.0, 0.008 * long)
    way = draw.uniform(0.0, 2.0 * np.pi)
    centre = np.column_stack([bend * np.cos(way), bend * np.sin(way)])
    rings = RingField(z, centre[None], radius[None])
    return LogShape(z, centre, radius, np.zeros_like(radius), rings)


def _swellings(draw: np.random.Generator, kind: Kind, z: Array, a: Array) -> Array:
    sum_ = np.zeros((len(z), len(a)))
    for _ in range(draw.poisson(kind.knots_per_m * z[-1])):
        high, long, wide = draw.uniform(0.3, 1.0) * kind.knot_m, draw.uniform(0.04, 0.12), draw.uniform(0.15, 0.4)
        along = np.exp(-(((z - draw.uniform(0.0, z[-1])) / long) ** 2))
        around = np.exp(-((np.angle(np.exp(1j * (a - draw.uniform(0.0, 2.0 * np.pi)))) / wide) ** 2))
        sum_ += high * along[:, None] * around
    return sum_


def _rough(draw: np.random.Generator, error: float, z: Array, a: Array) -> Array:
    """Waves of the surface, a few stations long and a few directions wide."""
    noise = np.fft.fft2(draw.normal(size=(len(z), len(a))))
    f, g = np.meshgrid(np.fft.fftfreq(len(z)), np.fft.fftfreq(len(a)), indexing="ij")
    waves = np.fft.ifft2(noise * np.exp(-((f * 12.0) ** 2 + (g * 12.0) ** 2))).real
    found: Array = error * waves / waves.std()
    return found


@dataclass(frozen=True)
class Sawn:
    """A piece as it lay: both faces from above, (2, k) edges at places along it [m]."""

    name: str
    along_m: Array
    upper: Array
    lower: Array


def sawn(log: LogShape, thickness_m: float, kerf_m: float, most: int) -> list[Sawn]:
    """A log sawn through and through from the top down, at most so many pieces about its middle; outside pieces are left out."""
    rounds = [Outline(each[:, [1, 0]]) for each in log.surface(bark=False)]
    top = min(float(each.edge_m[:, 0].max()) for each in rounds)
    low = max(float(each.edge_m[:, 0].min()) for each in rounds)
    count = min(int((top - low - 0.02) / (thickness_m + kerf_m)), most)
    first = (top + low + count * (thickness_m + kerf_m) - kerf_m) / 2.0
    heights = [first - n * (thickness_m + kerf_m) for n in range(count)]
    return [Sawn(f"P{n}", log.z_m, _face(rounds, h), _face(rounds, h - thickness_m)) for n, h in enumerate(heights, 1)]


def _face(rounds: list[Outline], height: float) -> Array:
    return np.array([np.ravel(each.edges_at(np.array([height]))) for each in rounds]).T


# what somebody measures


def taped(draw: np.random.Generator, face: Array, places: int) -> tuple[float, ...]:
    """Widths at even places from the butt to the top."""
    width = np.interp((np.arange(places) + 0.5) / places, np.linspace(0, 1, face.shape[1]), face[1] - face[0])
    return tuple(float(one) for one in width + draw.normal(0.0, TAPE_M, places))


def traced(draw: np.random.Generator, piece: Sawn, face: Array, turned: bool, end_for_end: bool, noise: float = 1.0) -> Outline:
    """The outline of a face, the piece lying somehow on the bench: seen from over its first face, pushed, at its own scale."""
    strays = draw.normal(0.0, noise * TRACE_M * 3.0**0.5, (2, face.shape[1] + 2))
    low, high = face + (strays[:, :-2] + strays[:, 1:-1] + strays[:, 2:]) / 3.0
    if turned != end_for_end:
        low, high = -high, -low
    if end_for_end:
        low, high = low[::-1], high[::-1]
    along = piece.along_m * (1.0 + draw.normal(0.0, noise * SCALE))
    aside = draw.uniform(-0.3, 0.3) + draw.uniform(-0.01, 0.01) * along
    return from_offsets(along.tolist(), (high + aside).tolist(), (-(low + aside)).tolist())


Told = Callable[[np.random.Generator, Sawn, bool], TwoFaces]


def by_widths(places: int) -> Told:
    """Both faces' widths by tape."""

    def told(draw: np.random.Generator, piece: Sawn, turned: bool) -> TwoFaces:
        faces = (piece.lower, piece.upper) if turned else (piece.upper, piece.lower)
        return TwoFaces(piece.name, taped(draw, faces[0], places), taped(draw, faces[1], places))

    return told


def by_outlines(both: bool, places: int = 0) -> Told:
    """The outline of one face or both, lying either end first, and widths by tape at so many places besides."""

    def told(draw: np.random.Generator, piece: Sawn, turned: bool) -> TwoFaces:
        faces = (piece.lower, piece.upper) if turned else (piece.upper, piece.lower)
        end = bool(draw.random() < 0.5)
        first = traced(draw, piece, faces[0], turned, end)
        second = traced(draw, piece, faces[1], turned, end) if both else None
        widths = tuple(taped(draw, face, places) if places else () for face in faces)
        return TwoFaces(piece.name, widths[0], widths[1], first, second)

    return told


def jumbled(draw: np.random.Generator, pieces: list[Sawn], told: Told) -> list[TwoFaces]:
    """Shuffled, and each turned over or not."""
    return [told(draw, pieces[i], bool(draw.random() < 0.5)) for i in draw.permutation(len(pieces))]
