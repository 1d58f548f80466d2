"""Sizes off a photo: drawn ends and stems under a camera of our own, the truth within the range; what is no size is refused."""

from __future__ import annotations

from math import cos, pi, sin, sqrt

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.logs.measured import Point
from waney.logs.off_photo import Lies, NotReadable, Sizes, Tapped, View, on_print, sizes_off, spread_of

Array = NDArray[np.float64]
N = Scenarios(seed=3)
WIDE, TALL = 4032, 3024
SCENES = 250


class Shot:
    """A pinhole with one lens term, as phones have, seeing places (n, 3) [m]; z away from it."""

    def __init__(self, rng: np.random.Generator, tap_px: float = 5.0) -> None:
        self.rng, self.tap_px = rng, tap_px
        self.focal_px = rng.uniform(0.66, 0.86) * WIDE
        self.bent = rng.uniform(-0.06, 0.02)

    def taps(self, places: Array) -> tuple[Point, ...]:
        x, y = places[:, 0] / places[:, 2], places[:, 1] / places[:, 2]
        bend = self.focal_px * (1.0 + self.bent * (x**2 + y**2))
        seen = np.column_stack([WIDE / 2 + bend * x, TALL / 2 + bend * y]) + self.rng.normal(0.0, self.tap_px, (len(places), 2))
        return tuple((float(u), float(v)) for u, v in seen)


def leaning(rng: np.random.Generator, most_degrees: float) -> Array:
    """Two directions of a plane that leans up to so much from square, any way: (2, 3)."""
    lean, way = np.radians(rng.uniform(0.0, most_degrees)), rng.uniform(0.0, 2.0 * pi)
    along = np.array([cos(way) * cos(lean), sin(way) * cos(lean), sin(lean)])
    return np.array([along, [-sin(way), cos(way), 0.0]])


def level(plane: Array, degrees: float) -> Array:
    """A direction in a plane that looks level in the picture, turned by so much."""
    right = np.linalg.solve(plane[:, :2].T, [cos(np.radians(degrees)), sin(np.radians(degrees))])
    found: Array = right @ plane
    return found / np.linalg.norm(found)


def an_end(seed: int, lies: Lies, outlined: bool) -> tuple[float, Tapped]:
    """An oval, wavy end and a stick; how thick the end truly is, and the taps."""
    rng = np.random.default_rng(seed)
    thick, shot = rng.uniform(0.2, 1.1), Shot(rng)
    plane, away = leaning(rng, 20.0), rng.uniform(1.6, 5.0) * max(thick, 0.5)
    middle = np.array([rng.uniform(-0.1, 0.1) * away, rng.uniform(-0.1, 0.1) * away, away])
    turn = np.linspace(0.0, 2.0 * pi, 720, endpoint=False)
    radii = 1.0 + rng.uniform(0.0, 0.04) * np.cos(2 * (turn - rng.uniform(0, pi))) + 0.01 * np.cos(5 * turn)
    radii *= thick / 2.0 / sqrt(np.mean(radii**2))
    rim = middle + (radii * np.array([np.cos(turn), np.sin(turn)])).T @ plane
    stick, way = rng.uniform(0.25, 0.6), level(plane, rng.uniform(-30.0, 30.0))
    near = rng.uniform(-0.01, 0.025) if lies is Lies.ON_IT else rng.uniform(-0.2, 0.2)
    out = np.radians(rng.uniform(-4.0, 4.0) if lies is Lies.ON_IT else rng.uniform(-15.0, 15.0))
    way = cos(out) * way + sin(out) * np.cross(plane[0], plane[1])
    side = np.array([0.0, rng.uniform(-0.3, 0.3) * thick if lies is Lies.ON_IT else 0.6 * thick, 0.0])
    known = shot.taps(middle + side - [0.0, 0.0, near] + np.array([[-0.5], [0.5]]) * stick * way)
    if outlined:
        taps = {"outline": shot.taps(rim[np.sort(rng.choice(24, 16, replace=False)) * 30])}
    else:
        at = int(rng.integers(0, 360))
        taps = {"across": shot.taps(rim[[at, at + 360]])}
    view = View.BUTT if seed % 2 else View.THIN
    return thick, Tapped((WIDE, TALL), view, lies, stick, known[:2], error_px=5.0, **taps)  # type: ignore[arg-type]


def a_stem(seed: int, lies: Lies) -> tuple[float, float, Tapped]:
    """A straight stem from the side, a stick on it or near it; its thickness where it was tapped, its length, the taps."""
    rng = np.random.default_rng(seed)
    long, thick, shot = rng.uniform(2.0, 6.0), rng.uniform(0.25, 0.8), Shot(rng)
    lean, rise = np.radians(rng.uniform(-25.0, 25.0)), np.radians(rng.uniform(-12.0, 12.0))
    axis = np.array([cos(rise) * cos(lean), sin(rise), cos(rise) * sin(lean)])
    away = rng.uniform(1.0, 2.0) * long
    middle = np.array([0.0, rng.uniform(-0.05, 0.05) * away, away])
    ends = middle + np.array([[-0.5], [0.5]]) * long * axis
    sides = middle + rng.uniform(-0.3, 0.3) * long * axis + np.array([[0.0, -0.5, 0.0], [0.0, 0.5, 0.0]]) * thick
    stick, out = rng.uniform(0.8, 2.0), np.radians(rng.uniform(-4.0, 4.0) if lies is Lies.ON_IT else rng.uniform(-15.0, 15.0))
    way = cos(out) * axis + sin(out) * np.cross(axis, [0.0, 1.0, 0.0])
    near = rng.uniform(0.0, thick / 2.0) if lies is Lies.ON_IT else rng.uniform(-0.35, 0.35)
    spot = middle + rng.uniform(-0.35, 0.35) * long * axis - [0.0, 0.0, near] + [0.0, 0.3 * thick, 0.0]
    known = shot.taps(spot + np.array([[-0.5], [0.5]]) * stick * way)
    taps = {"across": shot.taps(sides), "along": shot.taps(ends)}
    return thick, long, Tapped((WIDE, TALL), View.SIDE, lies, stick, known[:2], error_px=5.0, **taps)  # type: ignore[arg-type]


def within(truth: float, size: Estimate | None) -> bool:
    assert size is not None
    return size.low <= truth <= size.high


@pytest.mark.parametrize("lies", Lies)
@pytest.mark.parametrize("outlined", [False, True], ids=["both sides", "round it"])
def test_the_thickness_of_drawn_ends_lies_within_its_range_nine_times_of_ten(lies: Lies, outlined: bool) -> None:
    """And the ranges are no wider than they must be: with the stick on the end half of them are within a tenth."""
    drawn = [an_end(seed, lies, outlined) for seed in range(SCENES)]
    read = [(truth, sizes_off(tapped, N).diameter_m) for truth, tapped in drawn]
    assert sum(within(*one) for one in read) >= 0.9 * SCENES
    middle = float(np.median([spread_of(size) for _, size in read if size is not None]))
    assert middle < (0.1 if lies is Lies.ON_IT else 0.2)


@pytest.mark.parametrize("lies", Lies)
def test_thickness_and_length_of_drawn_stems_lie_within_their_ranges_nine_times_of_ten(lies: Lies) -> None:
    drawn = [a_stem(seed, lies) for seed in range(SCENES)]
    read = [(thick, long, sizes_off(tapped, N)) for thick, long, tapped in drawn]
    assert sum(within(thick, sizes.diameter_m) for thick, _, sizes in read) >= 0.9 * SCENES
    assert sum(within(long, sizes.length_m) for _, long, sizes in read) >= 0.9 * SCENES
    assert float(np.median([spread_of(sizes.length_m) for *_, sizes in read if sizes.length_m])) < 0.2


def plain(
    known_px: float = 1000.0, across_px: float = 1500.0, error_px: float = 3.0, known_m: float = 0.3, turn: float = 0.0
) -> Sizes:
    """A stick above the end, both turned by so much about the middle of the picture."""
    spin = np.array([[cos(turn), -sin(turn)], [sin(turn), cos(turn)]])

    def ends(length: float, down: float) -> tuple[Point, ...]:
        found = np.array([[-length / 2, down], [length / 2, down]]) @ spin.T + [WIDE / 2, TALL / 2]
        return tuple((float(x), float(y)) for x, y in found)

    known = ends(known_px, 400.0)
    return sizes_off(
        Tapped((WIDE, TALL), View.BUTT, Lies.ON_IT, known_m, (known[0], known[1]), ends(across_px, 0.0), error_px=error_px), N
    )


def thick(sizes: Sizes) -> Estimate:
    assert sizes.diameter_m is not None
    return sizes.diameter_m


@settings(max_examples=40, deadline=None)
@given(st.floats(200, 2500), st.floats(200, 2500), st.floats(0.1, 1.5), st.floats(0, 2 * pi))
def test_the_size_is_the_share_of_the_known_thing_however_the_phone_is_held(
    known: float, across: float, metres: float, turn: float
) -> None:
    """By hand: 1,500 pixels beside 1,000 that are 30 cm are 45 cm. Doubts are nearly even, and leave the middle within 4 %."""
    try:
        size = thick(plain(known, across, known_m=metres, turn=turn))
    except NotReadable:
        assume(False)
    assert size.likely == pytest.approx(metres * across / known, rel=0.04)
    assert size.low < size.likely < size.high


@settings(max_examples=20, deadline=None)
@given(st.floats(1.0, 15.0), st.floats(1.3, 3.0))
def test_a_coarser_tap_or_a_shorter_known_thing_never_narrows_the_range(error: float, times: float) -> None:
    fine, coarse = thick(plain(error_px=error)), thick(plain(error_px=times * error))
    long, short = thick(plain(1200.0, error_px=error)), thick(plain(1200.0 / times, error_px=error, known_m=0.3 / times))
    assert spread_of(coarse) >= spread_of(fine) - 0.005
    assert spread_of(short) >= spread_of(long) - 0.005


def test_a_round_end_tapped_at_few_places_is_not_read_too_thin() -> None:
    """Eight corners enclose a tenth less than the circle through them: 8/(2 pi) sin(2 pi/8) = 0.9003."""
    ring = tuple((WIDE / 2 + 600.0 * cos(k * pi / 4), TALL / 2 + 600.0 * sin(k * pi / 4)) for k in range(8))
    known = ((WIDE / 2 - 500.0, TALL / 2), (WIDE / 2 + 500.0, TALL / 2))
    size = thick(sizes_off(Tapped((WIDE, TALL), View.THIN, Lies.ON_IT, 0.5, known, outline=ring), N))
    assert size.likely == pytest.approx(0.6, rel=0.02)


def test_a_print_measured_with_a_rule_gives_the_same_size_with_a_wider_range() -> None:
    tapped = thick(plain())
    ruled = thick(sizes_off(on_print(View.BUTT, Lies.ON_IT, 0.3, 150.0, 150.0 * 1000 / WIDE, 150.0 * 1500 / WIDE, None), N))
    assert ruled.likely == pytest.approx(tapped.likely, rel=0.03)
    assert spread_of(ruled) > spread_of(tapped)


END = {"size_px": (WIDE, TALL), "view": View.BUTT, "lies": Lies.ON_IT, "known_m": 0.3, "known": ((0.0, 0.0), (900.0, 0.0))}
SIDES = ((0.0, 50.0), (900.0, 50.0))


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ({}, "Nothing of the wood was tapped"),
        ({"across": SIDES, "known_m": 30.0}, "between 5 cm and 10 m"),
        ({"across": SIDES, "known": ((0.0, 0.0), (5.0, 0.0))}, "known thing are too near"),
        ({"across": ((0.0, 50.0), (2.0, 50.0))}, "the wood are too near"),
        ({"along": SIDES}, "from the side alone"),
        ({"outline": SIDES}, "2 points round the end"),
        ({"outline": SIDES * 4, "view": View.SIDE}, "no end is seen round"),
        ({"across": SIDES, "size_px": (0, 0)}, "choose it anew"),
    ],
)
def test_what_gives_no_size_is_refused_with_what_to_do(told: dict[str, object], says: str) -> None:
    with pytest.raises(NotReadable, match=says):
        Tapped(**{**END, **told})  # type: ignore[arg-type]


def test_a_size_that_says_nothing_is_refused() -> None:
    near = Tapped(**{**END, "lies": Lies.BESIDE, "known": ((0.0, 0.0), (3900.0, 0.0)), "known_m": 0.1, "across": SIDES})  # type: ignore[arg-type]
    with pytest.raises(NotReadable, match="says nothing"):
        sizes_off(near, N)
    with pytest.raises(NotReadable, match="longer side"):
        on_print(View.BUTT, Lies.ON_IT, 0.3, 100.0, 40.0, 200.0, None)
