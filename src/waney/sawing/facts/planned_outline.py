"""Planned outline: both faces of a piece as its plan cuts them out of the log's model, before anybody has measured the piece.

A forecast: the edges are those of the likely log; their range is that of the logs which the readings allow, each laid down by
its own bark and cut at the same heights. Green, as it comes off the saw. Places are counted from its butt end, y as in the
piece's frame: up to the left of whoever stands at the butt end and looks up the log.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import summed_up
from waney.logs.shape import LogShape
from waney.pieces.outline import BadEdge, Outline, from_offsets
from waney.sawing.bench import Bench
from waney.sawing.kernel.chords import FAR, NM, chords_at
from waney.sawing.outcome.sawn_again import Script, beds
from waney.sawing.outcome.worlds import World, likely_world
from waney.sawing.plan import Plan, PlannedPiece

Array = NDArray[np.float64]
BASIS = Basis(Ground.READING, "the tape on its log", "cut as its plan has it, not measured")
UNDER, UPPER = 0, 1
NEAR_M = 0.05
"""places nearer to an end than this are left to the end. Ours."""


@dataclass(frozen=True)
class Heights:
    """Of the two faces over the bed [m]: where the blade left them."""

    under_m: float
    upper_m: float

    @classmethod
    def of(cls, planned: PlannedPiece, step_m: float, kerf_m: float) -> Heights:
        """As the plan has them."""
        under = planned.lower_steps * step_m + kerf_m if planned.lower_steps else 0.0
        return cls(under, under + planned.piece.thickness_m)

    @classmethod
    def sawn(cls, blade_m: float | None, thickness_m: float | None, planned: PlannedPiece, kerf_m: float) -> Heights:
        """As the mill told it. blade_m: lowest of the blade under the piece, None where it lay on the bed itself; thickness_m:
        None where nobody told, then as the plan has it."""
        under = 0.0 if blade_m is None else blade_m + kerf_m
        return cls(under, under + (thickness_m or planned.piece.thickness_m))


@dataclass(frozen=True, eq=False)
class FacePlanned:
    """One face. along_m, low_m, high_m (k,): its edges where it has wood, in the likely case; area_m2: with its range; seen: for
    every log that the readings allow, places from the butt end and widths there."""

    along_m: Array
    low_m: Array
    high_m: Array
    area_m2: Estimate
    seen: tuple[tuple[Array, Array], ...]

    @property
    def outline(self) -> Outline:
        """Its edge all round."""
        return from_offsets(list(self.along_m), list(self.high_m), list(-self.low_m))

    @property
    def length_m(self) -> float:
        """From its first wood to its last."""
        return float(self.along_m[-1] - self.along_m[0])

    def has(self, at_m: float) -> bool:
        """Whether it has wood at a place."""
        return bool(self.along_m[0] - 1e-9 <= at_m <= self.along_m[-1] + 1e-9)

    def edges_at(self, at_m: float) -> tuple[float, float]:
        """Left and right edge at a place, each as a distance from the line [m]."""
        return float(np.interp(at_m, self.along_m, self.high_m)), -float(np.interp(at_m, self.along_m, self.low_m))

    def width_at(self, at_m: float) -> Estimate:
        """Across it at a place [m]; where a log of the range has no wood there it counts 0."""
        widths = np.array([np.interp(at_m, along, widths) for along, widths in self.seen])
        return summed_up(widths, sum(self.edges_at(at_m)), BASIS)


@dataclass(frozen=True, eq=False)
class OutlinePlanned:
    """Both faces of a planned piece; None for one that the bark takes whole. thickness_m: between them."""

    name: str
    species: str
    thickness_m: float
    under: FacePlanned | None
    upper: FacePlanned | None

    def places(self, every_m: float) -> tuple[float, ...]:
        """Where to read it: evenly along it, and at the ends of both faces [m]."""
        ends = {float(end) for face in (self.under, self.upper) if face for end in (face.along_m[0], face.along_m[-1])}
        first, last = min(ends), max(ends)
        even = np.arange(first, last, every_m)
        return tuple(sorted(ends | {float(at) for at in even if all(abs(at - end) > NEAR_M for end in ends)}))


def planned_outline(
    plan: Plan, planned: PlannedPiece, bench: Bench, shapes: Sequence[LogShape], told: Heights | None = None
) -> OutlinePlanned:
    """The outline of a planned piece. shapes: the log in every scenario; told: heights at which it was sawn, None: the plan's.

    Raises CannotSawAgain, NothingLeft, and BadEdge for a piece that has no wood on either face.
    """
    heights = told or Heights.of(planned, bench.mill.step_m, bench.mill.kerf_m)
    script = Script.of(plan)

    def cut(world: World) -> tuple[Array, Array]:
        return _faces(world, bench, script, planned.lie, heights)

    likely = cut(likely_world(bench))
    # another log that the readings allow; what is wanted stays, no worth is asked for here
    others = [cut(World(replace(bench.log, shape=shape), bench.wants, bench.ask)) for shape in shapes]
    under, upper = (_face(likely, others, face) for face in (UNDER, UPPER))
    if under is None and upper is None:
        raise BadEdge(f"{planned.piece.name}: at these heights there is no wood inside the bark.")
    return OutlinePlanned(planned.piece.name, planned.piece.species, heights.upper_m - heights.under_m, under, upper)


def _faces(world: World, bench: Bench, script: Script, lie: int, heights: Heights) -> tuple[Array, Array]:
    """Places from the butt end (W,), and the low and high edge of both faces (2, 2, W) [m], nan where there is no wood."""
    bed, cut = next(laid for n, laid in enumerate(beds(world, bench.mill, script)) if n == lie)
    sections = bed.sections
    edges = np.empty((2, 2, len(sections.w)), np.int64)
    for face, height in ((UNDER, heights.under_m), (UPPER, heights.upper_m)):
        chords_at(sections.wood_u, sections.wood_v, height, 1.0, edges[face : face + 1])
    low, high = np.maximum(edges[:, 0], cut.low), np.minimum(edges[:, 1], cut.high)
    wood = (low < high) & (edges[:, 0] < FAR)
    found = np.stack([np.where(wood, low * NM, np.nan), np.where(wood, high * NM, np.nan)], axis=1)
    return np.asarray(sections.w - sections.w[0]), found


def _face(likely: tuple[Array, Array], others: list[tuple[Array, Array]], face: int) -> FacePlanned | None:
    along, (low, high) = likely[0], likely[1][face]
    wood = np.flatnonzero(~np.isnan(low))
    if len(wood) < 2:
        return None
    run = along[wood[0] : wood[-1] + 1]
    middle = (np.nanmin(likely[1][:, 0]) + np.nanmax(likely[1][:, 1])) / 2.0
    low, high = (np.interp(run, along[wood], edge[wood]) - middle for edge in (low, high))
    widths = [(at, edges[face][1] - edges[face][0]) for at, edges in others]
    area = summed_up([_area(*one) for one in widths], _area(run, high - low), BASIS)
    return FacePlanned(run, low, high, area, tuple((at, np.nan_to_num(each)) for at, each in widths))


def _area(at: Array, widths: Array) -> float:
    """Between stations that both have wood [m2]."""
    return float(np.nansum((widths[1:] + widths[:-1]) / 2.0 * np.diff(at)))
