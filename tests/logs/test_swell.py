"""The warning of butt swell: when it is given, and what it says."""

from __future__ import annotations

import pytest

from waney.logs.measured import Inside, MeasuredLog, RoundReading
from waney.logs.swell import swell_warning, two_end_excess


def log(*sizes: tuple[float, float], butt_log: bool | None = True) -> MeasuredLog:
    rounds = tuple(RoundReading(at, Inside.WOOD, (d, d)) for at, d in sizes)
    return MeasuredLog("", "", 3.6, rounds, butt_log=butt_log)


def test_a_two_end_reading_of_a_swollen_butt_is_warned_about() -> None:
    warning = swell_warning(log((0.0, 0.52), (3.6, 0.36)))
    assert warning is not None
    assert "1.44 times" in str(warning)
    assert 0.05 < warning.excess.low < warning.excess.likely < warning.excess.high < 0.4


def test_it_is_hedged_when_nobody_said_whether_it_is_a_butt_log() -> None:
    assert str(swell_warning(log((0.0, 0.52), (3.6, 0.36), butt_log=None))).startswith("If this is the first length")


@pytest.mark.parametrize(
    "read",
    [
        log((0.0, 0.52), (1.4, 0.40), (3.6, 0.36)),  # read 1.4 m up: the swell is seen
        log((0.0, 0.42), (3.6, 0.36)),  # 1.17
        log((0.0, 0.52), (3.6, 0.36), butt_log=False),
        log((3.6, 0.36)),
        log((0.5, 0.52), (3.6, 0.36)),  # the butt itself was not read
    ],
    ids=["read clear", "little taper", "upper log", "one reading", "no butt reading"],
)
def test_it_is_not_given_without_cause(read: MeasuredLog) -> None:
    assert swell_warning(read) is None


def test_the_excess_of_a_measured_stem_comes_back_at_its_own_ratio() -> None:
    # stem 116 of dyntaper-brink cut at 4.9 m, ends 19.56 and 14.74 cm; by hand, squared diameter times length in cm2 m:
    # sections 209.30 + 179.00 + 42.03 + 281.08 + 590.92 = 1302.3; two ends 4.9 (19.56^2 + 14.74^2) / 2 = 1469.7
    told = two_end_excess(4.9, 19.56 / 14.74)
    assert told.low < 1469.7 / 1302.3 - 1.0 < told.high
