"""Scans: volumes of known solids from bad clouds, two real stems, frames, bark, meshes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.rings import short_first

from waney.figures.scenarios import Scenarios, likely
from waney.logs.cloud import read_cloud
from waney.logs.frames import Placing, clock_to_xy, placing, xy_to_clock
from waney.logs.measured import BarkReading, Hidden, HiddenReading, Inside, MeasuredLog, PithReading
from waney.logs.mesh import Mesh, scan_of_mesh
from waney.logs.scan import BadScan, Pose, Scan, scan_of
from waney.logs.scanned import scan_doubts, scanned_shape, with_scan
from waney.logs.shape import LogShape
from waney.logs.volume import centroids, volume_of

Array = NDArray[np.float64]
DATA = Path(__file__).parents[1] / "data"


@dataclass(frozen=True)
class LobedSolid:
    """Radius R(z)·(1 + sum of a cos(k (angle - phase))) about a middle that bows; log frame, angle from x to y."""

    length_m: float = 3.6
    butt_radius_m: float = 0.24
    top_radius_m: float = 0.19
    flare_m: float = 0.05
    lobes: tuple[tuple[int, float, float], ...] = ((2, 0.04, 0.3), (5, 0.05, 1.1))
    """(how many, share of the radius, phase [rad])"""
    lobes_fade_m: float = 1e9
    """height over which the lobes fall to 1/e, as buttresses do"""
    sweep_m: float = 0.06
    sweep_towards_rad: float = 2.0

    def radius(self, z: Array, angle: Array) -> Array:
        taper = self.butt_radius_m + (self.top_radius_m - self.butt_radius_m) * z / self.length_m
        round_ = taper + self.flare_m * np.exp(-z / 0.4)
        return round_ * (1.0 + np.exp(-z / self.lobes_fade_m) * sum(a * np.cos(k * (angle - p)) for k, a, p in self.lobes))

    def middle(self, z: Array) -> Array:
        bow = 4.0 * self.sweep_m * z / self.length_m * (1.0 - z / self.length_m)
        return np.stack([bow * np.cos(self.sweep_towards_rad), bow * np.sin(self.sweep_towards_rad)], axis=-1)

    def points(self, z: Array, angle: Array) -> Array:
        out = self.radius(z, angle)[:, None] * np.stack([np.cos(angle), np.sin(angle)], axis=1)
        return np.column_stack([self.middle(z) + out, z])

    def volume(self) -> float:
        """Area of each section by 720 directions, exact for this many lobes; along z by 20 000 midpoints."""
        z = (np.arange(20_000) + 0.5) / 20_000 * self.length_m
        angle = 2 * np.pi * np.arange(720) / 720
        area = np.zeros(len(z))
        for start in range(0, len(z), 1000):
            part = z[start : start + 1000]
            area[start : start + 1000] = np.pi * (self.radius(part[:, None], angle[None]) ** 2).mean(axis=1)
        return float(area.mean() * self.length_m)


def scanned(
    solid: LobedSolid,
    seed: int,
    *,
    density: float = 2500.0,
    noise_m: float = 0.005,
    gap_rad: float = 0.0,
    gap_z: tuple[float, float] = (0.0, np.inf),
    gap_at_rad: float = 0.7,
    doubled_share: float = 0.0,
    doubled_m: float = 0.02,
    strays: int = 0,
) -> Array:
    """Points (N, 3) of the solid's side in its own log frame.

    density [1/m2]; a sector without points; a second wall `doubled_m` outside over a third of the round, with this share of
    the points there; strays anywhere within half a metre.
    """
    rng = np.random.default_rng(seed)
    count = int(density * solid.length_m * 2 * np.pi * (solid.butt_radius_m + solid.top_radius_m) / 2)
    z, angle = rng.uniform(0, solid.length_m, count), rng.uniform(0, 2 * np.pi, count)
    off = np.abs((angle - gap_at_rad + np.pi) % (2 * np.pi) - np.pi)
    seen = ~((off < gap_rad / 2) & (z > gap_z[0]) & (z < gap_z[1]))
    z, angle = z[seen], angle[seen]
    points = solid.points(z, angle)
    second = (np.abs((angle - 3.9 + np.pi) % (2 * np.pi) - np.pi) < np.pi / 3) & (rng.uniform(size=len(z)) < doubled_share)
    outward = np.column_stack([np.cos(angle), np.sin(angle), np.zeros(len(z))])
    points = points + doubled_m * second[:, None] * outward + rng.normal(0, noise_m, points.shape)
    far = np.column_stack([rng.uniform(-0.5, 0.5, (strays, 2)), rng.uniform(0, solid.length_m, strays)])
    return np.concatenate([points, far])


SOLIDS = (
    LobedSolid(),
    LobedSolid(lobes=((3, 0.05, 0.5),), sweep_m=0.0),
    LobedSolid(lobes=((4, 0.15, 0.5), (2, 0.03, 0.0)), lobes_fade_m=0.8, flare_m=0.08),
    LobedSolid(lobes=((6, 0.03, 0.5), (2, 0.05, 1.0)), sweep_m=0.15),
)
BARE = MeasuredLog("scanned", "", 1.0, (), bark=BarkReading(none_left=True))


def pose_of(solid: LobedSolid) -> Pose:
    """As somebody would pick it: a few centimetres off the middles."""
    return Pose((0.02, -0.01, 0.0), (-0.01, 0.03, solid.length_m), (0.1, 1.0, 0.0), reach_m=0.6)


def shape_of(scan: Scan, log: MeasuredLog = BARE) -> LogShape:
    read = with_scan(log, scan)
    return scanned_shape(read, scan, likely(scan_doubts(read, scan)))


def error_of(solid: LobedSolid, cloud: Array) -> float:
    return volume_of(shape_of(scan_of(cloud, pose_of(solid))), bark=True) / solid.volume() - 1.0


@pytest.mark.parametrize("solid", SOLIDS)
def test_a_clean_noisy_cloud_gives_the_volume(solid: LobedSolid) -> None:
    # noise across the surface adds its variance to r^2: 25e-6 / 0.05 = 0.05 %; corners and stations cost as much
    assert error_of(solid, scanned(solid, 1)) == pytest.approx(0.0, abs=0.002)


@pytest.mark.parametrize("gap_at", short_first([0.2, 0.9, 1.6, 2.3]))
@pytest.mark.parametrize("solid", SOLIDS)
def test_noise_doubled_walls_and_a_gap_of_60_degrees_stay_within_1_5_per_cent(solid: LobedSolid, gap_at: float) -> None:
    # the gap runs along two thirds of the log; walls stand doubled over a third of the round, 3 points in 10 on the second wall
    long_gap = (0.6, 3.0)
    cloud = scanned(solid, 2, gap_rad=np.pi / 3, gap_at_rad=gap_at, gap_z=long_gap, doubled_share=0.3, strays=60)
    assert error_of(solid, cloud) == pytest.approx(0.0, abs=0.015)


@pytest.mark.parametrize("solid", SOLIDS)
def test_a_gap_from_end_to_end_costs_more_since_nothing_tells_what_it_hides(solid: LobedSolid) -> None:
    # a lobe behind the gap can be guessed from its flanks only: 2 %, where 1.5 % holds for gaps that end somewhere
    for gap_at in (0.9, 2.3):
        cloud = scanned(solid, 2, gap_rad=np.pi / 3, gap_at_rad=gap_at, doubled_share=0.3)
        assert error_of(solid, cloud) == pytest.approx(0.0, abs=0.02)


def test_gap_noise_and_second_wall_are_told() -> None:
    solid = SOLIDS[0]
    cloud = scanned(solid, 3, gap_rad=np.pi / 3, gap_at_rad=np.radians(90 + 75), gap_z=(1.2, 2.4), doubled_share=0.3)
    scan = scan_of(cloud, pose_of(solid))
    assert scan.noise_m == pytest.approx(0.005, rel=0.15)
    gap = scan.gaps[0]
    # cells are 0.2 m long and half an hour wide; the gap runs from 1:30 to 3:30 on the clock (75 degrees past 12 is 2:30)
    assert (gap.from_m, gap.to_m) == pytest.approx((1.2, 2.4), abs=0.2)
    assert (gap.from_clock_h, gap.to_clock_h) == pytest.approx((1.5, 3.5), abs=0.5)
    # cells that the gap only cuts into do not count: of 4 x 6 cells the outer ones may be missing
    assert 0.5 * 1 / 6 * 1.2 / 3.6 < gap.share < 1.2 * 1 / 6 * 1.2 / 3.6
    # the second wall lies 20 mm outside, from 164 to 283 degrees
    assert scan.second_walls
    assert all(wall.off_m == pytest.approx(0.02, abs=0.005) for wall in scan.second_walls)
    middle = np.degrees(3.9)
    for wall in scan.second_walls:
        assert abs((9 + middle / 30 - wall.from_clock_h + 6) % 12 - 6) <= 2.6


def test_a_clean_scan_has_no_faults() -> None:
    scan = scan_of(scanned(SOLIDS[0], 5), pose_of(SOLIDS[0]))
    assert scan.gaps == ()
    assert scan.second_walls == ()


def test_the_same_cloud_gives_the_same_bytes() -> None:
    cloud = scanned(SOLIDS[0], 7, strays=50)
    first, second = scan_of(cloud, pose_of(SOLIDS[0])), scan_of(cloud.copy(), pose_of(SOLIDS[0]))
    assert first.radius_m.tobytes() == second.radius_m.tobytes()


def turned_about(seed: int) -> Placing:
    """Any rigid move: from a solid's own log frame to where a scanner saw it."""
    rng = np.random.default_rng(seed)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    if np.linalg.det(turn) < 0:
        turn[:, 0] = -turn[:, 0]
    return placing(turn, rng.uniform(-20, 20, 3))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_a_nail_at_three_o_clock_survives_scan_import(seed: int) -> None:
    solid, seen = LobedSolid(sweep_m=0.0), turned_about(seed)
    x, y = clock_to_xy(3.0, 0.2)
    nail = seen.there(np.array([x, y, 1.1]))
    # somebody marked 10 o'clock with crayon and picked the end middles in the scan
    mark_x, mark_y = clock_to_xy(10.0, 1.0)
    mark = seen.there(np.array([mark_x, mark_y, 0.0])) - seen.there(np.zeros(3))
    butt, top = seen.there(np.array([0.01, 0.0, 0.0])), seen.there(np.array([0.0, 0.02, solid.length_m]))
    pose = Pose(tuple(butt), tuple(top), tuple(mark), 10.0, 0.6)
    scan = scan_of(seen.there(scanned(solid, seed)), pose)
    at = scan.placing.there(nail)
    # picked middles 2 cm off over 3.6 m and outlines averaged: a few millimetres
    assert float(at[2]) == pytest.approx(1.1, abs=0.01)
    assert xy_to_clock(float(at[0]), float(at[1])) == pytest.approx(3.0, abs=0.05)
    reading = HiddenReading(Hidden.METAL, 1.08, 1.12, 3.0, 0.03, 0.01)
    zone = shape_of(scan, replace(BARE, hidden=(reading,))).zones[0]
    assert xy_to_clock(zone.x_m, zone.y_m) == pytest.approx(3.0, abs=0.05)


def test_lobes_keep_their_clock_position_when_the_butt_is_at_the_far_end() -> None:
    solid = LobedSolid(lobes=((1, 0.12, 0.5 * np.pi),), sweep_m=0.0, flare_m=0.0)  # bulges towards 12 o'clock
    scan = scan_of(scanned(solid, 4), pose_of(solid))
    z = scan.z_m.mean()
    middle = scan.placing.there(np.array([[0.0, 0.0, 0.0], [0.0, 0.3, z]]))
    assert middle[1, 1] > middle[0, 1]
    backwards = np.array([-1.0, 1.0, -1.0])
    turned = Pose((0.0, 0.0, 0.0), (0.0, 0.0, -solid.length_m), (0.0, 1.0, 0.0), reach_m=0.6)
    other = scan_of(scanned(solid, 4) * backwards, turned)
    assert other.radius_m.mean(axis=0) == pytest.approx(scan.radius_m.mean(axis=0), abs=0.003)


def test_end_middles_lie_on_the_axis_inside_bark() -> None:
    scan = scan_of(scanned(SOLIDS[3], 6), pose_of(SOLIDS[3]))
    shape = shape_of(scan, replace(BARE, bark=BarkReading(thickness_m=0.015)))
    ends = centroids(shape.surface(bark=False)[[0, -1], :, :2])
    assert ends == pytest.approx(np.zeros((2, 2)), abs=1e-5)  # a shift changes polygons by rounding only
    assert shape.bark_m == pytest.approx(np.full_like(shape.bark_m, 0.015), abs=1e-12)
    assert scan.length_m == pytest.approx(3.6, abs=0.005)


def test_a_scan_of_wood_gets_its_bark_outside() -> None:
    solid = SOLIDS[1]
    scan = scan_of(scanned(solid, 6), pose_of(solid), Inside.WOOD)
    shape = shape_of(scan, replace(BARE, bark=BarkReading(thickness_m=0.01)))
    assert volume_of(shape, bark=False) == pytest.approx(solid.volume(), rel=0.003)
    assert shape.bark_m == pytest.approx(np.full_like(shape.bark_m, 0.01), abs=1e-12)


def test_pith_and_rings_are_there_and_a_read_pith_moves_them() -> None:
    scan = scan_of(scanned(SOLIDS[1], 6), pose_of(SOLIDS[1]))
    centred, off = shape_of(scan), shape_of(scan, replace(BARE, piths=(PithReading(0.0, (0.03, 0.0)),)))
    assert centred.rings.pith_m[0] == pytest.approx(centred.centre_m, abs=1e-12)
    assert off.rings.pith_m[0, 0] - off.centre_m[0] == pytest.approx([0.03, 0.0], abs=1e-12)


def test_doubts_of_a_scan_grow_with_what_was_bridged_and_carry_the_shape() -> None:
    solid = SOLIDS[0]
    whole = scan_of(scanned(solid, 3), pose_of(solid))
    gappy = scan_of(scanned(solid, 3, gap_rad=np.pi / 3), pose_of(solid))
    barked = replace(BARE, bark=None)
    a, b = (scan_doubts(with_scan(barked, s), s) for s in (whole, gappy))
    assert b["log.scan.size"].width > a["log.scan.size"].width
    read = with_scan(barked, whole)
    volumes = [volume_of(scanned_shape(read, whole, draw), bark=False) for draw in Scenarios(1, 16).draws(a)]
    assert min(volumes) < volume_of(shape_of(whole, barked), bark=False) < max(volumes)


@pytest.mark.parametrize(
    ("name", "butt", "top", "volume", "tolerance"),
    # volumes of a 24-sector outline of the same stretch, z 0.6 to 6.0 m, from the data's own notes; 3 % is what is to be
    # explained: a second wall 15 to 20 mm outside, told by the scan, counts half in that outline and not at all here
    [("leaning_stem_a", (0.0, 0.0), (0.5, 0.0), 0.333, 0.03), ("buttressed_stem_a", (0.0, 0.0), (0.0, 0.0), 0.395, 0.03)],
)
def test_real_stem_agrees_with_its_sector_outline(
    name: str, butt: tuple[float, float], top: tuple[float, float], volume: float, tolerance: float
) -> None:
    with (DATA / f"{name}.csv.gz").open("rb") as file:
        cloud = read_cloud(file, f"{name}.csv.gz", 1.0)
    scan = scan_of(cloud.points_m, Pose((*butt, 0.6), (*top, 6.0), (1.0, 0.0, 0.0)))
    assert volume_of(shape_of(scan), bark=True) == pytest.approx(volume, rel=tolerance)


def test_the_unscanned_side_of_the_buttressed_stem_is_told() -> None:
    with (DATA / "buttressed_stem_a.csv.gz").open("rb") as file:
        cloud = read_cloud(file, "buttressed_stem_a.csv.gz", 1.0)
    scan = scan_of(cloud.points_m, Pose((0.0, 0.0, 0.6), (0.0, 0.0, 6.0), (1.0, 0.0, 0.0)))
    # the data's notes: a gap on one side between about z 1 and 2 m, that is 0.4 to 1.4 m from this butt
    assert any(gap.from_m < 0.9 < gap.to_m for gap in scan.gaps)


def closed_mesh(solid: LobedSolid, n: int = 40, m: int = 90) -> Mesh:
    """The solid's side in triangles and two flat ends."""
    z, angle = np.meshgrid(np.linspace(0, solid.length_m, n), 2 * np.pi * np.arange(m) / m, indexing="ij")
    side = solid.points(z.ravel(), angle.ravel())
    ends = np.array([[0.0, 0.0, 0.0], [0.0, 0.0, solid.length_m]])
    faces = []
    for i in range(n - 1):
        for j in range(m):
            a, b = i * m + j, i * m + (j + 1) % m
            faces += [(a, b, a + m), (b, b + m, a + m)]
    for j in range(m):
        faces += [(n * m, (j + 1) % m, j), (n * m + 1, (n - 1) * m + j, (n - 1) * m + (j + 1) % m)]
    return Mesh(np.concatenate([side, ends]), np.array(faces))


def test_a_closed_mesh_gives_the_volume_in_spite_of_its_flat_ends() -> None:
    solid = SOLIDS[3]
    scan = scan_of_mesh(closed_mesh(solid), pose_of(solid))
    assert volume_of(shape_of(scan), bark=True) == pytest.approx(solid.volume(), rel=0.003)


@pytest.mark.parametrize(
    ("pose", "words"),
    [
        (Pose((0, 0, 0), (0, 0, 3600.0), (0, 1, 0)), "unit of the file"),
        (Pose((0, 0, 0), (0, 0, 3.6), (0, 0, 1.0)), "along the log"),
        (Pose((5, 5, 0), (5, 5, 3.6), (0, 1, 0), reach_m=0.5), "Only 0 points"),
    ],
)
def test_a_pose_that_makes_no_log_is_answered(pose: Pose, words: str) -> None:
    with pytest.raises(BadScan, match=words):
        scan_of(scanned(SOLIDS[0], 1, density=300.0), pose)
