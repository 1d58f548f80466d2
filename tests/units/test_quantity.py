"""Volumes and weights: conversions against an outside library, units named in full, both views alike."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import Problem
from waney.units.direction import Direction
from waney.units.mass import KILOGRAM, POUND, SHORT_TON, TONNE, parse_mass, print_mass
from waney.units.number import Comma
from waney.units.quantity import Unit, print_number
from waney.units.volume import BOARD_FOOT, CUBIC_FOOT, CUBIC_METRE, LITRE, US_GALLON, parse_volume, print_volume
from waney.units.written import NoUnit, TwoReadings, Unreadable


def said(read: Callable[[str], object], text: str) -> str:
    """The sentence that a text is refused with; a full stop alone when it is read. Anything but a Problem gets out."""
    try:
        read(text)
    except Problem as problem:
        return str(problem)
    return "."


VOLUMES = {BOARD_FOOT: "board_foot", CUBIC_FOOT: "foot**3", CUBIC_METRE: "m**3", US_GALLON: "gallon", LITRE: "liter"}
MASSES = {POUND: "pound", KILOGRAM: "kg", SHORT_TON: "US_ton", TONNE: "metric_ton"}


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("unit", "name"), VOLUMES.items(), ids=lambda x: getattr(x, "name", x))
def test_volumes_agree_with_pint(unit: Unit, name: str, registry: pint.UnitRegistry[float]) -> None:
    # all are defined through the exact inch: only float dust may differ
    assert parse_volume(f"12.5 {unit.name}") == pytest.approx(registry.Quantity(12.5, name).to("m**3").magnitude, rel=1e-14)


@pytest.mark.parametrize(("unit", "name"), MASSES.items(), ids=lambda x: getattr(x, "name", x))
def test_weights_agree_with_pint(unit: Unit, name: str, registry: pint.UnitRegistry[float]) -> None:
    assert parse_mass(f"12.5 {unit.name}") == pytest.approx(registry.Quantity(12.5, name).to("kg").magnitude, rel=1e-14)


@pytest.mark.parametrize(("thick", "wide", "board_feet"), [(1, 4, 0.333), (2, 4, 0.667), (1, 6, 0.5), (2, 6, 1.0)])
def test_board_feet_in_a_foot_of_board(thick: int, wide: int, board_feet: float) -> None:
    """Worked example D10: boards per linear foot by nominal size, as a published log-scale page prints them to 0.001."""
    inch = parse_volume("1 board foot") / 144
    assert BOARD_FOOT.of(thick * wide * 12 * inch) == pytest.approx(board_feet, abs=0.0005)


def test_board_feet_in_a_cubic_metre() -> None:
    # an American hardwood export glossary prints 424 to the whole board foot
    assert BOARD_FOOT.of(1.0) == pytest.approx(424, abs=0.5)


@pytest.mark.parametrize(
    ("text", "m3"),
    [
        ("100 bd ft", 100 / 423.7760007),
        ("100 board feet", 100 / 423.7760007),
        ("0.5 m³", 0.5),
        ("0,5 m3", 0.5),
        ("2 1/2 litres", 0.0025),
        ("1 cubic foot", 0.028316846592),
        ("1 ft³", 0.028316846592),
        ("1 US gal.", 0.003785411784),
    ],
)
def test_volumes_as_written(text: str, m3: float) -> None:
    assert parse_volume(text) == pytest.approx(m3, rel=1e-9)


@pytest.mark.parametrize("text", ["10 gallons", "10 gal", "10 gal.", "10 feet", "10 m"])
def test_a_volume_word_with_two_meanings_is_refused(text: str) -> None:
    with pytest.raises(TwoReadings):
        parse_volume(text)


@pytest.mark.parametrize("text", ["2 tons", "1 ton", "1 TON"])
def test_a_ton_says_which(text: str) -> None:
    with pytest.raises(TwoReadings, match=r"short tons .* or tonnes"):
        parse_mass(text)


def test_a_bare_number_counts_the_unit_that_is_given() -> None:
    assert parse_mass("12", "kg") == 12
    with pytest.raises(NoUnit):
        parse_mass("12")


def test_printed_units_are_named_in_full() -> None:
    printed = [print_volume(unit.in_si(2), unit, Direction.READ) for unit in VOLUMES]
    printed += [print_mass(unit.in_si(2), unit, Direction.READ) for unit in MASSES]
    assert printed == [
        *("2 board feet", "2 cubic feet", "2 m3", "2 US gallons", "2 litres"),
        *("2 lb", "2 kg", "2 short tons", "2 tonnes"),
    ]
    assert print_volume(BOARD_FOOT.in_si(1), BOARD_FOOT, Direction.READ) == "1 board foot"


@pytest.mark.parametrize(
    ("count", "have", "need", "read"),
    [
        (12.34567, "12.34", "12.35", "12.35"),
        (1234.567, "1234", "1235", "1235"),
        (123456.7, "123456", "123457", "123457"),
        (0.0012345678, "0.001234", "0.001235", "0.001235"),
        (0.0, "0", "0", "0"),
        (10.0, "10", "10", "10"),
        (-1.5, "-1.5", "-1.5", "-1.5"),
        (99.999, "99.99", "100", "100"),
    ],
)
def test_numbers_are_rounded_in_their_direction(count: float, have: str, need: str, read: str) -> None:
    assert [print_number(count, d) for d in Direction] == [have, need, read]


@pytest.mark.parametrize("count", [nan, inf, -inf])
def test_what_is_not_finite_is_never_printed(count: float) -> None:
    with pytest.raises(Unreadable):
        print_number(count, Direction.READ)


@given(st.floats(1e-3, 1e6), st.sampled_from(list(VOLUMES)))
def test_have_is_below_and_need_is_above(count: float, unit: Unit) -> None:
    have, need = (parse_volume(print_volume(unit.in_si(count), unit, d)) for d in (Direction.HAVE, Direction.NEED))
    assert have <= unit.in_si(count) * (1 + 1e-11)
    assert need >= unit.in_si(count) * (1 - 1e-11)


@given(st.integers(1, 9999), st.integers(0, 3), st.sampled_from(list(MASSES)), st.sampled_from(Direction))
def test_printed_figures_read_back(figures: int, decimals: int, unit: Unit, direction: Direction) -> None:
    kg = parse_mass(f"{figures / 10**decimals:.{decimals}f} {unit.name}")
    assert parse_mass(print_mass(kg, unit, direction), comma=Comma.ASK) == kg


@given(st.floats(1e-2, 1e4), st.sampled_from(Direction))
def test_the_imperial_and_the_metric_view_agree_to_half_a_per_cent(si: float, direction: Direction) -> None:
    """Four figures are within 0.1 % each, so two views differ by at most 0.2 %."""
    volumes = [parse_volume(print_volume(si, unit, direction)) for unit in VOLUMES]
    masses = [parse_mass(print_mass(si, unit, direction)) for unit in (POUND, KILOGRAM)]
    assert max(volumes) == pytest.approx(min(volumes), rel=0.005)
    assert max(masses) == pytest.approx(min(masses), rel=0.005)


@given(st.one_of(st.text(), st.text(alphabet="0123456789 .,/mlgkbft³", max_size=20)))
def test_any_text_is_a_volume_and_a_weight_or_a_sentence(text: str) -> None:
    assert said(parse_volume, text).endswith(".")
    assert said(parse_mass, text).endswith(".")


@pytest.mark.parametrize(
    "text", ["🪵", "9" * 10_240 + " kg", "nan kg", "1e999 kg", "1/0 kg", "--1 kg", "-1 kg", "999999999999999 kg"]
)
def test_hostile_text_gets_a_sentence(text: str) -> None:
    with pytest.raises(Unreadable):
        parse_mass(text)
