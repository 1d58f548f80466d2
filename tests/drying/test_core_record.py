"""Core records: what counts as held, what a gap takes away, lines as they are written."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.drying.core_record import LONGEST_GAP_MIN, BadRecord, CoreReading, Gap, held, read_core_record
from waney.papers.core_words import core_said
from waney.units.temperature import Degree


def every(minutes: float, *cores: float, start: float = 0.0) -> list[CoreReading]:
    return [CoreReading(start + at * minutes, core) for at, core in enumerate(cores)]


def test_only_a_core_record_says_that_wood_was_treated() -> None:
    # ISPM 15 (Wood Handbook ch. 20, seen): 56 °C at the core for 30 minutes, without a break
    assert held(every(5, *[57.0] * 7)).shown and held(every(5, *[57.0] * 7)).longest_min == 30.0
    assert not held(every(5, *[57.0] * 6)).shown
    broken = held(every(5, *[57.0] * 4, 55.9, *[58.0] * 6))
    assert (broken.shown, broken.longest_min, broken.in_all_min) == (False, 25.0, 40.0)
    assert not held([CoreReading(0.0, 70.0)]).shown and not held([]).shown


def test_what_nobody_read_in_a_gap_counts_for_nothing_and_is_told() -> None:
    readings = [*every(5, *[57.0] * 5), *every(5, *[57.0] * 5, start=45.0)]
    found = held(readings)
    assert found.gaps == (Gap(20.0, 45.0),) and not found.shown
    assert (found.longest_min, found.across_min, found.in_all_min) == (20.0, 65.0, 40.0)
    said = core_said(found, lambda celsius: f"{celsius:.0f} °C")
    assert "25 minutes from minute 20 on" in said and "it would be 65 minutes" in said
    assert "core at 56 °C or over for 20 minutes without a break (40 minutes in all)" in said
    whole = core_said(held(every(5, *[57.0] * 8)), lambda celsius: f"{celsius:.0f} °C")
    assert "no gap of more than 10 minutes" in whole


@given(st.lists(st.tuples(st.floats(0.1, 30.0), st.floats(40.0, 70.0)), min_size=1, max_size=40), st.floats(50.0, 60.0))
def test_held_times_never_exceed_the_record_and_hotter_wood_never_counts_less(
    steps: list[tuple[float, float]], core_c: float
) -> None:
    minutes, readings = 0.0, []
    for step, core in steps:
        minutes += step
        readings.append(CoreReading(minutes, core))
    found = held(readings, core_c)
    assert 0.0 <= found.longest_min <= found.in_all_min <= found.read_min + 1e-9
    assert found.longest_min <= found.across_min <= found.read_min + 1e-9
    assert all(gap.minutes > LONGEST_GAP_MIN for gap in found.gaps)
    hotter = held([CoreReading(one.minutes, one.core_c + 1.0) for one in readings], core_c)
    assert hotter.longest_min >= found.longest_min and hotter.in_all_min >= found.in_all_min - 1e-9


@pytest.mark.parametrize(
    "text",
    [
        "minutes,core_c\n0,50\n5,56.5",
        "0, 50\n5, 56.5",
        "0;50\n5;56,5",
        "0\t50 C\n5\t56,5 C",
        "0 50\n\n# by hand\n5 56.5",
        "23:57, 50\n0:02, 56.5",
        "minutes,core_f\n0,122\n5,133.7",
        "0, 122 F\n5, 133.7 F",
        "0, 51, 50, 60\n5, 57, 56.5, 61",
    ],
)
def test_the_same_two_readings_are_read_however_they_are_written(text: str) -> None:
    first, last = read_core_record(text.splitlines(), Degree.CELSIUS)
    assert last.minutes - first.minutes == pytest.approx(5.0)
    assert (first.core_c, last.core_c) == (pytest.approx(50.0), pytest.approx(56.5))


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0, 50\nfive, 51\n10", "line 2: 'five' is no time; write minutes, or h:mm. line 3: '10' is a time without a core"),
        ("0, 50\n10, 51\n5, 52", "line 3: 5 minutes lie before the line above"),
        ("0, 50", "has 2 to 5000 readings"),
        ("", "has 2 to 5000 readings"),
        ("0, 50\n5, 900", "a core at 900 °C cannot be"),
        ("0, warm\n5, 50", "line 1: "),
    ],
)
def test_lines_that_cannot_be_read_are_told_with_their_numbers(text: str, told: str) -> None:
    with pytest.raises(BadRecord) as slip:
        read_core_record(text.splitlines(), Degree.CELSIUS)
    assert told in str(slip.value)


def test_a_heading_that_names_no_core_leaves_every_reading_to_name_its_degrees() -> None:
    """A logger's own words over Fahrenheit, read in a shop that counts in Celsius, would else show 120 °C in wood at 49 °C."""
    with pytest.raises(BadRecord, match="does not say which degrees"):
        read_core_record(["time,temperature F", "0,120", "5,121"], Degree.CELSIUS)
    named = read_core_record(["time,temperature", "0,120 F", "5,122 F"], Degree.CELSIUS)
    assert [round(one.core_c) for one in named] == [49, 50]


@pytest.mark.parametrize("time", ["inf", "nan", "1e999", "-5", "100001"])
def test_a_time_that_is_none_is_a_sentence(time: str) -> None:
    with pytest.raises(BadRecord, match="is no time"):
        read_core_record(["0,57", f"{time},57"], Degree.CELSIUS)


def test_a_logger_that_reads_every_ten_minutes_leaves_no_gaps_though_sums_are_off_by_a_hair() -> None:
    minutes = [0.3 + 10.0 * n for n in range(40)]
    assert any(after - one > LONGEST_GAP_MIN for one, after in pairwise(minutes)), "as floats fall"
    found = held([CoreReading(at, 57.0) for at in minutes])
    assert found.gaps == () and found.longest_min == pytest.approx(390.0)
