"""How a log lies in its scan, found from the points alone: the same log comes out as when somebody says it."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from waney.logs.mesh import Mesh, scan_of_mesh
from waney.logs.scan import BadScan, Pose
from waney.logs.scan_pose import Up, found_pose

Array = NDArray[np.float64]
LENGTH_M, BUTT_M, TOP_M = 3.2, 0.25, 0.19


def lying(seed: int, up: Up, whole: bool = True) -> tuple[Array, Array, Array]:
    """Points of a tapered log that lies somewhere, and the middles of its butt and top; not whole: its underside was not seen."""
    rng = np.random.default_rng(seed)
    z = rng.uniform(0.0, LENGTH_M, 30_000)
    clock = rng.uniform(0.0, 2.0 * np.pi, z.size) if whole else rng.uniform(-0.3, np.pi + 0.3, z.size)
    radius = BUTT_M + (TOP_M - BUTT_M) * z / LENGTH_M + rng.normal(0.0, 0.003, z.size)
    along, lean = rng.uniform(0.0, 2.0 * np.pi), rng.uniform(-0.1, 0.1)
    line = np.array([np.cos(along) * np.cos(lean), np.sin(lean), np.sin(along) * np.cos(lean)])  # y is up
    rise = np.array([0.0, 1.0, 0.0]) - line[1] * line
    rise /= np.linalg.norm(rise)
    side = np.cross(line, rise)
    start = rng.uniform(-5.0, 5.0, 3)
    points = start + z[:, None] * line + radius[:, None] * (np.cos(clock)[:, None] * side + np.sin(clock)[:, None] * rise)
    ends = np.array([start, start + LENGTH_M * line])
    if up is Up.Z:
        points, ends = (np.stack([p[:, 0], -p[:, 2], p[:, 1]], axis=1) for p in (points, ends))
    return points, ends[0], ends[1]


@pytest.mark.parametrize("up", Up)
@pytest.mark.parametrize("whole", [True, False])
@pytest.mark.parametrize("seed", range(4))
def test_ends_and_twelve_o_clock_are_found(seed: int, up: Up, whole: bool) -> None:
    points, butt, top = lying(seed, up, whole)
    pose = found_pose(points, up)
    near = 0.05 if whole else 0.16  # the middle of what was seen lies above that of the log
    assert np.linalg.norm(np.array(pose.butt_m) - butt) < near
    assert np.linalg.norm(np.array(pose.top_m) - top) < near
    assert pose.mark_clock_h == 12.0


def test_the_log_measures_as_when_somebody_says_how_it_lies() -> None:
    points, butt, top = lying(3, Up.Y)
    told = Pose(tuple(butt), tuple(top), (0.0, 1.0, 0.0))  # type: ignore[arg-type]
    by_hand, found = (scan_of_mesh(Mesh(points), pose) for pose in (told, found_pose(points, Up.Y)))
    assert found.length_m == pytest.approx(LENGTH_M, abs=0.02)  # strays at both ends: 0.2 % of the points are left out
    assert float(found.radius_m.mean()) == pytest.approx(float(by_hand.radius_m.mean()), rel=0.01)
    assert found.radius_m[0].mean() > found.radius_m[-1].mean()


def test_what_is_no_log_lying_down_is_a_sentence() -> None:
    rng = np.random.default_rng(1)
    points, *_ = lying(1, Up.Y)
    for cloud, up, words in (
        (rng.uniform(-1.0, 1.0, (5000, 3)), Up.Y, "hardly longer"),
        (points[:50], Up.Y, "50 points"),
        (np.column_stack([points[:, 1] * 0.1, np.linspace(0.0, 3.0, len(points)), points[:, 1] * 0.1]), Up.Y, "stand on end"),
        (np.full((5000, 3), np.nan), Up.Z, "0 points"),
        (np.zeros((5000, 3)), Up.Z, "hardly longer"),
    ):
        with pytest.raises(BadScan, match=words):
            found_pose(cloud, up)
