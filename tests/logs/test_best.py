"""The measurement named first is the one whose doubt weighs most on what was asked."""

from __future__ import annotations

import pytest

from waney.figures.scenarios import Scenarios
from waney.logs.best import Helped, open_measurements, ranked
from waney.logs.doubts import likely_shape
from waney.logs.measured import BarkReading, BendReading, Hidden, HiddenReading, Inside, MeasuredLog, PithReading, RoundReading
from waney.logs.shape import LogShape
from waney.logs.volume import volume_of

SCENARIOS = Scenarios(seed=4, n=64)


def reading(at_m: float, *diameters_m: float, over: Inside = Inside.WOOD) -> RoundReading:
    return RoundReading(at_m, over, diameters_m)


def wood(shape: LogShape) -> float:
    return volume_of(shape, bark=False)


def first(log: MeasuredLog) -> Helped:
    return ranked(log, None, wood, SCENARIOS)[0]


def test_with_only_the_butt_of_a_butt_log_read_its_swell_is_the_question() -> None:
    log = MeasuredLog("", "", 4.0, (reading(0.0, 0.6, 0.6),), butt_log=True)
    best = first(log)
    assert best.measurement.name in ("diameter half way", "diameter 4 1/2 ft (1.37 m) from the butt")
    assert best.saved > 0.4 * best.before.width


def test_with_everything_read_over_thick_bark_the_bark_is_the_question() -> None:
    rounds = tuple(reading(at, 0.5, 0.5, over=Inside.BARK) for at in (0.0, 1.3, 2.0, 4.0))
    log = MeasuredLog("", "", 4.0, rounds, butt_log=False)
    assert first(log).measurement.name == "thickness of the bark"


def test_where_the_pith_lies_is_asked_when_the_pith_is_the_result() -> None:
    rounds = (reading(0.0, 0.5, 0.5), reading(2.0, 0.47, 0.47), reading(4.0, 0.45, 0.45))
    log = MeasuredLog("", "", 4.0, rounds, butt_log=False)
    named = ranked(log, None, lambda shape: float(shape.rings.pith_m[0, 0, 0]), SCENARIOS)[0]
    assert named.measurement.name == "pith at the butt"


def test_how_far_a_hollow_goes_is_asked_when_its_end_is_the_result() -> None:
    hollow = HiddenReading(Hidden.HOLLOW, 0.0, 0.0, None, 0.0, 0.1)
    log = MeasuredLog("", "", 4.0, (reading(0.0, 0.5, 0.5), reading(4.0, 0.45, 0.45)), hidden=(hollow,))
    named = ranked(log, None, lambda shape: shape.zones[0].to_m, SCENARIOS)[0]
    assert named.measurement.name == "how far the hollow at the butt goes in"
    assert named.after.width == pytest.approx(0.0)


def test_a_fully_measured_log_has_nothing_left_to_ask() -> None:
    log = MeasuredLog(
        *("", "", 3.0, tuple(reading(at, 0.5, 0.5) for at in (0.0, 1.3, 3.0))),
        piths=(PithReading(0.0, (0.0, 0.0)), PithReading(3.0, (0.0, 0.0))),
        bark=BarkReading(thickness_m=0.01),
        bends=(BendReading(0.01, 3.0),),
    )
    assert open_measurements(log, likely_shape(log)) == ()


def test_the_same_question_gets_the_same_answer() -> None:
    log = MeasuredLog("", "", 3.0, (reading(3.0, 0.4),))
    one, other = (ranked(log, None, wood, SCENARIOS) for _ in range(2))
    assert [(h.measurement.name, h.saved) for h in one] == [(h.measurement.name, h.saved) for h in other]
