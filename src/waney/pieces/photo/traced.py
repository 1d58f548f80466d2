"""Traced: a piece's outline from taps round it in a photo with a target, its area with its range, and what would narrow it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Z_95, Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.figures.scenarios import Scenarios, summed_up
from waney.pieces.outline import BadEdge, Outline, lying_along, ring_area
from waney.pieces.photo.camera import Camera
from waney.pieces.photo.fit import FREE_LEVEL_M, NOT_FLAT, TOO_FAR, BadTaps, Seen, TappedTarget, fitted, seen_by

Array = NDArray[np.float64]
Points = Sequence[tuple[float, float]]

READ = Basis(Ground.READING, "a photo with the printed target")
GUESS = Basis(Ground.DEFAULT, "", "where a target lies that is not on the face")
ON_FACE = Estimate(0.0, -0.0015, 0.0015, Basis(Ground.DEFAULT, "", "a print that lies flat"))
"""How far the face stands over the target [m] when it lies on it: paper and its curl."""
BESIDE = Estimate(0.0, -0.080, 0.080, GUESS)
"""The same when it lies somewhere else near by, lower or higher."""
NOT_LOOKED = Estimate(BESIDE.likely, BESIDE.low, BESIDE.high, GUESS)
"""The same while nobody looked where the targets lay: as if beside, until a taped length can show it."""
UNTAPED = (
    "Tape its length too and write it down: nothing else shows for certain that the targets lie on its face. Were they "
    "{far:.0f} mm off, its area would be wrong by {share:.0f} %, which this range does not hold."
)
PRINT = 0.002
"""Half of the 90 % range of a measured print, of the length of its long row [-]: 0.45 mm of 225, a rule's mark."""
UNMEASURED = 0.01
"""The same where nobody measured it: printers fit pages to their margins."""
WIDE = 0.01
"""Half a range, over the area, from which a second target is asked for."""


NOTICED_M, SURE = 0.01, 4.0
"""Targets on one face lie level to this [m], and a difference counts from so many of its own errors on: ours, choices."""
DOUBTED_M, DOUBTED = 0.004, 2.0
"""From so much on it widens the range, though nothing is said of it."""
TOLD = 0.005
"""A tape that differs by less than this share says nothing: the area is then within 1 %."""
TAPE_M = 0.003
"""Standard error of a length that was taped beside the photo [m]: common practice, no source."""
FARTHEST_M = 0.1
"""A target farther off the face than this is a slip of the tape or of the taps [m]: ours."""
FOLLOWED = 40
"""So few places round a piece were joined by straight lines; an edge that the page followed has far more."""
CORNER_RAD = 0.785
"""An outline that turns by more than 45 degrees at a tap has a corner there."""
SHARP_PX = 1.0
"""Marks that were found in the picture are known better than this [px], tapped ones are not."""
LAY = "Lay the targets on the face."
LOOK = (
    "Lay the targets on the face and say that they lie there, or tape its length: nobody looked, so they are taken to lie up to "
    "{far:.0f} mm over it or under it."
)
SHARP = "on a sharp photo the printed marks are found by themselves, and the line follows the edge."
FOLLOW = (
    "Let the line follow the edge in the photo, between taps near its corners: straight lines from tap to tap miss its waves."
)


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
    over_m: Estimate = NOT_LOOKED
    measured: bool = True
    marks_px: tuple[tuple[tuple[float, float], ...], ...] = ()
    """rings round knots and whatever else shows on the face"""
    taped_long_m: float | None = None
    taped_wide_m: float | None = None
    """what a tape says of the same piece: from end to end, and across its widest place"""

    @property
    def as_taped(self) -> Photo:
        """Where nobody looked but its length was taped, targets are taken to lie on the face: the tape shows if they do not."""
        return replace(self, over_m=ON_FACE) if self.over_m is NOT_LOOKED and self.taped_long_m is not None else self


@dataclass(frozen=True, eq=False)
class Traced:
    """outline: laid along x from its end at 0; away_m: the camera over the face; over_m: how far the face stands over the
    targets, as it was taken; advice: what would narrow the range."""

    outline: Outline
    marks_m: tuple[Array, ...]
    """rings of what was tapped besides, in the frame of the outline"""
    area_m2: Estimate
    away_m: float
    over_m: Estimate
    advice: tuple[str, ...]


def traced(photo: Photo, scenarios: Scenarios) -> Traced:
    """The outline that was tapped. Raises BadTaps, BadPhoto, BadEdge.

    Targets of which nobody said where they lay are taken to lie beside, or, with its length taped, on the face. Those on it are
    believed as long as they lie level with each other and a tape agrees.
    Doubts: photo.camera (what the fit leaves open), photo.over, photo.print, photo.edge (taps round the piece, together),
    photo.chords (what straight lines between taps cut off or add).
    """
    rings = [np.array(ring, dtype=np.float64) for ring in (photo.edge_px, *photo.holes_px)]
    if min(len(ring) for ring in rings) < 3:
        raise BadEdge("An outline needs three taps at least, in order round the piece.")
    photo = photo.as_taped
    seen, over, notes = _level(photo)
    found = _laid_out(photo, seen, over, rings, scenarios)
    by_tape = _by_tape(photo, seen.camera, found)
    if by_tape is not None:
        over, note = by_tape
        notes = (*notes, note)
        found = _laid_out(photo, seen, over, rings, scenarios)
    return replace(found, advice=tuple(_advice(photo, found, notes)))


def _laid_out(photo: Photo, seen: Seen, over: Estimate, rings: list[Array], scenarios: Scenarios) -> Traced:
    """The outline on a face that stands so far over the targets."""
    camera, at = seen.camera, over.likely
    if camera.place_m[2] <= over.high:
        raise BadPhoto("The camera would lie in the wood; look at the taps on the target and how high the face stands over it.")
    flat = [camera.on_plane(ring, at) for ring in rings]
    turn, shift = lying_along(flat[0], _to_the_right(camera, at, rings[0]))
    outline = Outline(flat[0] @ turn.T + shift, tuple(hole @ turn.T + shift for hole in flat[1:]))
    area = _area(replace(photo, over_m=over), seen, rings, outline.area_m2, scenarios)
    marks = (camera.on_plane(np.array(ring, dtype=np.float64), at) @ turn.T + shift for ring in photo.marks_px)
    return Traced(outline, tuple(marks), area, float(camera.place_m[2]) - at, over, ())


def _level(photo: Photo) -> tuple[Seen, Estimate, tuple[str, ...]]:
    """The camera, and how far the face stands over the first target: where targets that are said to lie on it lie at several
    heights, anything from the lowest to the highest."""
    if photo.over_m is not ON_FACE or len(photo.targets) == 1:
        return seen_by(photo.size_px, photo.targets), photo.over_m, ()
    free = fitted(photo.size_px, photo.targets, FREE_LEVEL_M)
    far = [(height, error) for height, error in free.apart_m if abs(height) > max(DOUBTED * error, DOUBTED_M)]
    if not far:
        return seen_by(photo.size_px, photo.targets), photo.over_m, ()
    reach = Z_95 * max(error for _, error in far) + ON_FACE.high
    low, high = min(0.0, *(height for height, _ in far)), max(0.0, *(height for height, _ in far))
    if not any(abs(height) > max(SURE * error, NOTICED_M) for height, error in far):
        return seen_by(photo.size_px, photo.targets), Estimate(0.0, low - reach, high + reach, GUESS), ()
    if free.strays > TOO_FAR:
        raise BadTaps(NOT_FLAT)
    over = Estimate((low + high) / 2.0, low - reach, high + reach, GUESS)
    return free, over, (f"{LAY} One of them lies some {1000.0 * (high - low):.0f} mm higher than another.",)


def _by_tape(photo: Photo, camera: Camera, found: Traced) -> tuple[Estimate, str] | None:
    """Where the face would stand by what was taped; None where the photo agrees with it, or nothing was taped.

    From a camera lengths go with the distance: what is taped longer than it was traced lies farther off. A tape that is farther
    out than targets may lie is asked about instead.
    """
    traced_m = ((photo.taped_long_m, found.outline.length_m), (photo.taped_wide_m, _widest_m(found.outline)))
    pixel = found.away_m / camera.focal_px
    error = float(np.hypot(TAPE_M, 2.0 * photo.tap_error_px * pixel))  # both ends were tapped
    taped = [(tape / seen, error / seen) for tape, seen in traced_m if tape is not None]
    if not taped:
        return None
    weights = [1.0 / error**2 for _, error in taped]
    ratio = sum(weight * one for weight, (one, _) in zip(weights, taped, strict=True)) / sum(weights)
    tape = sum(weights) ** -0.5
    known = found.area_m2.width / found.area_m2.likely / 4.0 / Z_95  # of a length: half that of an area
    if abs(ratio - 1.0) <= max(TOLD, 3.0 * float(np.hypot(tape, known))):
        return None
    over = found.over_m.likely + found.away_m * (1.0 - ratio)
    if abs(over) > FARTHEST_M:
        return (
            BESIDE,
            f"The tape and the photo are {100.0 * abs(ratio - 1.0):.1f} % apart: look at what was taped and at the taps.",
        )
    reach = Z_95 * tape * found.away_m
    ends = (min(over, found.over_m.low) - reach, max(over, found.over_m.high) + reach)
    lower = "over" if over < 0 else "under"
    return Estimate(over, *ends, GUESS), f"{LAY} By the tape they lie some {1000.0 * abs(over):.0f} mm {lower} it."


def _widest_m(outline: Outline) -> float:
    """Across, at its widest place."""
    x = outline.edge_m[:, 0]
    low, high = outline.edges_at(np.linspace(float(x.min()), float(x.max()), 65)[1:-1])
    return float(np.nanmax(high - low))


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
    chords = _chord_error(photo, seen.camera, rings) * scenarios.column("photo.chords")
    # seen from one point, figures on planes side by side are alike: lengths go with the distance from the camera
    away = float(seen.camera.place_m[2]) - scenarios.values("photo.over", photo.over_m)
    nearer = away / (float(seen.camera.place_m[2]) - photo.over_m.likely)
    return summed_up(likely * nearer**2 * print_**2 + fit + noise + chords, likely, READ, hard_min=0.0)


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


def _chord_error(photo: Photo, camera: Camera, rings: list[Array]) -> float:
    """Standard error of the area from straight lines between taps [m2]: a curve that turns by an angle over a chord stands off it
    by an area of chord² · angle / 12. Corners, where it turns by more than 45 degrees, are no curve."""
    sum_ = 0.0
    for ring in rings:
        flat = camera.on_plane(ring, photo.over_m.likely)
        ways = np.roll(flat, -1, axis=0) - flat
        turns = np.angle(np.exp(1j * np.diff(np.unwrap(np.arctan2(ways[:, 1], ways[:, 0])), prepend=np.nan)))
        turns[0] = np.angle(np.exp(1j * (np.arctan2(*ways[0][::-1]) - np.arctan2(*ways[-1][::-1]))))
        turns = np.where(np.abs(turns) < CORNER_RAD, turns, 0.0)
        each = np.sum(ways**2, axis=1) * (np.abs(turns) + np.abs(np.roll(turns, -1))) / 24.0
        sum_ += float(np.sum(each**2))
    return float(np.sqrt(sum_))


def _advice(photo: Photo, found: Traced, notes: tuple[str, ...]) -> Iterator[str]:
    area = found.area_m2
    yield from notes
    if photo.over_m is NOT_LOOKED and not notes:
        yield LOOK.format(far=1000.0 * NOT_LOOKED.high)
    elif photo.over_m is not ON_FACE and not notes:
        yield f"{LAY} One that lies lower or higher makes the piece look larger or smaller."
    if not photo.measured:
        yield "Measure the long row on the print, mark 1 to mark 10, and write its length: printers shrink pages."
    wide = area.width / 2.0 > WIDE * area.likely
    if len(photo.targets) == 1 and wide:
        yield "Lay one target near each end: between them the slant of the view and the lens are known better."
    elif photo.over_m is ON_FACE and wide and max(one.error_px for one in photo.targets) > SHARP_PX:
        yield f"By taps alone its area is known to {50.0 * area.width / area.likely:.1f} %: {SHARP}"
    if len(photo.edge_px) < FOLLOWED:
        yield FOLLOW
    if photo.over_m is ON_FACE and not notes and photo.taped_long_m is None and photo.taped_wide_m is None:
        yield UNTAPED.format(far=1000.0 * BESIDE.high, share=100.0 * ((1.0 + BESIDE.high / found.away_m) ** 2 - 1.0))
