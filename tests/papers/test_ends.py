"""What the passes make of an end: nothing is lost but kerf, and every cut stands at its height."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from waney.logs.rings import RingField
from waney.papers.ends import end_z, log_end, ring_lines
from waney.sawing.facts.walk import SectionPlane, last_name
from waney.sawing.lie import lies
from waney.sawing.mill import End
from waney.sawing.wants import Pattern, Tip

from .conftest import INCH, KERF, STEP, Case, Saw, a_log, a_mill, a_plan

ENDS = pytest.mark.parametrize("end", list(End))


@ENDS
def test_parts_and_kerfs_make_up_the_wood(through: Case, half_turn: Case, end: End) -> None:
    for case in (through, half_turn):
        seen = log_end(case.plan, case.shape, case.mill, end)
        kerfs = sum(
            seen.wood.intersection(seen.planes[cut.lie].above(cut.height_steps * STEP))
            .difference(seen.planes[cut.lie].above(cut.height_steps * STEP + KERF))
            .area
            for cut in seen.cuts
        )
        # the same polygons on both sides: only floating point lies between them
        assert sum(part.area.area for part in seen.parts) + kerfs == pytest.approx(seen.wood.area, rel=1e-9)


@ENDS
def test_every_cut_stands_at_its_bed_height(through: Case, half_turn: Case, end: End) -> None:
    for case in (through, half_turn):
        seen = log_end(case.plan, case.shape, case.mill, end)
        strokes = [(cut, cut.stroke) for cut in seen.cuts if cut.stroke]
        assert len(strokes) > 5
        for cut, stroke in strokes:
            heights = seen.planes[cut.lie].uv(np.array(stroke))[:, 1]
            assert heights == pytest.approx([cut.height_steps * STEP] * 2, abs=1e-9)


def test_a_part_is_as_thick_as_its_piece(through: Case) -> None:
    seen = log_end(through.plan, through.shape, through.mill, End.BUTT)
    thick = {p.piece.name: p.piece.thickness_m for p in through.plan.pieces}
    for part in seen.parts:
        if part.name in thick:
            heights = seen.planes[part.lie].uv(np.array(shapely.get_coordinates(part.area)))[:, 1]
            assert np.ptp(heights) == pytest.approx(thick[part.name], abs=1e-9)


def test_after_a_half_turn_the_flat_lies_on_the_bed(half_turn: Case) -> None:
    seen = log_end(half_turn.plan, half_turn.shape, half_turn.mill, End.BUTT)
    low = [seen.planes[1].uv(np.array(shapely.get_coordinates(seen.on_bed[1])))[:, 1].min()]
    assert low == pytest.approx([0.0], abs=1e-9)


def test_a_pass_that_misses_one_end_has_no_stroke_there() -> None:
    shape, mill = a_log(18.0, 12.0), a_mill()
    saw = Saw(shape, lies(shape, (0.0,), (Tip.AS_IT_LIES,))[0].to_saw)
    saw.cut(16 * 16, "outside slab 1", None)
    saw.cut(10 * 16, "W12-1")
    plan = a_plan(saw, 0.0, Tip.AS_IT_LIES, 0.0, Pattern.THROUGH)
    butt, top = (log_end(plan, shape, mill, end) for end in (End.BUTT, End.TOP))
    assert [cut.stroke is None for cut in butt.cuts] == [False, False]
    assert [cut.stroke is None for cut in top.cuts] == [True, False]


def test_what_stays_last_has_the_plan_s_name_or_none(through: Case, half_turn: Case) -> None:
    assert last_name(half_turn.plan) == "W12-7"
    assert last_name(through.plan) == ""


def test_rings_lie_at_equal_shares_of_the_reach() -> None:
    field = RingField(np.array([0.0, 1.0]), np.zeros((1, 2, 2)), np.full((1, 2, 360), 0.2))
    lines = ring_lines(field, 0.5, shapely.Point(0, 0).buffer(1.0))
    radii = [np.hypot(*np.array(line).T).mean() for line in lines]
    assert radii == pytest.approx([0.02 * i for i in range(1, 10)], rel=1e-4)


def test_of_two_piths_the_nearer_rules() -> None:
    piths = np.array([[[-0.05, 0.0]] * 2, [[0.05, 0.0]] * 2])
    field = RingField(np.array([0.0, 1.0]), piths, np.full((2, 2, 180), 0.2))
    lines = ring_lines(field, 0.0, shapely.Point(0, 0).buffer(1.0))
    for line in lines:
        points = np.array(line)
        nearest = np.minimum(*(np.hypot(points[:, 0] - x, points[:, 1]) for x in (-0.05, 0.05)))
        # chords of a polygon of 180 sides sag by 1 - cos(1 degree) of 0.2 m
        assert nearest.max() - nearest.min() < 1e-4


def test_an_end_plane_comes_back(through: Case) -> None:
    plane = SectionPlane(through.plan.lies[0], end_z(through.shape, End.TOP))
    points = np.array([(0.1, -0.2), (0.0, 0.3), (INCH, INCH)])
    assert plane.xy(plane.uv(points)) == pytest.approx(points)
