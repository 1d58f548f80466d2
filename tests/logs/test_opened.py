"""What flats and trimming leave of a log, against polygons clipped exactly (shapely) and against plain geometry."""

from __future__ import annotations

from dataclasses import replace
from math import acos, cos, pi, sin, sqrt
from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from waney.logs.frames import clock_to_xy
from waney.logs.measured import FlatReading, From, Hidden, MeasuredLog, Trimmed
from waney.logs.opened import Flat, NoOpposite, NothingLeft, flats_of, opened, trimmed_off
from waney.logs.rings import RingField
from waney.logs.shape import LogShape, Zone
from waney.logs.volume import section_area, volume_of

LENGTH = 3.0
UNTRIMMED = Trimmed()


def drawn(rng: Random, n: int = 21, m: int = 72) -> LogShape:
    """Lobed, tapering, swept; pith off the middle."""
    z, a = np.linspace(0.0, LENGTH, n), 2.0 * np.pi * np.arange(m) / m
    size, two, three = rng.uniform(0.2, 0.3), rng.uniform(0.0, 0.08), rng.uniform(0.0, 0.05)
    radius = np.array([size * (1 - 0.15 * h / LENGTH) * (1 + two * np.cos(2 * a + 0.2 * h) + three * np.cos(3 * a)) for h in z])
    centre, t = np.zeros((n, 2)), z / LENGTH
    centre[:, 0] = rng.uniform(0.0, 0.03) * 4 * t * (1 - t)
    pith = (centre + np.array([rng.uniform(-0.03, 0.03), rng.uniform(-0.03, 0.03)]))[None]
    return LogShape(z, centre, radius, np.full((n, m), 0.012), RingField(z, pith, radius[None].copy()))


def round_log(radius: float = 0.25, bark: float = 0.01, n: int = 11, m: int = 72) -> LogShape:
    z = np.linspace(0.0, LENGTH, n)
    radii = np.full((n, m), radius)
    return LogShape(z, np.zeros((n, 2)), radii, np.full((n, m), bark), RingField(z, np.zeros((1, n, 2)), radii[None].copy()))


def a_log(*flats: FlatReading, trimmed: Trimmed = UNTRIMMED) -> MeasuredLog:
    return MeasuredLog("log", "", LENGTH, (), flats=flats, trimmed=trimmed)


def drawn_flats(rng: Random) -> tuple[FlatReading, ...]:
    first = rng.uniform(0.01, 12.0)
    clocks = [(first + 3.0 * k + rng.uniform(-0.5, 0.5)) % 12.0 for k in range(rng.choice([1, 2, 3, 4]))]
    return tuple(FlatReading(clock, rng.uniform(0.02, 0.22), rng.uniform(0.02, 0.2)) for clock in clocks)


def clipped(shape: LogShape, flats: tuple[Flat, ...], *, bark: bool) -> list[shapely.Geometry]:
    """The exact section at every station: outline cut by half planes."""
    sections = []
    for points in shape.surface(bark=bark):
        section = shapely.Polygon(points[:, :2])
        for flat in flats:
            out = np.array(flat.out)
            along, reach = np.array([-out[1], out[0]]), float(flat.reach_m(points[0, 2] / shape.length_m))
            keep = [
                reach * out - 9 * along,
                reach * out + 9 * along,
                (reach - 9) * out + 9 * along,
                (reach - 9) * out - 9 * along,
            ]
            section = section.intersection(shapely.Polygon(keep))
        sections.append(section)
    return sections


def outlines(shape: LogShape, *, bark: bool) -> list[shapely.Geometry]:
    return [shapely.Polygon(points[:, :2]).buffer(0) for points in shape.surface(bark=bark)]


@pytest.mark.parametrize("seed", range(60))
def test_what_is_left_is_the_outline_clipped_by_the_flats(seed: int) -> None:
    rng = Random(seed)
    whole, log = drawn(rng), a_log(*drawn_flats(rng))
    left, flats = opened(whole, log), flats_of(log, whole)
    for bark in (False, True):
        exact = clipped(whole, flats, bark=bark)
        told = outlines(left, bark=bark)
        for a, b in zip(told, exact, strict=True):
            # inside the true wood but for lobes' hollows, where a chord between two points spans under 0.1 mm
            assert a.difference(b.buffer(1e-4)).area == pytest.approx(0.0, abs=1e-12)
            # the first outline's corners, 5 degrees apart, are cut by points 1.25 degrees apart: a thousandth at most
            assert a.area == pytest.approx(b.area, rel=1e-3)
        volume = np.trapezoid([section.area for section in exact], whole.z_m)
        # the same sections, joined by trapezoids; the prismoid between stations is smaller by the square of the taper
        assert volume_of(left, bark=bark) == pytest.approx(volume, rel=1e-3)


@pytest.mark.parametrize("seed", range(20))
def test_no_point_lies_beyond_a_flat_and_there_is_no_bark_on_one(seed: int) -> None:
    rng = Random(seed)
    whole, log = drawn(rng), a_log(*drawn_flats(rng))
    left = opened(whole, log)
    wood, outer = left.surface(bark=False), left.surface(bark=True)
    for flat in flats_of(log, whole):
        reach = flat.reach_m(left.z_m / left.length_m)[:, None]
        # arithmetic of numbers under 1 m
        assert float((wood[..., :2] @ np.array(flat.out) - reach).max()) < 1e-12
        on_it = np.abs(wood[..., :2] @ np.array(flat.out) - reach) < 1e-7
        assert int(on_it.sum()) >= 9 * len(left.z_m) or float(reach.max()) > 0.15
        assert float(np.abs(outer - wood)[on_it].max(initial=0.0)) < 1e-9


def test_a_half_log_is_a_half_circle() -> None:
    radius, kerf = 0.25, 0.01
    half = opened(round_log(radius), a_log(FlatReading(3.0, -kerf / 2, -kerf / 2)))
    away = acos(kerf / 2 / radius)
    exact = radius**2 * (away - sin(away) * cos(away))
    # 72 sides are 0.13 % smaller than their circle; the new outline loses another 0.02 % at most
    assert volume_of(half, bark=False) == pytest.approx(exact * LENGTH, rel=1.6e-3)


def test_four_flats_make_a_beam_with_exact_corners() -> None:
    beam = opened(
        round_log(), a_log(*(FlatReading(clock, at, at) for clock, at in ((12, 0.15), (3, 0.10), (6, 0.15), (9, 0.10))))
    )
    for points in outlines(beam, bark=True):
        assert points.symmetric_difference(shapely.box(-0.1, -0.15, 0.1, 0.15)).area == pytest.approx(0.0, abs=1e-7)


def test_a_flitch_away_from_the_pith_keeps_the_full_width_of_its_faces() -> None:
    """What even directions could not do: at 720 of them the long faces of this flitch would end up to 30 mm short."""
    flats = (
        FlatReading(12, 0.20, 0.20),
        FlatReading(6, 0.05, 0.05, From.OPPOSITE),
        FlatReading(3, 0.1, 0.1),
        FlatReading(9, 0.1, 0.1),
    )
    flitch = opened(round_log(), a_log(*flats))
    for points in flitch.surface(bark=False):
        assert np.ptp(points[:, 0]) == pytest.approx(0.2, abs=1e-7)
        assert (points[:, 1].min(), points[:, 1].max()) == pytest.approx((0.15, 0.20), abs=1e-7)
    assert volume_of(flitch, bark=False) == pytest.approx(0.2 * 0.05 * LENGTH, rel=2e-6)
    pith = flitch.rings.pith_m[0]
    assert np.all(pith == 0.0), "the rings stay where they are, outside what is left"


def test_a_thickness_counts_from_the_flat_opposite() -> None:
    log = a_log(FlatReading(1.5, 0.12, 0.10), FlatReading(7.5, 0.05, 0.04, From.OPPOSITE))
    far, near = (next(f for f in flats_of(log, round_log()) if f.clock_h == clock) for clock in (1.5, 7.5))
    assert (far.butt_m + near.butt_m, far.top_m + near.top_m) == pytest.approx((0.05, 0.04))
    with pytest.raises(NoOpposite, match=r"faces 7\.5 o'clock"):
        flats_of(a_log(FlatReading(7.5, 0.05, 0.05, From.OPPOSITE)), round_log())


def test_a_flat_counts_from_the_pith_where_one_was_read_else_from_the_middle() -> None:
    from waney.logs.measured import PithReading

    whole = drawn(Random(3))
    read = replace(a_log(FlatReading(12, 0.1, 0.1)), piths=(PithReading(0.0, (0.0, 0.0)),))
    assert flats_of(read, whole)[0].butt_m == pytest.approx(0.1 + whole.rings.pith_m[0, 0, 1])
    assert flats_of(a_log(FlatReading(12, 0.1, 0.1)), whole)[0].butt_m == pytest.approx(0.1 + whole.centre_m[0, 1])


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_trimming_keeps_every_section_where_it_was(butt: float, top: float) -> None:
    whole = drawn(Random(7))
    left = trimmed_off(whole, Trimmed(butt, top))
    assert left.length_m == pytest.approx(LENGTH - butt - top)
    for at in (butt, 0.5 * (butt + LENGTH - top), LENGTH - top):
        # straight between stations either way
        assert section_area(left, at - butt, bark=True) == pytest.approx(section_area(whole, at, bark=True), rel=1e-9)
        assert left.rings.section(at - butt)[0] == pytest.approx(whole.rings.section(at)[0], abs=1e-12)


def test_a_nail_at_three_o_clock_stays_there_through_trimming_and_flats() -> None:
    x, y = clock_to_xy(3.0, 0.2)
    nail = Zone(Hidden.METAL, 1.0, 1.02, x, y, 0.01)
    left = opened(replace(round_log(), zones=(nail,)), a_log(FlatReading(9, 0.1, 0.1), trimmed=Trimmed(0.4, 0.3)))
    (kept,) = left.zones
    assert (kept.x_m, kept.y_m) == (x, y)
    assert (kept.from_m, kept.to_m) == pytest.approx((0.6, 0.62))
    assert shapely.Polygon(left.surface(bark=False)[3][:, :2]).contains(shapely.Point(kept.x_m, kept.y_m))


def test_a_nail_that_came_off_is_gone_and_one_half_in_the_flat_is_not() -> None:
    zones = [Zone(Hidden.METAL, at, at + 0.02, *clock_to_xy(3.0, r), 0.01) for at, r in ((1.0, 0.2), (1.0, 0.105), (2.8, 0.05))]
    left = opened(replace(round_log(), zones=tuple(zones)), a_log(FlatReading(3, 0.1, 0.1), trimmed=Trimmed(0.0, 0.5)))
    assert [zone.x_m for zone in left.zones] == [zones[1].x_m]


def test_what_takes_all_the_wood_is_said() -> None:
    with pytest.raises(NothingLeft, match="no wood"):
        opened(round_log(), a_log(FlatReading(12, -0.3, -0.3)))
    with pytest.raises(NothingLeft, match=r"\[trimmed\]"):
        opened(round_log(), a_log(trimmed=Trimmed(2.0, 1.0)))


def test_a_log_to_which_nothing_was_done_is_itself() -> None:
    whole = drawn(Random(1))
    assert opened(whole, a_log()) is whole


def test_a_flat_that_runs_out_before_the_top_is_exact_where_it_cuts() -> None:
    whole = drawn(Random(2))
    far = float(np.hypot(*whole.surface(bark=True)[0, :, :2].T).max())
    log = a_log(FlatReading(4.2, 0.6 * far, 1.3 * far))
    exact = clipped(whole, flats_of(log, whole), bark=False)
    told = outlines(opened(whole, log), bark=False)
    areas = [(a.area, b.area) for a, b in zip(told, exact, strict=True)]
    assert all(a == pytest.approx(b, rel=1e-3) for a, b in areas)


def test_the_squarest_beam_of_a_round_log_is_two_over_pi_of_it() -> None:
    """Side = diameter / sqrt 2 (geometry)."""
    at = 0.25 / sqrt(2) - 1e-6
    beam = opened(round_log(m=720), a_log(*(FlatReading(clock, at, at) for clock in (12, 3, 6, 9))))
    # the inscribed square touches the bark side at four points: 1e-6 m keeps clear of them; 720 sides are 0.001 % small
    assert volume_of(beam, bark=False) / volume_of(round_log(m=720), bark=False) == pytest.approx(2 / pi, rel=1e-4)
