"""Temperature, moisture content and money as written and as printed."""

from __future__ import annotations

from collections.abc import Callable

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.units.direction import Direction
from waney.units.moisture import mc_pct, parse_mc, print_mc
from waney.units.money import Money, parse_money, parse_rate, print_money
from waney.units.number import Comma
from waney.units.temperature import Degree, celsius, fahrenheit, parse_temperature, print_temperature
from waney.units.written import NoUnit, TwoReadings, Unreadable

READERS: tuple[Callable[[str], object], ...] = (
    parse_temperature,
    parse_mc,
    lambda text: parse_money(text, "USD"),
    lambda text: parse_rate(text, None),
)
HOSTILE = ["", "🪵", "9" * 10_240, "nan", "inf", "1e999", "--1", "1/0", "8''", "\x00", "$", "%", "°", "-"]


def said(read: Callable[[str], object], text: str) -> str:
    """The sentence that a text is refused with; a full stop alone when it is read. Anything but a Problem gets out."""
    try:
        read(text)
    except Problem as problem:
        return str(problem)
    return "."


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize("degrees_f", [-40, 0, 32, 70, 140, 212])
def test_fahrenheit_agrees_with_pint(degrees_f: float, registry: pint.UnitRegistry[float]) -> None:
    outside = registry.Quantity(degrees_f, registry.degF).to("degC").magnitude
    assert celsius(degrees_f) == pytest.approx(outside, abs=1e-9)  # pint goes through kelvin: dust of 300 K
    assert parse_temperature(f"{degrees_f} F") == pytest.approx(outside, abs=1e-9)


@given(st.floats(-200, 500))
def test_degrees_come_back(value: float) -> None:
    assert celsius(fahrenheit(value)) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize("text", ["68 F", "68°F", "68 deg F", "20 C", "20 °C", "20,0 degrees celsius", "68 fahrenheit"])
def test_one_temperature_in_many_ways(text: str) -> None:
    assert parse_temperature(text) == pytest.approx(20.0, abs=1e-12)


def test_a_bare_temperature_needs_its_degrees() -> None:
    assert parse_temperature("-4", Degree.FAHRENHEIT) == pytest.approx(-20)
    with pytest.raises(NoUnit):
        parse_temperature("70")


@pytest.mark.parametrize("text", ["-500 F", "-300 C", "5000 F"])
def test_a_temperature_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(Unreadable):
        parse_temperature(text)


@given(st.integers(-100, 900), st.sampled_from(Degree))
def test_whole_degrees_read_back(value: int, degree: Degree) -> None:
    value_c = parse_temperature(str(value), degree)
    assert parse_temperature(print_temperature(value_c, degree)) == value_c


@pytest.mark.parametrize(
    ("text", "mc"), [("12 %", 0.12), ("12", 0.12), ("8,5 %", 0.085), ("0.5 %", 0.005), ("0", 0.0), ("12 % MC", 0.12)]
)
def test_moisture_content_is_per_cent(text: str, mc: float) -> None:
    assert parse_mc(text) == mc


def test_a_bare_share_is_refused_with_both_readings() -> None:
    with pytest.raises(TwoReadings, match=r"12 % or 0\.12 %"):
        parse_mc("0.12")


@given(st.integers(0, 2000), st.sampled_from(Direction))
def test_moisture_content_reads_back_to_a_tenth(tenths: int, direction: Direction) -> None:
    mc = parse_mc(f"{tenths / 10} %")
    assert parse_mc(print_mc(mc, direction)) == mc
    assert mc_pct(mc) == pytest.approx(tenths / 10)


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        *[("12.50", 1250), ("$12.50", 1250), ("-$12.50", -1250), ("12.5 USD", 1250), ("usd 12.50", 1250), ("12,50", 1250)],
        *[("$1,234,567.89", 123456789), ("1,234.50", 123450), ("0", 0), (".05", 5), ("$ -3", -300)],
    ],
)
def test_money_as_written(text: str, cents: int) -> None:
    assert parse_money(text, "USD") == Money(cents, "USD")


@pytest.mark.parametrize("text", ["1,234", "$1,234"])
def test_money_with_two_readings_is_refused(text: str) -> None:
    with pytest.raises(TwoReadings):
        parse_money(text, "USD")
    assert parse_money(text, "USD", Comma.THOUSANDS) == Money(123400, "USD")


def test_points_part_thousands_where_the_comma_is_decimal() -> None:
    assert parse_money("1.234,50 €", "EUR", Comma.DECIMAL) == Money(123450, "EUR")


def test_money_names_its_currency() -> None:
    assert parse_money("12 €", None) == Money(1200, "EUR")
    assert parse_money("$12", "CAD") == Money(1200, "CAD")
    for text in ("12", "$12"):
        with pytest.raises(NoUnit):
            parse_money(text, None)
    with pytest.raises(Unreadable, match="this shop's currency"):
        parse_money("12 EUR", "USD")


def test_broken_cents_are_a_rate_not_an_amount() -> None:
    assert parse_rate("0.4555", "USD") == (45.55, "USD")
    with pytest.raises(Unreadable, match="whole cents"):
        parse_money("0.4555", "USD")


@given(st.integers(-(10**12), 10**12), st.sampled_from(["USD", "EUR", "GBP", "CAD", "CHF"]), st.sampled_from(Comma))
def test_printed_money_reads_back(cents: int, currency: str, comma: Comma) -> None:
    assert parse_money(print_money(cents, currency), currency, comma) == Money(cents, currency)


@pytest.mark.parametrize(
    ("cents", "currency", "text"),
    [(1250, "USD", "$12.50"), (-5, "EUR", "-€0.05"), (300, "GBP", "£3.00"), (1250, "CHF", "12.50 CHF")],
)
def test_money_as_printed(cents: int, currency: str, text: str) -> None:
    assert str(Money(cents, currency)) == text


@given(st.one_of(st.sampled_from(HOSTILE), st.text(), st.text(alphabet="0123456789 .,/$€%-°CFmc", max_size=16)))
def test_any_text_is_read_or_gets_a_sentence(text: str) -> None:
    for read in READERS:
        assert said(read, text).endswith(".")


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_gets_a_sentence(text: str) -> None:
    for read in READERS:
        with pytest.raises(Unreadable):
            read(text)
