"""A shape from tape readings: exact where the readings are, repeatable, and inside its own limits."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.figures.scenarios import Scenarios, likely
from waney.logs.doubts import doubts, likely_shape
from waney.logs.frames import xy_to_clock
from waney.logs.measured import BarkReading, BendReading, Hidden, HiddenReading, Inside, MeasuredLog, PithReading, RoundReading
from waney.logs.rounds import NothingRead, TwiceRead
from waney.logs.shape import LogShape
from waney.logs.tape import build_shape
from waney.logs.volume import areas, volume_of

diameters = st.floats(0.15, 1.5)


def wood(at_m: float, *diameters_m: float, clock_h: float = 12.0) -> RoundReading:
    return RoundReading(at_m, Inside.WOOD, diameters_m, first_clock_h=clock_h)


def bark(at_m: float, *diameters_m: float) -> RoundReading:
    return RoundReading(at_m, Inside.BARK, diameters_m)


def a_log(*rounds: RoundReading, length_m: float = 3.0, **more: object) -> MeasuredLog:
    return MeasuredLog("a log", "", length_m, rounds, **({"butt_log": False} | more))  # type: ignore[arg-type]


@given(diameters, st.floats(0.5, 1.0), st.floats(0.6, 12.0))
@settings(max_examples=50, deadline=None)
def test_circles_read_exactly_keep_their_exact_volume(butt: float, ratio: float, length: float) -> None:
    top = butt * ratio
    shape = likely_shape(a_log(wood(0.0, butt, butt), wood(length, top, top), length_m=length))
    cone = pi * length / 12.0 * (butt**2 + butt * top + top**2)  # frustum of a cone, geometry
    assert volume_of(shape, bark=False) == pytest.approx(cone, rel=1e-9)


@given(diameters, st.floats(0.7, 1.4), st.floats(0.0, 11.9))
@settings(max_examples=50, deadline=None)
def test_two_callipers_make_an_ellipse_of_their_area(first: float, ratio: float, clock: float) -> None:
    second = first * ratio
    shape = likely_shape(a_log(wood(0.0, first, second, clock_h=clock), wood(3.0, first, second, clock_h=clock)))
    # exact: the outline is scaled to the ellipse's area
    assert areas(shape.surface(bark=False)[..., :2]) == pytest.approx(pi / 4.0 * first * second, rel=1e-9)


def width_along(shape: LogShape, clock_h: float) -> float:
    """Width of the butt outline along a clock direction [m]."""
    x, y = (np.cos(np.radians(90 + 30 * clock_h)), np.sin(np.radians(90 + 30 * clock_h)))
    along = shape.surface(bark=False)[0, :, :2] @ np.array([x, y])
    return float(along.max() - along.min())


@pytest.mark.parametrize("clock", [0.0, 1.0, 3.0, 4.0])
def test_each_calliper_is_found_again_along_its_own_direction(clock: float) -> None:
    shape = likely_shape(a_log(wood(0.0, 0.50, 0.40, clock_h=clock), wood(3.0, 0.4, 0.4)))
    # 72 points on an ellipse widened to keep its area: 0.06 % wider than what was read
    assert width_along(shape, clock) == pytest.approx(0.50, rel=1e-3)
    assert width_along(shape, clock + 3.0) == pytest.approx(0.40, rel=1e-3)


def test_a_girth_of_a_round_log_gives_its_circle() -> None:
    girth = RoundReading(1.5, Inside.WOOD, girth_m=pi * 0.4)
    shape = likely_shape(a_log(wood(0.0, 0.4, 0.4), girth, wood(3.0, 0.4, 0.4)))
    assert volume_of(shape, bark=False) == pytest.approx(pi / 4 * 0.16 * 3.0, rel=1e-9)


def test_bark_comes_off_a_diameter_taken_over_it() -> None:
    shape = likely_shape(a_log(bark(0.0, 0.5, 0.5), bark(3.0, 0.4, 0.4), bark=BarkReading(thickness_m=0.02)))
    wood_area, whole = (areas(shape.surface(bark=bark)[..., :2])[0] for bark in (False, True))
    # polygon of 72 points: thickness is laid on along rays, which reach 0.06 % beyond the circle
    assert wood_area == pytest.approx(pi / 4 * 0.46**2, rel=3e-4)
    assert whole == pytest.approx(pi / 4 * 0.50**2, rel=1e-3)


def test_bark_from_its_volume_share_fills_that_share() -> None:
    log = a_log(wood(0.0, 0.4, 0.4), wood(3.0, 0.3, 0.3), bark=BarkReading(share_of_wood_volume=0.15))
    shape = likely_shape(log)
    share = volume_of(shape, bark=True) / volume_of(shape, bark=False) - 1.0
    assert share == pytest.approx(0.15, abs=0.001)


def test_a_debarked_log_has_no_bark_and_no_doubt_about_it() -> None:
    log = a_log(bark(0.0, 0.5, 0.5), bark=BarkReading(none_left=True))
    assert not any("bark" in name for name in doubts(log))
    assert float(likely_shape(log).bark_m.max()) == 0.0


@given(st.floats(0.25, 11.75), st.floats(0.01, 0.2))
@settings(max_examples=30, deadline=None)
def test_sweep_bulges_to_its_clock_side_and_leaves_the_ends_on_the_axis(clock: float, depth: float) -> None:
    shape = likely_shape(a_log(wood(0.0, 0.4, 0.4), wood(3.0, 0.4, 0.4), bends=(BendReading(depth, clock),)))
    assert np.abs(shape.centre_m[[0, -1]]).max() < 1e-12
    x, y = shape.centre_m[np.argmin(np.abs(shape.z_m - 1.5))]
    assert np.hypot(x, y) == pytest.approx(depth)
    assert xy_to_clock(x, y) == pytest.approx(clock)


def test_a_crook_bends_where_it_was_read() -> None:
    shape = likely_shape(a_log(wood(0.0, 0.4, 0.4), wood(3.0, 0.4, 0.4), bends=(BendReading(0.06, 9.0, at_m=1.0),)))
    deepest = int(np.argmax(shape.centre_m[:, 0]))  # 9 o'clock is x > 0
    assert (shape.z_m[deepest], shape.centre_m[deepest, 0]) == pytest.approx((1.0, 0.06))


def test_a_nail_at_three_o_clock_lies_at_negative_x_its_depth_under_the_wood() -> None:
    nail = HiddenReading(Hidden.METAL, 1.0, 1.1, 3.0, 0.05, 0.01)
    zone = likely_shape(a_log(wood(0.0, 0.4, 0.4), wood(3.0, 0.4, 0.4), hidden=(nail,))).zones[0]
    # nearest point 50 mm under a radius of 200 mm (200.13 on the polygon), so the middle of the nail lies at 145
    assert (zone.x_m, zone.y_m) == pytest.approx((-0.145, 0.0), abs=3e-4)
    assert (zone.from_m, zone.to_m, zone.radius_m) == (1.0, 1.1, 0.005)


def test_a_hollow_about_the_pith_follows_the_pith_that_was_read() -> None:
    hollow = HiddenReading(Hidden.HOLLOW, 0.0, 0.0, None, 0.0, 0.1)
    log = a_log(wood(0.0, 0.4, 0.4), wood(3.0, 0.4, 0.4), hidden=(hollow,), piths=(PithReading(0.0, (0.05, 0.0)),))
    assert "log.hidden.0.reach" in doubts(log)
    zone = likely_shape(log).zones[0]
    assert zone.from_m == 0.0
    assert 0.04 < zone.x_m <= 0.05


def test_rings_run_out_to_the_wood_s_outline() -> None:
    log = a_log(wood(0.0, 0.4, 0.36), wood(3.0, 0.4, 0.36), piths=(PithReading(0.0, (0.04, -0.02)), PithReading(3.0, (0.0, 0.0))))
    shape = likely_shape(log)
    assert shape.rings.pith_m[0, 0] == pytest.approx([0.04, -0.02])
    angle = 2 * np.pi * np.arange(72) / 72
    rim = shape.rings.pith_m[0, 0] + shape.rings.reach_m[0, 0][:, None] * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    # a point on the rim lies on the ellipse; the chords between 72 points cut in by 0.1 % of the radius at most
    assert np.hypot(rim[:, 0] / 0.18, rim[:, 1] / 0.20) == pytest.approx(1.0, abs=2.5e-3)


def test_two_piths_part_where_the_crotch_begins() -> None:
    crotch = HiddenReading(Hidden.CROTCH, 2.0, 3.0, None, 0.0, 0.3)
    piths = (PithReading(0.0, (0.0, 0.0)), PithReading(3.0, (0.1, 0.0)), PithReading(3.0, (-0.1, 0.0), which=1))
    rings = likely_shape(a_log(wood(0.0, 0.5, 0.4), wood(3.0, 0.4, 0.6), hidden=(crotch,), piths=piths)).rings
    apart = np.linalg.norm(rings.pith_m[0] - rings.pith_m[1], axis=1)
    assert apart[rings.z_m <= 2.0].max() < 1e-9
    assert apart[-1] == pytest.approx(0.2)


def test_stations_are_close_and_stand_at_every_reading() -> None:
    shape = likely_shape(a_log(wood(0.07, 0.4, 0.4), wood(1.234, 0.38, 0.38), length_m=2.9))
    assert np.diff(shape.z_m).max() <= 0.15 + 1e-9
    assert {0.0, 0.07, 1.234, 2.9} <= set(shape.z_m.tolist())


def test_the_same_values_give_the_same_bytes() -> None:
    log = a_log(wood(0.0, 0.4), butt_log=None)
    values = likely(doubts(log))
    one, other = (build_shape(log, values).surface(bark=True).tobytes() for _ in range(2))
    assert one == other


@given(st.lists(st.tuples(st.floats(0.0, 1.0), st.floats(0.1, 1.2)), min_size=1, max_size=4), st.booleans(), st.integers(0, 5))
@settings(max_examples=40, deadline=None)
def test_every_scenario_of_any_readings_makes_a_shape(read: list[tuple[float, float]], over_bark: bool, seed: int) -> None:
    make = bark if over_bark else wood
    log = a_log(*(make(3.0 * t, d) for t, d in sorted({round(t, 2): d for t, d in read}.items())), butt_log=None)
    named = doubts(log)
    for values in Scenarios(seed, 16).draws(named):
        assert volume_of(build_shape(log, values), bark=False) > 0.0


def test_a_log_without_a_reading_says_what_it_needs() -> None:
    with pytest.raises(NothingRead, match="one diameter or girth"):
        doubts(a_log())


def test_two_readings_at_one_place_are_refused() -> None:
    with pytest.raises(TwiceRead, match="keep one"):
        doubts(a_log(wood(1.0, 0.4), wood(1.001, 0.5)))
