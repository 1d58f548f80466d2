"""Lengths: what people write is read exactly, and what is printed reads back as the same length."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import inf, nan

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.units.direction import Direction
from waney.units.length import (
    DUST_NM,
    Grain,
    LengthUnit,
    from_nanometres,
    length_of,
    parse_length,
    parse_length_unit,
    print_length,
    to_nanometres,
)
from waney.units.number import Comma
from waney.units.written import NoUnit, TwoReadings, Unreadable

INCH = Fraction(254, 10_000)
DUST_M = DUST_NM * 1e-9


def said(read: Callable[[str], object], text: str) -> str:
    """The sentence that a text is refused with; a full stop alone when it is read. Anything but a Problem gets out."""
    try:
        read(text)
    except Problem as problem:
        return str(problem)
    return "."


def metres(inches: Fraction | int) -> float:
    return float(inches * INCH)


# 102 1/2 in = 8 ft 6 1/2 in; an inch is 25.4 mm by the international agreement of 1959
EIGHT_SIX_AND_A_HALF = metres(Fraction(205, 2))


@pytest.mark.parametrize(
    "text",
    [
        "8' 6 1/2\"",
        "8'6 1/2\"",
        "8' 6-1/2\"",
        "8'-6 1/2\"",
        "8' 6 1/2",
        "8' 6½\"",
        "8′ 6½″",
        "8’ 6 ½”",
        "8' 6¹⁄₂\"",
        "8' 6 1⁄2\"",
        "8 ft 6.5 in",
        "8 ft. 6,5 in.",
        "8 feet 6.5 inches",
        "8ft 6.5in",
        "8 FT, 6.5 IN",
        "102 1/2 in",
        "102-1/2 in",
        "102½ in",
        '102.5"',
        "2603.5 mm",
        "2603,5 mm",
        "260.35 cm",
        "2.6035 m",
        "2,6035 m",
        "2.6035 metres",
        " 2.6035 \t m ",
    ],
)
def test_one_length_written_in_many_ways(text: str) -> None:
    assert parse_length(text, None) == EIGHT_SIX_AND_A_HALF


@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [
        ("102 1/2", "in", metres(Fraction(205, 2))),
        ("2-1/8", "in", metres(Fraction(17, 8))),
        ("2-1/8", "inches", metres(Fraction(17, 8))),
        ("3/4", "in", metres(Fraction(3, 4))),
        ("8 1/2", "ft", metres(102)),
        ("54", "mm", 0.054),
        ("3.05", "m", 3.05),
        ("54 mm", "in", 0.054),
        ("0", "in", 0.0),
        (".5", "mm", 0.0005),
        ("9/8 in", None, metres(Fraction(9, 8))),
    ],
)
def test_a_bare_number_counts_the_unit_of_the_sheet(text: str, unit: str | None, expected: float) -> None:
    assert parse_length(text, unit) == expected


def test_a_bare_number_without_a_units_line_is_refused() -> None:
    with pytest.raises(NoUnit, match="write 54 in or 54 mm"):
        parse_length("54", None)


def test_a_number_of_the_sheet_itself_has_one_reading() -> None:
    assert length_of(2.125, "in") == metres(Fraction(17, 8))
    assert length_of(1.234, "m") == 1.234
    assert length_of(-3, "mm") == -0.003


@pytest.mark.parametrize("value", [nan, inf, -inf, 1e300])
def test_a_number_that_is_no_length_is_refused(value: float) -> None:
    with pytest.raises(Unreadable):
        length_of(value, "m")


@pytest.mark.parametrize("text", ["3,050 m", "3,050", "1,234 in", "0,305 m", "1234,567 mm"])
def test_a_comma_before_three_digits_is_refused_with_both_readings(text: str) -> None:
    number = text.split()[0]
    with pytest.raises(TwoReadings) as caught:
        parse_length(text, "mm")
    assert number.replace(",", ".") in str(caught.value)
    assert number.replace(",", "").lstrip("0") in str(caught.value)


def test_the_setting_of_the_shop_decides_about_commas() -> None:
    assert parse_length("3,050 m", None, Comma.DECIMAL) == 3.05
    assert parse_length("3,050 mm", None, Comma.THOUSANDS) == 3.05
    with pytest.raises(Unreadable):
        parse_length("3,05 m", None, Comma.THOUSANDS)


def test_where_the_comma_is_decimal_a_point_before_three_digits_is_refused() -> None:
    with pytest.raises(TwoReadings, match="1,200 or 1200"):
        parse_length("1.200 mm", None, Comma.DECIMAL)
    assert parse_length("0.125 in", None, Comma.DECIMAL) == metres(Fraction(1, 8))


@pytest.mark.parametrize("text", ["3,05 m", "3,5 m", "3,0500 m"])
def test_a_comma_with_one_reading_is_read(text: str) -> None:
    assert parse_length(text, None) == parse_length(text.replace(",", "."), None)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "8''",
        "--1",
        "-1",
        "- 1 in",
        "1/0",
        "1/0 in",
        "8 1/0 in",
        "nan",
        "inf",
        "1e999",
        "1e3 mm",
        "0x10 mm",
        "1_000 mm",
        "🪵",
        "8🪵",
        "5 furlongs",
        "8' 14\"",
        "8.5' 6\"",
        "2 9/8 in",
        "1.2.3 m",
        "1,2,3 m",
        "8' 6' 2\"",
        "6\" 8'",
        "½½ in",
        "٣ mm",
        "9" * 79,
        "9" * 10_240,
        "8 " * 5_120,
        "1001 m",
        "\x00",
        "54 mm 3",
        "8' -6\" in",
    ],
)
def test_hostile_text_gets_a_sentence(text: str) -> None:
    with pytest.raises(Unreadable) as caught:
        parse_length(text, "in")
    assert str(caught.value).endswith(".")
    assert len(str(caught.value)) < 250


@given(st.text(), st.sampled_from([None, "in", "mm", "🪵"]), st.sampled_from(Comma))
def test_any_text_is_a_length_or_a_sentence(text: str, unit: str | None, comma: Comma) -> None:
    assert said(lambda t: parse_length(t, unit, comma), text).endswith(".")


@given(st.text(alphabet="0123456789 ,.'\"-/½⅛¹⁄₂ftinm", max_size=24), st.sampled_from(Comma))
def test_text_that_looks_like_a_length_is_one_or_a_sentence(text: str, comma: Comma) -> None:
    assert said(lambda t: parse_length(t, "in", comma, signed=True), text).endswith(".")


def test_a_length_below_zero_only_where_it_has_a_meaning() -> None:
    assert parse_length("-1/2 in", None, signed=True) == -metres(Fraction(1, 2))
    assert parse_length("−½ in", None, signed=True) == -metres(Fraction(1, 2))
    with pytest.raises(Unreadable, match="below zero"):
        parse_length("-1/2 in", None)


def test_units_lines() -> None:
    assert [parse_length_unit(text) for text in ("inches", "FT", "mm", "cm", "metre")] == list(LengthUnit)
    with pytest.raises(Unreadable, match="write in, ft, mm, cm or m"):
        parse_length_unit("cubits")


def test_the_grid_is_exact() -> None:
    assert Grain.SIXTY_FOURTH_INCH.value == 396_875  # 1/64 in = 25.4 mm / 64
    assert to_nanometres(metres(Fraction(1, 64)), Direction.HAVE) == 396_875
    assert to_nanometres(0.0001, Direction.NEED) == 100_000


GRAINS = st.sampled_from(Grain)
DIRECTIONS = st.sampled_from(Direction)


@given(st.integers(-2_000_000, 2_000_000), GRAINS, DIRECTIONS, st.sampled_from([0.0, 48 * 0.0254, inf]))
def test_what_is_printed_on_the_grid_reads_back(steps: int, grain: Grain, direction: Direction, feet_from_m: float) -> None:
    x = from_nanometres(steps * grain.value) if abs(steps * grain.value) < 10**12 else 0.0
    text = print_length(x, grain, direction, feet_from_m=feet_from_m)
    assert parse_length(text, None, signed=True) == x


@given(st.integers(-(10**12), 10**12))
def test_nanometres_come_back_in_every_direction(count: int) -> None:
    assert {to_nanometres(from_nanometres(count), d) for d in Direction} == {count}


@given(st.floats(-990, 990), GRAINS)
def test_have_is_below_need_is_above_read_is_nearest(x: float, grain: Grain) -> None:
    have, need, read = (parse_length(print_length(x, grain, d), None, signed=True) for d in Direction)
    assert have <= x + DUST_M
    assert need >= x - DUST_M
    assert need - have <= grain.metres + DUST_M
    assert abs(read - x) <= grain.metres / 2 + DUST_M


@given(st.floats(-990, 990))
def test_stock_is_not_overstated_and_a_need_not_understated_in_nanometres(x: float) -> None:
    have, need = (to_nanometres(x, d) for d in (Direction.HAVE, Direction.NEED))
    assert have / 1e9 <= x + DUST_M
    assert need / 1e9 >= x - DUST_M
    assert need - have <= 1


@pytest.mark.parametrize(
    ("x", "grain", "text"),
    [
        (EIGHT_SIX_AND_A_HALF, Grain.SIXTEENTH_INCH, "8' 6 1/2\""),
        (metres(Fraction(215, 16)), Grain.SIXTEENTH_INCH, "13 7/16 in"),
        (0.054, Grain.MM, "54 mm"),
        (0.0545, Grain.HALF_MM, "54.5 mm"),
        (metres(96), Grain.EIGHTH_INCH, "8' 0\""),
        (metres(Fraction(1, 2)), Grain.EIGHTH_INCH, "1/2 in"),
        (0.0, Grain.EIGHTH_INCH, "0 in"),
        (-metres(Fraction(3, 2)), Grain.EIGHTH_INCH, "-1 1/2 in"),
    ],
)
def test_printed_as_the_shop_writes_it(x: float, grain: Grain, text: str) -> None:
    assert print_length(x, grain, Direction.READ) == text


def test_a_bed_scale_stays_in_inches() -> None:
    assert print_length(metres(60), Grain.SIXTEENTH_INCH, Direction.READ, feet_from_m=inf) == "60 in"


@pytest.mark.parametrize("x", [nan, inf, -inf])
def test_what_is_not_finite_is_never_printed(x: float) -> None:
    with pytest.raises(Unreadable):
        print_length(x, Grain.MM, Direction.READ)


@given(st.floats(0.01, 100))
def test_the_imperial_and_the_metric_view_agree(x: float) -> None:
    """To half a per cent, or to what their grains allow: 1/64 in and 0.5 mm to the nearest are off by half of each."""
    views = [parse_length(print_length(x, g, Direction.READ), None) for g in (Grain.SIXTY_FOURTH_INCH, Grain.HALF_MM)]
    grains_allow = (Grain.SIXTY_FOURTH_INCH.metres + Grain.HALF_MM.metres) / 2 + DUST_M
    assert abs(views[0] - views[1]) <= grains_allow
    if x > grains_allow / 0.005:  # from 9 cm on
        assert views[0] == pytest.approx(views[1], rel=0.005)


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("ours", "theirs"), [("in", "inch"), ("ft", "foot"), ("mm", "mm"), ("cm", "cm"), ("m", "m")])
def test_units_agree_with_pint(ours: str, theirs: str, registry: pint.UnitRegistry[float]) -> None:
    # both are the 1959 inch; only float dust differs
    assert parse_length(f"7 {ours}", None) == pytest.approx(registry.Quantity(7, theirs).to("m").magnitude, rel=1e-15)
