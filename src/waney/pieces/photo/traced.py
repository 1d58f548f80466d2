"""Traced: a piece's outline from taps round it in a photo with a target, its area with its range, and what would narrow it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, summed_up
from waney.pieces.outline import BadEdge, Outline, lying_along, ring_area
from waney.pieces.photo.camera import Camera
from waney.pieces.photo.fit import Seen, TappedTarget, seen_by

Array = NDArray[np.float64]
Points = Sequence[tuple[float, float]]

READ = Basis(Ground.READING, "a photo with the printed target")
GUESS = Basis(Ground.DEFAULT, "", "where a target lies that is not on the face")
ON_FACE = Estimate(0.0, -0.0015, 0.0015, Basis(Ground.DEFAULT, "", "a print that lies flat"))
"""How far the face stands over the target [m] when it lies on it: paper and its curl."""
BESIDE = Estimate(0.0, -0.080, 0.080, GUESS)
"""The same when it lies somewhere else near by, lower or higher."""
PRINT = 0.002
"""Half of the 90 % range of a measured print, of the length of its long row [-]: 0.45 mm of 225, a rule's mark."""
UNMEASURED = 0.01
"""The same where nobody measured it: printers fit pages to their margins."""
WIDE = 0.01
"""Half a range, over the area, from which a second target is asked for."""


class BadPhoto(Problem):
    """A photo that cannot be what was said."""


@dataclass(frozen=True)
class Photo:
    """What was tapped. edge_px: round the piece in order; holes_px; tap_error_px: of one tap on the edge (standard error).

    over_m: how far the face stands over the targets; measured: whether the print's long row was measured.
    """

    size_px: tuple[int, int]
    targets: tuple[TappedTarget, ...]
    edge_px: tuple[tuple[float, float], ...]
    holes_px: tuple[tuple[tuple[float, float], ...], ...] = ()
    tap_error_px: float = 3.0
    over_m: Estimate = ON_FACE
    measured: bool = True
    marks_px: tuple[tuple[tuple[float, float], ...], ...] = ()
    """rings round knots and whatever else shows on the face"""


@dataclass(frozen=True, eq=False)
class Traced:
    """outline: laid along x from its end at 0; away_m: the camera over the face; advice: what would narrow the range."""

    outline: Outline
    marks_m: tuple[Array, ...]
    """rings of what was tapped besides, in the frame of the outline"""
    area_m2: Estimate
    away_m: float
    advice: tuple[str, ...]


def traced(photo: Photo, scenarios: Scenarios) -> Traced:
    """The outline that was tapped. Raises BadTaps, BadPhoto, BadEdge.

    Doubts: photo.camera (what the fit leaves open), photo.over, photo.print, photo.edge (taps round the piece, together).
    """
    rings = [np.array(ring, dtype=np.float64) for ring in (photo.edge_px, *photo.holes_px)]
    if min(len(ring) for ring in rings) < 3:
        raise BadEdge("An outline needs three taps at least, in order round the piece.")
    seen = seen_by(photo.size_px, photo.targets)
    camera = seen.camera
    if camera.place_m[2] <= photo.over_m.high:
        raise BadPhoto("The camera would lie in the wood; look at the taps on the target and how high the face stands over it.")
    over = photo.over_m.likely
    flat = [camera.on_plane(ring, over) for ring in rings]
    turn, shift = lying_along(flat[0], _to_the_right(camera, over, rings[0]))
    outline = Outline(flat[0] @ turn.T + shift, tuple(hole @ turn.T + shift for hole in flat[1:]))
    area = _area(photo, seen, rings, outline.area_m2, scenarios)
    marks = (camera.on_plane(np.array(ring, dtype=np.float64), over) @ turn.T + shift for ring in photo.marks_px)
    return Traced(outline, tuple(marks), area, float(camera.place_m[2]) - over, tuple(_advice(photo, area)))


def _to_the_right(camera: Camera, over_m: float, edge_px: Array) -> Array:
    """What is right in the picture, on the face."""
    middle = edge_px.mean(axis=0)
    left, right = camera.on_plane(np.array([middle, middle + np.array([1.0, 0.0])]), over_m)
    way: Array = right - left
    return way


def _area(photo: Photo, seen: Seen, rings: list[Array], likely: float, scenarios: Scenarios) -> Estimate:
    half = PRINT if photo.measured else UNMEASURED
    print_ = 1.0 + scenarios.column("photo.print") * half / Z_95
    fit = seen.error_of(lambda camera: _wood(camera, rings, photo.over_m.likely)) * scenarios.column("photo.camera")
    noise = _tap_noise(photo, seen.camera, rings) * scenarios.column("photo.edge")
    # seen from one point, figures on planes side by side are alike: lengths go with the distance from the camera
    away = float(seen.camera.place_m[2]) - scenarios.values("photo.over", photo.over_m)
    nearer = away / (float(seen.camera.place_m[2]) - photo.over_m.likely)
    return summed_up(likely * nearer**2 * print_**2 + fit + noise, likely, READ, hard_min=0.0)


def _wood(camera: Camera, rings: list[Array], height_m: float) -> float:
    edge, *holes = (ring_area(camera.on_plane(ring, height_m)) for ring in rings)
    return edge - sum(holes)


def _tap_noise(photo: Photo, camera: Camera, rings: list[Array]) -> float:
    """Standard error of the area from taps on the edge, each off by itself [m2]: half the chord over each, times its error."""
    sum_ = 0.0
    for ring in rings:
        flat = camera.on_plane(ring, photo.over_m.likely)
        aside = camera.on_plane(ring + np.array([1.0, 0.0]), photo.over_m.likely)
        metres = photo.tap_error_px * np.hypot(*(aside - flat).T)
        chords = np.hypot(*(np.roll(flat, -1, axis=0) - np.roll(flat, 1, axis=0)).T)
        sum_ += float(np.sum((chords / 2.0 * metres) ** 2))
    return float(np.sqrt(sum_))


def _advice(photo: Photo, area: Estimate) -> Iterator[str]:
    if photo.over_m is not ON_FACE:
        yield "Lay the target on the face: a target that lies lower or higher makes the piece look larger or smaller."
    if not photo.measured:
        yield "Measure the long row on the print, mark 1 to mark 10, and write its length: printers shrink pages."
    if len(photo.targets) == 1 and area.width / 2.0 > WIDE * area.likely:
        yield "Lay one target near each end: between them the slant of the view and the lens are known better."
