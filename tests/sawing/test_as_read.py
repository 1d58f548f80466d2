"""The lie as read: closed forms on cones and cylinders, and readings that cannot be."""

from __future__ import annotations

from math import asin, cos, pi, sin

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.logs.shape import LogShape
from waney.sawing.as_read import ReadingCannotBe, as_read, pith_heights
from waney.sawing.lie import Lie, lies
from waney.sawing.moves import PithHeights
from waney.sawing.wants import Tip

from .check.known_logs import bowed, cone, cylinder, lobed, log

BUTT, TOP, LENGTH = 0.25, 0.19, 3.2
ROUND = LENGTH * (1 - cos(pi / 72))
"""how much an outline of 72 points may miss a circle"""


def planned(shape: LogShape, roll: float, tip: Tip, crossbars: tuple[float, ...] = ()) -> Lie:
    return lies(shape, (roll,), (tip,), crossbars)[0]


@pytest.mark.parametrize("crossbars", [(), (0.2, 1.3, 2.4)])
@pytest.mark.parametrize("tip", [Tip.AS_IT_LIES, Tip.PITH, Tip.BARK])
@pytest.mark.parametrize("roll", [0.0, 77.0, 210.0])
def test_reading_what_a_lie_wants_gives_that_lie_again(roll: float, tip: Tip, crossbars: tuple[float, ...]) -> None:
    shape = log(3.0, lobed, centre=bowed, bark=0.01)
    wanted = planned(shape, roll, tip, crossbars)
    found = as_read(shape, roll, pith_heights(shape, wanted.to_saw), crossbars)
    assert found.shape is shape
    assert found.lie.tip_m == pytest.approx(wanted.tip_m, abs=1e-12)
    assert found.lie.lift_m == pytest.approx(0.0, abs=1e-12)
    np.testing.assert_allclose(np.array(found.lie.to_saw.turn), np.array(wanted.to_saw.turn), atol=1e-14)
    np.testing.assert_allclose(np.array(found.lie.to_saw.shift), np.array(wanted.to_saw.shift), atol=1e-14)


def test_a_cone_whose_pith_is_read_level_stands_on_its_butt_alone() -> None:
    shape = cone(BUTT, TOP, LENGTH)
    found = as_read(shape, 40.0, PithHeights(BUTT, BUTT))
    assert np.array(found.lie.to_saw.turn)[1] == pytest.approx([sin(40 * pi / 180), cos(40 * pi / 180), 0.0])
    # parallel to the pith a cone's top is lifted by half its taper, as the sine of its side's slope times the length
    slope = np.arctan((BUTT - TOP) / LENGTH)
    assert found.lie.tip_m == pytest.approx(LENGTH * sin(slope), abs=1e-3)
    assert found.lie.pith_read == PithHeights(BUTT, BUTT)


@given(st.floats(0.2, 0.35), st.floats(0.2, 0.35), st.floats(0.0, 360.0))
@settings(max_examples=60, deadline=None)
def test_the_pith_stands_as_it_was_read_and_nothing_lies_in_the_bed(butt: float, top: float, roll: float) -> None:
    shape = log(3.0, lobed, centre=bowed, bark=0.01, pith=lambda z: (0.01, -0.02 + 0.004 * z))
    found = as_read(shape, roll, PithHeights(butt, top))
    stands = pith_heights(shape, found.lie.to_saw)
    assert (stands.butt_m, stands.top_m) == pytest.approx((butt, top), abs=1e-12)
    turn = np.array(found.lie.to_saw.turn)
    assert turn @ turn.T == pytest.approx(np.eye(3), abs=1e-12)
    assert turn[0, 2] == 0.0  # turned about u alone after the roll
    outer = found.lie.to_saw.there(found.shape.surface(bark=True))
    assert outer[..., 1].min() >= -1e-6
    assert outer[..., 1].min() == pytest.approx(found.lie.lift_m, abs=1e-6)
    assert found.lie.to_saw.there(found.shape.surface(bark=False))[0, :, 2].min() == pytest.approx(0.0, abs=1e-12)


def test_a_higher_reading_at_the_top_tilts_the_log_by_that_much() -> None:
    shape = cylinder(0.2, 3.0)
    level, tilted = (as_read(shape, 0.0, PithHeights(0.25, top)).lie for top in (0.25, 0.28))
    assert level.tip_m == pytest.approx(0.0, abs=1e-12)
    assert tilted.tip_m == pytest.approx(0.03)
    assert asin(np.array(tilted.to_saw.turn)[1, 2]) == pytest.approx(asin(0.03 / 3.0))


def test_what_would_lie_in_the_bed_is_taken_off_and_nothing_else() -> None:
    """A cylinder of 200 mm with 10 mm of bark, its pith read at 190 mm: 20 mm of it cannot be there, bark before wood."""
    shape = cylinder(0.2, 3.0, bark=0.01)
    found = as_read(shape, 0.0, PithHeights(0.19, 0.19))
    assert found.sunk_m == pytest.approx(0.02)
    assert found.lie.lift_m == pytest.approx(0.0, abs=1e-12)
    before, after = (s.surface(bark=True)[..., 1] + 0.19 for s in (shape, found.shape))
    np.testing.assert_allclose(after, np.maximum(before, 0.0), atol=1e-12)
    # straight down the ray is the height itself: 190 mm of wood, no bark
    assert found.shape.radius_m.min() == pytest.approx(0.19)
    down = int(found.shape.radius_m[0].argmin())
    assert found.shape.bark_m[0, down] == pytest.approx(0.0, abs=1e-12)
    untouched = before > 1e-9
    np.testing.assert_array_equal(found.shape.bark_m[untouched], shape.bark_m[untouched])


def test_what_sags_between_crossbars_may_hang_below_the_bed() -> None:
    shape = log(3.0, lambda z, a: np.full_like(a, 0.2), centre=lambda z: (0.0, -0.02 * np.sin(np.pi * z / 3.0)))
    bars = (0.3, 2.7)
    wanted = planned(shape, 0.0, Tip.AS_IT_LIES, bars)
    heights = pith_heights(shape, wanted.to_saw)
    found = as_read(shape, 0.0, PithHeights(heights.butt_m - 0.005, heights.top_m - 0.005), bars)
    assert found.sunk_m == pytest.approx(0.005)
    lowest = found.lie.to_saw.there(found.shape.surface(bark=True))[..., 1].min(axis=1)
    hung = wanted.to_saw.there(shape.surface(bark=True))[..., 1].min(axis=1)
    # the middle keeps hanging by what it hung, the places at the bed do not go under it
    assert lowest[6] == pytest.approx(hung[6], abs=1e-9)
    assert hung[6] < -0.005


@pytest.mark.parametrize(
    ("butt", "top", "sentence"),
    [
        (0.0, 0.0, "deep in the bed"),
        (0.02, 0.02, "deep in the bed"),
        (0.25, 1.25, "too far apart"),
        (0.7, 0.7, "butt end would hang"),
        (0.35, 0.8, "top end would hang"),
    ],
)
def test_a_reading_that_cannot_be_is_answered_with_a_sentence(butt: float, top: float, sentence: str) -> None:
    with pytest.raises(ReadingCannotBe, match=sentence) as found:
        as_read(cylinder(0.2, 3.0), 0.0, PithHeights(butt, top))
    assert "read" in str(found.value)
