"""Solid: a log with its plan as bare figures from which a page draws it in three dimensions and takes it apart cut by cut.

Everything stands in the log frame, in metres. The page cuts the log's surface with the planes given here, and draws rings on
whatever the cuts open from the same ring field; it decides nothing.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass
from math import isnan
from typing import Any

import numpy as np
from numpy.typing import NDArray

from waney.logs.frames import Placing, placing, xy_to_clock
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.papers.marks import HATCHED
from waney.papers.subject import Subject
from waney.papers.turn import turn_words, turns
from waney.papers.words import clock
from waney.pieces.piece import Piece
from waney.sawing.facts.walk import last_name
from waney.sawing.moves import Pass, Turn

Array = NDArray[np.float64]
Vector = tuple[float, float, float]
Edge = tuple[tuple[Vector | None, ...], ...]

FORMAT = "waney-solid/1"
TENTH_MM = 4
"""decimals of a metre that are kept: a drawing shows no more"""


@dataclass(frozen=True)
class SolidShape:
    """The log's outlines: x, y of m points at n stations, inside bark and over it."""

    z_m: tuple[float, ...]
    wood_m: tuple[tuple[tuple[float, float], ...], ...]
    bark_m: tuple[tuple[tuple[float, float], ...], ...]


@dataclass(frozen=True)
class SolidRings:
    """The ring field as `logs.rings` has it: k pith lines on n stations, reaches in m even directions from x towards y."""

    z_m: tuple[float, ...]
    pith_m: tuple[tuple[tuple[float, float], ...], ...]
    reach_m: tuple[tuple[tuple[float, ...], ...], ...]


@dataclass(frozen=True)
class SolidCut:
    """One pass, by heights above the bed in its lie: what is below the blade stays, what is above the kerf comes off."""

    lie: int
    blade_m: float
    above_m: float
    words: str


@dataclass(frozen=True)
class SolidPart:
    """What one cut takes off, in the order of the cuts, and what stays last."""

    name: str
    short: str
    words: str
    kept: bool
    """False: an outside slab that only earns its salvage"""


@dataclass(frozen=True)
class SolidPiece:
    """A piece after edging: its two edges on face B, mid-plane and face A at the same stations; None where it has no wood."""

    name: str
    low_m: Edge
    high_m: Edge
    sawn_edges: tuple[bool, bool]


@dataclass(frozen=True)
class SolidSpot:
    """Metal, rot, hollow or split: an upright cylinder along z."""

    kind: str
    words: str
    from_m: float
    to_m: float
    x_m: float
    y_m: float
    radius_m: float


@dataclass(frozen=True)
class Solid:
    """A log, what is sawn of it, and what is hidden in it."""

    format: str
    log: str
    shape: SolidShape
    rings: SolidRings
    lies: tuple[Placing, ...]
    """log frame to saw frame: u to the left seen from the butt, v up from the bed, w along it"""
    cuts: tuple[SolidCut, ...]
    parts: tuple[SolidPart, ...]
    pieces: tuple[SolidPiece, ...]
    spots: tuple[SolidSpot, ...]
    turns: tuple[str, ...] = ()
    """in words, the one that leads to each lie after the first"""


def solid(subject: Subject) -> Solid:
    """The log of a plan, taken apart by its passes."""
    shape, plan = subject.shape, subject.plan
    return Solid(
        FORMAT,
        plan.log,
        solid_shape(shape),
        solid_rings(shape.rings),
        plan.lies,
        _cuts(subject),
        _parts(subject),
        tuple(_piece(planned.piece) for planned in plan.pieces if planned.piece.to_log is not None),
        _spots(shape),
        tuple(turn_words(subject, turn) for turn in turns(subject)),
    )


def bare_solid(log: str, shape: LogShape) -> Solid:
    """A log before it has a plan, 12 o'clock up: its shape, its rings and what is hidden in it."""
    whole = SolidPart(log, log, "the whole log", True)
    upright = placing(np.eye(3), np.array([0.0, -float(shape.surface(bark=True)[:, :, 1].min()), 0.0]))
    return Solid(FORMAT, log, solid_shape(shape), solid_rings(shape.rings), (upright,), (), (whole,), (), _spots(shape))


def solid_json(one: Solid) -> str:
    """As text that may stand in a <script type="application/json">: no "<" is left that could end it."""
    return json.dumps(asdict(one), ensure_ascii=False, separators=(",", ":"), allow_nan=False).replace("<", "\\u003c")


def solid_shape(shape: LogShape) -> SolidShape:
    """The outlines, to a tenth of a millimetre."""
    wood, bark = (_nested(shape.surface(bark=over)[:, :, :2]) for over in (False, True))
    return SolidShape(_nested(shape.z_m), wood, bark)


def solid_rings(field: RingField) -> SolidRings:
    """The ring field, to a tenth of a millimetre."""
    return SolidRings(_nested(field.z_m), _nested(field.pith_m), _nested(field.reach_m))


def _spots(shape: LogShape) -> tuple[SolidSpot, ...]:
    return tuple(solid_spot(zone) for zone in shape.zones if zone.kind in HATCHED)


def solid_spot(zone: Zone) -> SolidSpot:
    """What is hidden, with the clock position that its place in the log frame has."""
    place = "at the middle" if zone.x_m == zone.y_m == 0.0 else f"at {clock(xy_to_clock(zone.x_m, zone.y_m))}"
    sure = "" if zone.chance >= 1.0 else ", suspected"
    figures = (_rounded(x) for x in (zone.from_m, zone.to_m, zone.x_m, zone.y_m, zone.radius_m))
    return SolidSpot(zone.kind.value, f"{zone.kind.value} {place}{sure}", *figures)


def _cuts(subject: Subject) -> tuple[SolidCut, ...]:
    lie, found = 0, []
    for move in subject.plan.moves:
        lie += isinstance(move, Turn)
        if isinstance(move, Pass):
            found.append(_cut(subject, move, lie))
    return tuple(found)


def _cut(subject: Subject, move: Pass, lie: int) -> SolidCut:
    blade = move.height_steps * subject.mill.step_m
    return SolidCut(lie, blade, blade + subject.mill.kerf_m, f"bed height {subject.height(move.height_steps)}")


def _parts(subject: Subject) -> tuple[SolidPart, ...]:
    names = [move.comes_off for move in subject.plan.moves if isinstance(move, Pass)]
    return tuple(_part(subject, name) for name in [*names, last_name(subject.plan)])


def _part(subject: Subject, name: str) -> SolidPart:
    thickness = subject.thickness(name)
    if not name or not subject.kept(name):
        return SolidPart(name, subject.short(name) if name else "", name or "what stays on the bed", False)
    return SolidPart(name, subject.short(name), f"{name}, {thickness}" if thickness else name, True)


def _piece(piece: Piece) -> SolidPiece:
    assert piece.to_log is not None
    low, high = (_edge(piece, edge, piece.to_log) for edge in (piece.low_y_m, piece.high_y_m))
    return SolidPiece(piece.name, low, high, piece.sawn_edges)


def _edge(piece: Piece, y_m: Array, to_log: Placing) -> Edge:
    faces = []
    for face, z in enumerate((-piece.thickness_m / 2, 0.0, piece.thickness_m / 2)):
        points = np.column_stack([piece.along_m, y_m[face], np.full(len(piece.along_m), z)])
        faces.append(tuple(_point(point) for point in to_log.there(points)))
    return tuple(faces)


def _point(point: Array) -> Vector | None:
    x, y, z = (_rounded(float(c)) for c in point)
    return None if isnan(x) or isnan(y) or isnan(z) else (x, y, z)


def _rounded(metres: float) -> float:
    return round(metres, TENTH_MM)


def _nested(array: Array) -> Any:
    """An array of any dimensions as tuples of tuples, to a tenth of a millimetre."""
    if array.ndim == 1:
        return tuple(_rounded(float(v)) for v in array)
    return tuple(_nested(row) for row in array)
