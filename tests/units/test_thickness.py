"""Thickness fields: 4/4 and up in quarters is a name, everything else a length."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.units.thickness import Thickness, parse_thickness
from waney.units.written import Unreadable


def said(read: Callable[[str], object], text: str) -> str:
    """The sentence that a text is refused with; a full stop alone when it is read. Anything but a Problem gets out."""
    try:
        read(text)
    except Problem as problem:
        return str(problem)
    return "."


@pytest.mark.parametrize(("text", "quarters"), [("4/4", 4), ("5/4", 5), ("8/4", 8), ("16/4", 16), (" 8⁄4 ", 8), ("⁸⁄₄", 8)])
@pytest.mark.parametrize("unit", [None, "in", "mm"])
def test_four_quarters_and_up_is_a_name(text: str, quarters: int, unit: str | None) -> None:
    thickness = parse_thickness(text, unit)
    assert thickness == Thickness(pytest.approx(quarters * 0.00635, rel=1e-15), quarters)


@pytest.mark.parametrize("text", ['5/4"', "5/4 in", "5/4 inch", "1 1/4 in", '1¼"', "31.75 mm"])
def test_with_an_inch_mark_it_is_a_length(text: str) -> None:
    assert parse_thickness(text, None) == Thickness(0.03175, None)


@pytest.mark.parametrize("text", ["3/4", "¾", "6/8"])
def test_three_quarters_is_never_a_name(text: str) -> None:
    assert parse_thickness(text, "in") == Thickness(0.01905, None)
    with pytest.raises(Unreadable):
        parse_thickness(text, None)


def test_a_bare_fraction_means_nothing_in_a_metric_sheet() -> None:
    with pytest.raises(Unreadable, match="write 3/4 in"):
        parse_thickness("3/4", "mm")


@pytest.mark.parametrize("text", ["0", "0 mm", "0/4", "-8/4", "8/4/4", "8/0"])
def test_nothing_is_no_thickness(text: str) -> None:
    with pytest.raises(Unreadable):
        parse_thickness(text, "in")


@given(st.one_of(st.text(), st.text(alphabet='0123456789/4 "in', max_size=10)), st.sampled_from([None, "in", "mm"]))
def test_any_text_is_a_thickness_or_a_sentence(text: str, unit: str | None) -> None:
    assert said(lambda t: parse_thickness(t, unit), text).endswith(".")
