"""Off a photo: how thick and how long a log or a stem is, from one picture with something of known length in it, and how sure.

What was tapped (or measured on a print) lies in one plane, which stands nearly square to the camera's axis and is seen by a
pinhole as long as those of phones. The known thing fixes how far that plane is; how slanting it stands, how much nearer the known
thing lies and is turned, the length of the lens and every tap are in doubt, and the sizes are worked out in every scenario.

photo.slant_x, .slant_y   slope of the plane to the right and downwards [-]
photo.nearer              how much nearer than the plane the known thing lies [m]
photo.turned              how far the known thing is turned out of it [rad]
photo.lens                logarithm of the lens's length over what phones have
photo.oval                one diameter over the mean of all, less 1
photo.tap.N               the N-th number of all taps, known thing first [px]
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import dist, pi

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios
from waney.logs.lens import FOCAL, FOCAL_SPREAD
from waney.logs.measured import Point
from waney.logs.outline import centroid
from waney.logs.rounds import OVALITY
from waney.units.share import print_share

Array = NDArray[np.float64]
Points = Sequence[Point]

LEAST_OUTLINE = 8
"""Taps that go round an end."""
LEAST_PX = 12.0
"""Two taps nearer than so many errors of a tap give no length: ours."""
MOST_OFF = 0.6
"""Half a range over its size from which nothing was read: ours."""
LAID_OUT_PX = (4000, 3000)
"""A picture on which lengths from a print are laid out; any size does."""
BY_RULE = 0.002
"""Standard error of a mark read with a rule on a print or a screen, over the picture's longer side:
half a millimetre of 25 cm. Ours."""
READ = Basis(Ground.READING, "a photo", "something of known length in it")
OURS = Basis(Ground.DEFAULT, "", "how photos of wood are taken")


class NotReadable(Problem):
    """Taps that give no size."""


class View(StrEnum):
    """What the photo shows."""

    BUTT = "the butt end"
    THIN = "the thin end"
    SIDE = "the stem from the side"


class Lies(StrEnum):
    """Where the known thing lies."""

    ON_IT = "on the wood"
    BESIDE = "beside it"


SLANT = {View.BUTT: 0.15, View.THIN: 0.15, View.SIDE: 0.27}
"""Spread of the slope of what is seen, each way: nine photos of ten within 14 degrees of square to an end,
and 24 to a stem. Ours, no source."""
STEEPEST = 0.7
"""No slope is steeper: it would be seen. Ours."""
NEARER = {
    (View.BUTT, Lies.ON_IT): Estimate(0.005, -0.02, 0.03, OURS),
    (View.BUTT, Lies.BESIDE): Estimate(0.0, -0.20, 0.20, OURS),
    (View.THIN, Lies.ON_IT): Estimate(0.005, -0.02, 0.03, OURS),
    (View.THIN, Lies.BESIDE): Estimate(0.0, -0.20, 0.20, OURS),
    (View.SIDE, Lies.ON_IT): Estimate(0.12, -0.05, 0.35, OURS),
    (View.SIDE, Lies.BESIDE): Estimate(0.0, -0.50, 0.50, OURS),
}
"""How much nearer the known thing lies than the wood's edges that are seen [m]; on a stem up to half its thickness.
Ours, no source."""
TURNED = {Lies.ON_IT: 0.05, Lies.BESIDE: 0.19}
"""Spread of how far it is turned out of the plane [rad]. Ours, no source."""


@dataclass(frozen=True)
class Tapped:
    """Places in the picture's own pixels. known: both ends of something known_m long; across: both sides of the wood, or nothing;
    outline: round an end, or nothing; along: both ends of the stem, or nothing; error_px: standard error of a tap.

    Raises NotReadable, BadOutline for what gives no size.
    """

    size_px: tuple[int, int]
    view: View
    lies: Lies
    known_m: float
    known: tuple[Point, Point]
    across: tuple[Point, ...] = ()
    outline: tuple[Point, ...] = ()
    along: tuple[Point, ...] = ()
    error_px: float = 3.0

    def __post_init__(self) -> None:
        if min(self.size_px) < 1 or self.error_px <= 0.0:
            raise NotReadable("The size of the picture is not known; choose it anew.")
        if not 0.05 <= self.known_m <= 10.0:
            raise NotReadable(f"The known length is {self.known_m:g} m; take something between 5 cm and 10 m (2 in and 33 ft).")
        if not (self.across or self.outline or self.along):
            raise NotReadable("Nothing of the wood was tapped: tap both sides of it, or round its end, or both ends of the stem.")
        if self.outline and len(self.outline) < LEAST_OUTLINE:
            raise NotReadable(f"{len(self.outline)} points round the end; {LEAST_OUTLINE} or more are needed.")
        if self.outline and self.view is View.SIDE:
            raise NotReadable("From the side no end is seen round; tap both sides of the stem.")
        if self.along and self.view is not View.SIDE:
            raise NotReadable("How long it is shows from the side alone; say that the photo shows the stem from the side.")
        if self.outline:
            centroid(np.array(self.outline, dtype=np.float64))  # refuses an outline that encloses nothing
        for what, ends in (("the known thing", self.known), ("the wood", self.across), ("the stem", self.along)):
            if ends and (len(ends) != 2 or dist(*ends) < LEAST_PX * self.error_px):
                raise NotReadable(
                    f"The taps on both ends of {what} are too near each other to read; "
                    "tap two places, or take a photo from nearer."
                )

    @property
    def places(self) -> Array:
        """All taps, (n, 2): known thing, across, outline, along."""
        return np.array([*self.known, *self.across, *self.outline, *self.along], dtype=np.float64)


def on_print(
    view: View, lies: Lies, known_m: float, longer_side: float, known: float, across: float | None, along: float | None
) -> Tapped:
    """What a rule measured on a print or a screen, all in one unit: the picture's longer side, the known thing, the wood.

    Nobody says where in the picture they lie: the wood is taken in its middle, the known thing at its end and square to it, which
    leaves most in doubt. Raises NotReadable.
    """
    if min(longer_side, known, across or 1.0, along or 1.0) <= 0.0 or max(known, across or 0.0, along or 0.0) > 1.3 * longer_side:
        raise NotReadable("On the picture each of them must be above zero, and the picture's longer side the longest.")
    wide, tall = LAID_OUT_PX
    times, reach = wide / longer_side, max(across or 0.0, along or 0.0) / 2.0

    def level(length: float | None) -> tuple[Point, ...]:
        half = times * (length or 0.0) / 2.0
        return ((wide / 2.0 - half, tall / 2.0), (wide / 2.0 + half, tall / 2.0)) if length else ()

    at, half = wide / 2.0 + times * reach, times * known / 2.0
    ends = ((at, tall / 2.0 - half), (at, tall / 2.0 + half))
    return Tapped((wide, tall), view, lies, known_m, ends, level(across), (), level(along), BY_RULE * wide)


@dataclass(frozen=True)
class Sizes:
    """What was read; None: not tapped. diameter_m: of the circle as large as the end, over what was tapped."""

    view: View
    diameter_m: Estimate | None
    length_m: Estimate | None


def sizes_off(tapped: Tapped, scenarios: Scenarios) -> Sizes:
    """Diameter and length with their ranges. Raises NotReadable where half a range is too much of the size."""
    rays = _rays(tapped, scenarios)
    spots = _on_plane(rays, _slopes(tapped, scenarios))
    scale = _scale(tapped, spots[:, :2], scenarios)
    across, outline, along = np.split(spots[:, 2:], np.cumsum([len(tapped.across), len(tapped.outline)]), axis=1)
    thick = None
    if tapped.outline:
        thick = scale * _as_round(outline, _gaps(np.array(tapped.outline)))
    elif tapped.across:
        thick = scale * _lengths(across) / (1.0 + OVALITY / 2.0 / Z_95 * scenarios.column("photo.oval"))
    long = scale * _lengths(along) if tapped.along else None
    return Sizes(tapped.view, _read("thickness", thick), _read("length", long))


def spread_of(size: Estimate) -> float:
    """The wider half of a size's range over the size [-]."""
    return max(size.high - size.likely, size.likely - size.low) / size.likely


def _rays(tapped: Tapped, scenarios: Scenarios) -> Array:
    """Where each tap points, in lengths of the lens from the axis: (scenarios, taps, 2)."""
    places = tapped.places
    off = np.stack([scenarios.column(f"photo.tap.{i}") for i in range(places.size)], axis=1).reshape(-1, *places.shape)
    lens = FOCAL * max(tapped.size_px) * np.exp(FOCAL_SPREAD * scenarios.column("photo.lens"))
    rays: Array = (places - np.array(tapped.size_px) / 2.0 + tapped.error_px * off) / lens[:, None, None]
    return rays


def _slopes(tapped: Tapped, scenarios: Scenarios) -> Array:
    """(scenarios, 2)."""
    drawn = SLANT[tapped.view] * np.stack([scenarios.column(f"photo.slant_{axis}") for axis in "xy"], axis=1)
    slopes: Array = np.clip(drawn, -STEEPEST, STEEPEST)
    return slopes


def _on_plane(rays: Array, slopes: Array) -> Array:
    """Where rays meet the plane that is 1 away on the axis: (scenarios, taps, 3)."""
    away = 1.0 / np.maximum(1.0 - np.einsum("nti,ni->nt", rays, slopes), 0.2)
    return np.concatenate([away[..., None] * rays, away[..., None]], axis=2)


def _scale(tapped: Tapped, known: Array, scenarios: Scenarios) -> Array:
    """How far the wood's plane is on the axis [m], (scenarios,)."""
    turned = np.cos(TURNED[tapped.lies] * scenarios.column("photo.turned"))
    nearer = scenarios.values("photo.nearer", NEARER[tapped.view, tapped.lies])
    scale: Array = np.maximum(tapped.known_m * turned / _lengths(known) + nearer, 0.05)
    return scale


def _lengths(ends: Array) -> Array:
    """Between two places in every scenario."""
    length: Array = np.linalg.norm(ends[:, 1] - ends[:, 0], axis=1)
    return length


def _gaps(ring: Array) -> Array:
    """Angles from tap to tap about the middle of them [rad]."""
    across, down = (ring - centroid(ring)).T
    angles = np.unwrap(np.arctan2(down, across))
    gaps: Array = np.abs(np.diff(angles, append=angles[0] + np.sign(angles[-1] - angles[0]) * 2.0 * pi))
    return gaps


def _as_round(ring: Array, gaps: Array) -> Array:
    """Diameter of the circle that has such a polygon in it: straight lines between taps cut wood off."""
    twice = np.linalg.norm(np.sum(np.cross(ring, np.roll(ring, -1, axis=1)), axis=1), axis=1)
    diameter: Array = 2.0 * np.sqrt(twice / np.sum(np.sin(gaps)))
    return diameter


def _read(what: str, sizes: Array | None) -> Estimate | None:
    if sizes is None:
        return None
    low, likely, high = (float(each) for each in np.quantile(sizes, (0.05, 0.5, 0.95)))
    found = Estimate(likely, low, high, READ, 0.0)
    if spread_of(found) > MOST_OFF:
        raise NotReadable(
            f"The {what} comes out give or take {print_share(spread_of(found))}, which says nothing; "
            "take a photo from farther off, with something longer in it."
        )
    return found
