"""Lies against closed forms: cones, bowed logs, crossbars, turns, and a nail that stays at 3 o'clock."""

from __future__ import annotations

from math import asin, atan, cos, radians, sin

import numpy as np
import pytest

from waney.logs.frames import clock_to_xy, xy_to_clock
from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.sawing.check.left import Left, upper_face
from waney.sawing.check.lie import lie_of, named_tips_m, rest_slopes, turned_onto_bark, turned_onto_flat
from waney.sawing.check.sections import Sections
from waney.sawing.check.verdict import Difference, Reason
from waney.sawing.moves import RollOn
from waney.sawing.wants import Pattern, Tip

BUTT, TOP, LENGTH = 0.25, 0.19, 3.2
SLOPE = atan((BUTT - TOP) / LENGTH)
"""of a cone's underside: half of the angle between its sides"""


def lie(shape, roll=0.0, tip=Tip.AS_IT_LIES, crossbars=(), lift=0.0):
    slope = rest_slopes(shape, roll, crossbars)[0]
    return lie_of(shape, RollOn(roll, tip, named_tips_m(shape, roll, slope, tip)[0], lift), slope, crossbars)


@pytest.mark.parametrize("roll", [0.0, 90.0, 180.0, 270.0])
def test_a_cone_lies_along_its_side(make, roll) -> None:
    shape = make.cone(BUTT, TOP, LENGTH)
    assert rest_slopes(shape, roll, ()) == pytest.approx((SLOPE,))
    axis = np.array(lie(shape, roll).turn) @ [0.0, 0.0, 1.0]
    assert axis == pytest.approx([0.0, -sin(SLOPE), cos(SLOPE)])


def test_a_cone_touches_the_bed_at_both_ends_and_its_butt_stands_at_the_start(make) -> None:
    shape = make.cone(BUTT, TOP, LENGTH, bark=0.015)
    placed = lie(shape)
    outer, wood = placed.there(shape.surface(bark=True)), placed.there(shape.surface(bark=False))
    assert [np.min(outer[i, :, 1]) for i in (0, -1)] == pytest.approx([0.0, 0.0], abs=1e-12)
    assert np.min(wood[0, :, 2]) == pytest.approx(0.0, abs=1e-12)
    assert placed.shift[0] == 0.0


def test_a_cone_parallel_to_its_pith_needs_half_its_taper_under_the_top(make) -> None:
    shape = make.cone(BUTT, TOP, LENGTH)
    assert named_tips_m(shape, 0.0, SLOPE, Tip.PITH) == pytest.approx((LENGTH * sin(SLOPE),))
    assert np.array(lie(shape, tip=Tip.PITH).turn)[1] == pytest.approx([0.0, 1.0, 0.0])
    assert lie(shape, tip=Tip.PITH).shift == pytest.approx((0.0, BUTT, 0.0))


def test_a_cone_with_its_upper_bark_level_needs_all_its_taper_under_the_top(make) -> None:
    shape = make.cone(BUTT, TOP, LENGTH)
    assert named_tips_m(shape, 0.0, SLOPE, Tip.BARK) == pytest.approx((LENGTH * sin(2 * SLOPE),))
    outer = lie(shape, tip=Tip.BARK).there(shape.surface(bark=True))
    assert np.max(outer[0, :, 1]) == pytest.approx(np.max(outer[-1, :, 1]))
    assert np.min(outer[:, :, 1]) == pytest.approx(0.0, abs=1e-12)


def test_pith_that_wanders_sideways_only_asks_for_no_tip_of_its_own(make) -> None:
    shape = make.cylinder(0.2, 3.0, pith=lambda z: (0.02 * z, 0.0))
    assert named_tips_m(shape, 0.0, 0.0, Tip.PITH) == pytest.approx((0.0,), abs=1e-12)
    up = named_tips_m(shape, 90.0, 0.0, Tip.PITH)[0]  # rolled clockwise, left comes up: the pith rises by 0.02 a metre
    assert up == pytest.approx(-3.0 * sin(atan(0.02)))


def bow(make, depth=0.05, side=-1.0, **more):
    """Bowed in the upright plane by a parabola of stated depth; side -1: the belly hangs down."""
    return make.log(
        3.0, lambda z, a: np.full_like(a, 0.2), centre=lambda z: (0.0, side * depth * 4 * z * (3.0 - z) / 9.0), stations=7, **more
    )


def test_a_bowed_log_with_its_back_up_rests_on_its_ends(make) -> None:
    shape = bow(make, side=1.0)
    assert rest_slopes(shape, 0.0, ()) == pytest.approx((0.0,), abs=1e-12)
    assert np.array(lie(shape).shift)[1] == pytest.approx(0.2)


def test_a_bowed_log_on_its_belly_may_balance_on_either_edge_there(make) -> None:
    shape = bow(make)
    rise = 0.05 * (1 - 4 * 1.0 * 2.0 / 9.0) / 0.5  # stations 0.5 m apart: belly at 1.5 m, next corner at 1.0 m
    assert rest_slopes(shape, 0.0, ()) == pytest.approx((-atan(rise), atan(rise)))


def test_crossbars_hold_a_bowed_log_where_they_are(make) -> None:
    shape = bow(make)
    a, b = 0.5, 2.0
    low = [-0.2 - 0.05 * 4 * z * (3.0 - z) / 9.0 for z in (a, b)]
    slope = atan((low[1] - low[0]) / (b - a))
    assert rest_slopes(shape, 0.0, (a, b)) == pytest.approx((slope,))
    placed = lie(shape, crossbars=(a, b))
    points = placed.there(np.array([[0.0, low[0], a], [0.0, low[1], b]]))
    assert points[:, 1] == pytest.approx([0.0, 0.0], abs=1e-12)
    assert np.min(placed.there(shape.surface(bark=True))[:, :, 1]) < -0.001  # the belly hangs between the bars


def test_a_log_whose_weight_lies_beyond_the_crossbars_is_not_held(make) -> None:
    with pytest.raises(Difference) as found:
        rest_slopes(make.cylinder(0.2, 3.0), 0.0, (0.1, 1.2))
    assert found.value.reason is Reason.REST


def test_blocks_lift_the_whole_lie(make) -> None:
    assert lie(make.cylinder(0.2, 3.0), lift=0.05).shift == pytest.approx((0.0, 0.25, 0.0))


def test_roll_is_clockwise_seen_from_the_butt(make) -> None:
    """What was at 9 o'clock (left) comes to 12 o'clock (up) by a quarter."""
    placed = lie(make.cylinder(0.2, 3.0), roll=90.0)
    assert placed.there(np.array([*clock_to_xy(9, 0.15), 1.0])) == pytest.approx([0.0, 0.35, 1.0])


def test_half_turn_lays_the_sawn_face_on_the_bed(make) -> None:
    shape = make.cone(BUTT, TOP, LENGTH)
    first, height = lie(shape, 20.0), 0.3
    left = Left(shape).after(upper_face(first, height))
    second = turned_onto_flat(left, first, 2)
    points = np.random.default_rng(1).uniform(-0.2, 0.2, (20, 3))
    u, v, w = first.there(points).T
    assert second.there(points) == pytest.approx(np.column_stack([-u, height - v, w]))


def test_turning_onto_a_flat_that_is_not_there_is_named(make) -> None:
    shape = make.cylinder(0.2, 3.0)
    first = lie(shape)
    with pytest.raises(Difference) as found:
        turned_onto_flat(Left(shape).after(upper_face(first, 0.3)), first, 1)
    assert found.value.reason is Reason.TURN


def test_quarter_turn_takes_u_to_minus_v_and_v_to_u(make) -> None:
    """A cylinder with two faces rests on the bark between them: only the quarter turn itself remains."""
    shape, radius = make.cylinder(0.2, 3.0), 0.2
    first = lie(shape)
    left = Left(shape).after(upper_face(first, radius + 0.12))
    over = turned_onto_flat(left, first, 2)
    left = left.after(upper_face(over, 0.24))
    last = next(turned_onto_bark(left, over, 1, ()))
    u, v, w = over.there(shape.surface(bark=True)).reshape(-1, 3).T
    assert last.there(shape.surface(bark=True)).reshape(-1, 3) == pytest.approx(np.column_stack([-v, u + radius, w]))
    sections = Sections.of(left, last)
    assert sections.chord(3, radius, bark=False) == pytest.approx((-0.24, 0.0))


def test_quarter_turn_of_a_cone_rests_on_its_side_again(make) -> None:
    """Faces parallel to the pith, then a quarter: the underside is the cone's side, so the tilt is its slope once more."""
    shape = make.cone(BUTT, TOP, LENGTH)
    first = lie(shape, tip=Tip.PITH)
    left = Left(shape).after(upper_face(first, BUTT + 0.1))
    last = next(turned_onto_bark(left, first, 3, ()))
    assert np.array(last.turn)[1] @ [0.0, 0.0, 1.0] == pytest.approx(-sin(SLOPE))


def test_a_nail_at_three_o_clock_is_at_three_o_clock_in_log_saw_and_piece(make) -> None:
    x, y = clock_to_xy(3, 0.15)
    nail = Zone(Hidden.METAL, 1.2, 1.24, x, y, 0.004)
    shape = make.cylinder(0.2, 3.0, zones=(nail,))
    placed = lie(shape)
    u, v, w = placed.there(np.array([x, y, 1.22]))
    assert (u, v, w) == pytest.approx((-0.15, 0.2, 1.22))  # right of someone at the butt, on the level of the pith
    case = make.builder(shape, make.mill, make.wants(make.live_slab()), {"slab": 36}).roll_on(0.0, Tip.AS_IT_LIES).saw(150, 114)
    piece = case.plan(Pattern.THROUGH).plan.pieces[0].piece
    (zone,) = piece.zones
    middle = (np.array(zone.start_m) + np.array(zone.end_m)) / 2
    assert middle[1] == pytest.approx(-0.15)  # y of a piece points to the left of someone at the butt
    home = piece.to_log.there(middle)
    assert xy_to_clock(home[0], home[1]) == pytest.approx(3.0)
    assert home[2] == pytest.approx(1.22)


def test_the_same_nail_rolled_by_a_quarter_clockwise_comes_to_six_o_clock(make) -> None:
    x, y = clock_to_xy(3, 0.15)
    placed = lie(make.cylinder(0.2, 3.0), roll=90.0)
    assert placed.there(np.array([x, y, 1.22])) == pytest.approx([0.0, 0.05, 1.22])
    assert placed.back(placed.there(np.array([x, y, 1.22]))) == pytest.approx([x, y, 1.22])


def test_tilt_is_a_rotation_not_a_shear(make) -> None:
    shape = make.cone(BUTT, TOP, LENGTH)
    turn = np.array(lie(shape, 35.0, Tip.BARK).turn)
    assert turn @ turn.T == pytest.approx(np.eye(3))
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert asin(turn[1] @ [0.0, 0.0, 1.0]) == pytest.approx(SLOPE)  # its axis rises by the slope when the upper side is level


@pytest.mark.parametrize("roll", [0.0, 33.0])
def test_stations_run_over_the_square_length(make, roll) -> None:
    shape = make.cone(BUTT, TOP, LENGTH, m=360)
    sections = Sections.of(Left(shape), lie(shape, roll))
    # leaning by the slope, the butt's upper rim is 2 r sin(slope) behind its lower one or before it; nothing else is trimmed
    first, last = 2 * BUTT * sin(SLOPE), LENGTH * cos(SLOPE)
    rim = {0.0: 0.0, 33.0: 2 * BUTT * (1 - cos(radians(0.5)))}[roll] * sin(SLOPE)
    assert sections.w_m[0] == pytest.approx(first, abs=rim + 1e-9)
    assert len(sections.w_m) == 4 * round(sections.square_length_m / 0.3) + 1
    assert sections.square_length_m == pytest.approx(last - first + (BUTT - TOP) * sin(SLOPE), abs=1e-4)
