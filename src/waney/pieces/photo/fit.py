"""Where the camera was, its focal length and its lens, from taps on one target or several on the same plane, by least squares.

Priors hold what taps cannot tell: the focal length of a phone, its lens. Their spread goes on into the answer's range.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import log

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from waney.figures.problem import Problem
from waney.logs.lens import FOCAL, FOCAL_SPREAD
from waney.pieces.photo.camera import Camera, first_guess
from waney.pieces.photo.target import marks_m

Array = NDArray[np.float64]

LENS, LENS_SPREAD = -0.05, 0.08
"""k1 of phones, about -0.15 to 0.05, and its spread."""
OWN = 8
"""Unknowns of the camera: log of the focal length over the longer side, k1, turn (3), shift over the same (3), so that a longer
focal length from farther off is one unknown, not two. Each further target adds four: x, y, angle, height over the first."""
EACH = 4
LEVEL_SPREAD_M = 0.0009
"""Spread of that height where both lie on the face [m]: paper and its curl."""
FEWEST = 4
SETTLED = 1e-6
"""Share of the misfit, and of the unknowns, that a further step must change to be worth it."""
STEP = 1e-3
"""Of an unknown's standard error, to take slopes by."""
FREE_LEVEL_M = 0.05
"""The same spread while it is looked how high they lie, and while marks are looked through [m]."""
NOT_FLAT = "The taps do not fit a flat target; look at the numbers of the marks, and whether the print lies flat."
TOO_FAR = 6.0
"""Taps this many times farther off than their noise do not belong to the marks they were given for."""


class BadTaps(Problem):
    """Taps that no flat target can have."""


@dataclass(frozen=True)
class TappedTarget:
    """Pixels of marks by their number (1 to 12), and how well each is known (one standard error) [px]. scale: true size of the
    print over that of the sheet."""

    taps_px: Mapping[int, tuple[float, float]]
    error_px: float
    scale: float = 1.0

    def __post_init__(self) -> None:
        if len(self.taps_px) < FEWEST or not set(self.taps_px) <= set(range(1, 13)):
            raise BadTaps("A target needs four of its marks tapped at least, each with its number, 1 to 12.")

    @property
    def places_m(self) -> Array:
        """Where the tapped marks lie on the sheet, (n, 2)."""
        return self.scale * marks_m()[[number - 1 for number in self.taps_px]]

    @property
    def pixels(self) -> Array:
        """Where they were tapped, (n, 2)."""
        return np.array(list(self.taps_px.values()), dtype=np.float64)


@dataclass(frozen=True, eq=False)
class Seen:
    """The camera that was found, how unknowns may stray (covariance), and how far taps stray from it, in their own errors; off:
    each tap, across and down, target by target."""

    unknowns: Array
    covariance: Array
    size_px: tuple[int, int]
    strays: float
    off: Array

    @property
    def camera(self) -> Camera:
        """The likely camera; the world is that of the first target."""
        return camera_of(self.size_px, self.unknowns)

    @property
    def apart_m(self) -> tuple[tuple[float, float], ...]:
        """How high each further target lies over the first, and how well that is known [m]: what paper on one face may do, where
        they lie alike."""
        at = range(OWN + EACH - 1, self.unknowns.size, EACH)
        return tuple((float(self.unknowns[k]), float(np.sqrt(self.covariance[k, k]))) for k in at)

    def error_of(self, figure: Callable[[Camera], float]) -> float:
        """Standard error of a figure that is read with the camera: its slope along each unknown, through the covariance.

        Straight, not drawn: focal length and distance make up for each other along a curve, and draws would leave it.
        """
        own = self.covariance[:OWN, :OWN]
        steps = STEP * np.sqrt(np.diag(own))
        slopes = np.empty(OWN)
        for k, step in enumerate(steps):
            aside = step * np.eye(OWN)[k]
            ahead, back = (camera_of(self.size_px, self.unknowns[:OWN] + way * aside) for way in (1.0, -1.0))
            slopes[k] = (figure(ahead) - figure(back)) / (2.0 * step)
        return float(np.sqrt(slopes @ own @ slopes))


def camera_of(size_px: tuple[int, int], unknowns: Array) -> Camera:
    """The camera of the first eight unknowns."""
    share = float(np.exp(unknowns[0]))
    return Camera(size_px, share * max(size_px), float(unknowns[1]), unknowns[2:5], share * unknowns[5:8])


def seen_by(size_px: tuple[int, int], targets: Sequence[TappedTarget], level_m: float = LEVEL_SPREAD_M) -> Seen:
    """Fit camera, lens and the places of further targets. level_m: spread of how high those lie over the first. Raises BadTaps
    where the marks do not fit."""
    found = fitted(size_px, targets, level_m)
    if found.strays > TOO_FAR:
        raise BadTaps(NOT_FLAT)
    return found


def fitted(size_px: tuple[int, int], targets: Sequence[TappedTarget], level_m: float = LEVEL_SPREAD_M) -> Seen:
    """The same, however badly they fit."""
    if not targets:
        raise BadTaps("A photo without a target has no scale; lay the printed target on the face.")
    start = _start(size_px, targets)

    def off(unknowns: Array) -> Array:
        return _off(size_px, targets, unknowns, level_m)

    found = least_squares(off, start, x_scale="jac", ftol=SETTLED, xtol=SETTLED, max_nfev=200)
    taps = 2 * sum(len(target.taps_px) for target in targets)
    strays = float(np.sqrt(np.mean(found.fun[:taps] ** 2)))
    slopes = np.asarray(found.jac, dtype=np.float64)
    covariance = np.linalg.inv(slopes.T @ slopes) * max(1.0, strays**2)
    return Seen(found.x, np.asarray(covariance, dtype=np.float64), size_px, strays, found.fun[:taps])


def _start(size_px: tuple[int, int], targets: Sequence[TappedTarget]) -> Array:
    first = targets[0]
    camera = first_guess(size_px, FOCAL * max(size_px), first.places_m, first.pixels)
    if camera.place_m[2] <= 0.0:
        raise BadTaps("The marks run the wrong way round; 1, 2, 3 stand in the first row, 10, 11, 12 in the last.")
    own = np.concatenate([[log(FOCAL), 0.0], camera.turn, camera.shift_m / FOCAL])
    return np.concatenate([own, *(_laid(target.places_m, camera.on_plane(target.pixels)) for target in targets[1:])])


def _laid(marks: Array, met: Array) -> Array:
    """x, y, angle and height that lay a sheet's marks on points of the plane."""
    a, b = marks - marks.mean(axis=0), met - met.mean(axis=0)
    angle = np.arctan2(np.sum(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]), np.sum(a * b))
    return np.array([*(met.mean(axis=0) - _turned(marks.mean(axis=0)[None], angle)[0]), angle, 0.0])


def _turned(points: Array, angle: float) -> Array:
    c, s = np.cos(angle), np.sin(angle)
    turned: Array = points @ np.array([[c, s], [-s, c]])
    return turned


def placed(unknowns: Array, which: int, points_m: Array) -> Array:
    """Points of one target's sheet (n, 2) where that target lies in the world of the first, (n, 3)."""
    if which == 0:
        return np.column_stack([points_m, np.zeros(len(points_m))])
    x, y, angle, height = unknowns[OWN + EACH * (which - 1) : OWN + EACH * which]
    return np.column_stack([_turned(points_m, float(angle)) + np.array([x, y]), np.full(len(points_m), height)])


def _off(size_px: tuple[int, int], targets: Sequence[TappedTarget], unknowns: Array, level_m: float) -> Array:
    """Every tap off its mark, and the priors, each in its own standard error."""
    camera = camera_of(size_px, unknowns)
    rows = []
    for k, target in enumerate(targets):
        places = placed(unknowns, k, target.places_m)
        rows.append(((camera.seen(places) - target.pixels) / target.error_px).ravel())
    priors = [(unknowns[0] - log(FOCAL)) / FOCAL_SPREAD, (unknowns[1] - LENS) / LENS_SPREAD]
    return np.concatenate([*rows, priors, unknowns[OWN + EACH - 1 :: EACH] / level_m])
