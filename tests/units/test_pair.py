"""Two lengths in one breath: read wherever they can be told apart, refused with what to write instead where they cannot."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.units.direction import Direction
from waney.units.length import Grain, parse_length, print_length
from waney.units.pair import parse_two_lengths
from waney.units.written import NoUnit, TwoReadings, Unreadable


@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.sampled_from(Grain), st.sampled_from([",", ", ", ";", " ; "]))
def test_two_printed_lengths_read_back(butt: float, top: float, grain: Grain, mark: str) -> None:
    one, other = (print_length(metres, grain, Direction.READ) for metres in (butt, top))
    assert parse_two_lengths(f"{one}{mark}{other}") == (parse_length(one, None), parse_length(other, None))


def test_inches_and_millimetres_agree() -> None:
    # 1 in = 25.4 mm exactly (the agreement of 1959), so 9 1/2 in = 241.3 mm and 8 3/4 in = 222.25 mm
    assert parse_two_lengths("9 1/2 in, 8 3/4 in") == parse_two_lengths("241.3 mm, 222.25 mm") == (0.2413, 0.22225)


def test_a_comma_inside_a_number_or_after_feet_divides_nothing() -> None:
    assert parse_two_lengths("241,3 mm, 222,25 mm") == (0.2413, 0.22225)
    assert parse_two_lengths("1 ft, 2 in, 1 ft") == pytest.approx((14 * 0.0254, 0.3048))


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("9 1/2, 8 3/4", NoUnit, "needs its unit"),
        ("9 1/2 in, 8 3/4", NoUnit, "needs its unit"),
        ("9 1/2 in", Unreadable, "two are needed"),
        ("", Unreadable, "two are needed"),
        ("9 1/2 in, high", Unreadable, "high"),
        ("-1 in, 8 in", Unreadable, "below zero"),
        ("1 in, 2 in, 3 in", Unreadable, "not two lengths"),
        ("1 in; 2 in; 3 in", Unreadable, "not two lengths"),
        ("1 ft, 1 ft, 1 in, 1 ft", Unreadable, "not two lengths"),
    ],
)
def test_what_is_not_two_lengths_gets_a_sentence(text: str, kind: type[Unreadable], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        parse_two_lengths(text)


def test_what_can_be_divided_in_two_places_is_refused() -> None:
    with pytest.raises(TwoReadings, match="semicolon"):
        parse_two_lengths("1 ft, 1,1 in")  # 1 ft and 1.1 in, or 13 in and 1 in
