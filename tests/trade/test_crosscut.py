"""One 16 ft against two 8 ft: sums of the scale's own sections, weights that add up, and refusals."""

from __future__ import annotations

import pytest

from waney.figures.scenarios import Scenarios
from waney.logs.rules import international
from waney.trade.crosscut import DoesNotFit, compared, part_sheet

N = Scenarios(seed=5, n=32)
FOOT = 0.3048
STEM = """format = "waney-log/1"
units = "in"
species = "white ash"
length = "16' 6\\""
butt_log = false
[butt]
diameter = 16
[top]
diameter = 14
[bark]
debarked = true
"""
WAYS = ((16 * FOOT,), (8 * FOOT, 8 * FOOT))


def test_scale_of_each_log_is_that_of_its_own_small_end() -> None:
    """16 in at the butt, 14 in at 16 1/2 ft. Straight between them
    the small ends of 8 + 8 ft are 15.0 and 14.1 in, of 16 ft 14.1 in.
    International 1/4-inch is nearly additive at half an inch in four feet, which this stem has: the ways differ little."""
    found = compared(STEM, WAYS, N)
    by_lengths = {len(way.logs): way for way in found.ways}
    one, two = by_lengths[1], by_lengths[2]
    top_16, top_8 = 16 - 2 * 16 / 16.5, 16 - 2 * 8 / 16.5
    assert one.board_feet.likely == pytest.approx(international(top_16, 16), rel=0.03)
    assert two.logs[0].board_feet.likely == pytest.approx(international(top_8, 8), rel=0.03)
    assert not found.in_money and abs(found.gain.likely) < 0.05 * one.board_feet.likely


def test_a_stem_that_tapers_fast_scales_more_in_two_lengths() -> None:
    """Doubling the taper of the rule's own half inch in four feet: the butt half is scaled at its own top."""
    found = compared(STEM.replace("diameter = 16", "diameter = 24"), WAYS, N)
    assert len(found.ways[0].logs) == 2 and found.ways[0].ahead > 0.95
    assert found.answer.startswith("Cut it 8 ft + 8 ft")


def test_weights_of_the_parts_are_that_of_the_whole_less_the_cut() -> None:
    found = {len(way.logs): way for way in compared(STEM, WAYS, N).ways}
    whole = found[1].logs[0].weight_kg
    halves = [log.weight_kg for log in found[2].logs]
    assert whole is not None and all(halves)
    assert sum(half.likely for half in halves if half) == pytest.approx(whole.likely, rel=0.01)


def test_the_difference_is_known_better_than_either_way() -> None:
    found = compared(STEM.replace("[butt]\ndiameter = 16\n", ""), WAYS, N)
    assert found.gain.width < found.ways[0].board_feet.width + found.ways[1].board_feet.width
    assert sum(way.ahead for way in found.ways) == pytest.approx(1.0)


def test_lengths_that_the_stem_does_not_have_are_refused() -> None:
    with pytest.raises(DoesNotFit, match="the stem has"):
        compared(STEM, ((16 * FOOT,), (9 * FOOT, 8 * FOOT)), N)
    with pytest.raises(DoesNotFit, match="at least two"):
        compared(STEM, ((16 * FOOT,),), N)
    with pytest.raises(DoesNotFit, match="above zero"):
        compared(STEM, ((16 * FOOT,), ()), N)
    with pytest.raises(DoesNotFit, match="trimmed"):
        part_sheet(STEM + "[trimmed]\nbutt = 2\n", 5.0, (0.0, 2.0))
