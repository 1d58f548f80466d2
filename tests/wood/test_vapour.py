"""Steam and moist air against CoolProp, psychrolib, a published boiling table, and their own inverses."""

from __future__ import annotations

import csv
from math import exp, log, tanh
from pathlib import Path

import psychrolib
import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import OutOfRange
from waney.wood.vapour import (
    STANDARD_PRESSURE,
    BadBulbs,
    humidity_of_bulbs,
    humidity_ratio,
    humidity_ratio_of,
    saturation_pressure,
    vapour_pressure,
    vapour_pressure_of,
    wet_bulb,
)

psychrolib.SetUnitSystem(psychrolib.SI)  # once: each call makes numba compile the library again
PUBLISHED = Path(__file__).parents[1] / "published" / "water_saturation.csv"
BOILING = list(csv.DictReader(line for line in PUBLISHED.open(encoding="utf-8") if not line.startswith("#")))
BULBS = [
    (dry, wet) for dry in (10.0, 20.0, 30.0, 45.0, 60.0, 75.0, 90.0) for wet in (5.0, 9.0, 18.0, 28.0, 42.0, 55.0, 70.0, 88.0)
]


@pytest.mark.parametrize("celsius", [0.5, 5, 10, 20, 25, 40, 60, 80, 100, 120, 150, 180, 199])
def test_steam_agrees_with_coolprop(celsius: float) -> None:
    """CoolProp uses IAPWS-95; IF97 is stated to follow it within 0.03 % on the saturation line."""
    assert saturation_pressure(celsius) == pytest.approx(PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water"), rel=3e-4)


@pytest.mark.parametrize("celsius", [0, -5, -10, -20, -30, -40])
def test_supercooled_water_agrees_with_murphy_and_koop(celsius: float) -> None:
    """Murphy & Koop 2005, Eq 10 (memory), over liquid water; 0.3 %: IF97 is continued below its range here."""
    t = celsius + 273.15
    low = 54.842763 - 6763.22 / t - 4.210 * log(t) + 0.000367 * t
    high = 53.878 - 1331.22 / t - 9.44523 * log(t) + 0.014025 * t
    assert saturation_pressure(celsius) == pytest.approx(exp(low + tanh(0.0415 * (t - 218.8)) * high), rel=3e-3)


@pytest.mark.parametrize("row", BOILING, ids=lambda r: f"{r['pressure_kpa']} kPa")
def test_boiling_points_under_vacuum(row: dict[str, str]) -> None:
    """Reference table computed by an open IF97 implementation; printed to 0.01 °C, which is half a thousandth of the pressure."""
    assert saturation_pressure(float(row["boiling_c"])) == pytest.approx(1000 * float(row["pressure_kpa"]), rel=5e-4)


def test_g2_water_boils_at_45_8_c_under_10_kpa() -> None:
    assert saturation_pressure(45.8) == pytest.approx(10_000.0, rel=6e-3)  # 0.1 °C


@pytest.mark.parametrize(("dry", "wet"), [(d, w) for d, w in BULBS if w <= d and d - w <= 30])
def test_bulbs_agree_with_psychrolib(dry: float, wet: float) -> None:
    """psychrolib 2.5 solves the same ASHRAE balance with another saturation line (0.1 % apart at most, hence 0.002)."""
    expected = psychrolib.GetRelHumFromTWetBulb(dry, wet, STANDARD_PRESSURE)
    if expected <= 1e-4:  # psychrolib floors at nearly dry air where we refuse
        with pytest.raises(BadBulbs):
            humidity_of_bulbs(dry, wet)
    else:
        assert humidity_of_bulbs(dry, wet) == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize("dry", [0.5, 20.0, 50.0, 90.0])
def test_water_in_air_agrees_with_psychrolib(dry: float) -> None:
    """Both treat ideal gases; 0.1 % for two saturation lines."""
    expected = psychrolib.GetHumRatioFromRelHum(dry, 0.5, STANDARD_PRESSURE)
    assert humidity_ratio(dry, 0.5) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("dry", [15.0, 25.0, 40.0, 60.0, 80.0])
@pytest.mark.parametrize("humidity", [0.2, 0.4, 0.6, 0.8, 0.95])
def test_moist_air_agrees_with_coolprop(dry: float, humidity: float) -> None:
    """CoolProp treats real air (ASHRAE RP-1485). Ideal gas: up to 0.6 % less water at 50 °C, more when hot; wet bulb 0.15 K."""
    state = ("T", dry + 273.15, "R", humidity, "P", STANDARD_PRESSURE)
    assert humidity_ratio(dry, humidity) == pytest.approx(HAPropsSI("W", *state), rel=0.015)
    assert wet_bulb(dry, humidity) == pytest.approx(HAPropsSI("Twb", *state) - 273.15, abs=0.15)


@given(st.floats(-40.0, 199.9), st.floats(-40.0, 199.9))
def test_saturation_rises_with_temperature(one: float, other: float) -> None:
    colder, warmer = sorted((one, other))
    assert saturation_pressure(colder) <= saturation_pressure(warmer)


@given(st.floats(12.0, 99.0), st.floats(0.3, 1.0))
def test_wet_bulb_and_humidity_come_back(dry: float, humidity: float) -> None:
    wet = wet_bulb(dry, humidity)
    assert wet <= dry
    assert humidity_of_bulbs(dry, wet) == pytest.approx(humidity, abs=1e-6)


@given(st.floats(0.0, 50_000.0))
def test_ratio_and_pressure_come_back(vapour: float) -> None:
    assert vapour_pressure_of(humidity_ratio_of(vapour)) == pytest.approx(vapour, abs=1e-6)


@pytest.mark.parametrize(("dry", "wet"), [(20.0, 21.0), (60.0, 5.0)])
def test_bulbs_that_no_air_gives_are_refused(dry: float, wet: float) -> None:
    with pytest.raises(BadBulbs):
        humidity_of_bulbs(dry, wet)


def test_a_wet_bulb_that_would_freeze_is_refused() -> None:
    with pytest.raises(BadBulbs, match="below freezing"):
        wet_bulb(1.0, 0.2)


def test_ranges_are_kept() -> None:
    for call in (
        lambda: saturation_pressure(250.0),
        lambda: saturation_pressure(float("nan")),
        lambda: vapour_pressure(20.0, 60.0),
        lambda: humidity_of_bulbs(120.0, 50.0),
        lambda: humidity_ratio(110.0, 1.0),
    ):
        with pytest.raises(OutOfRange):
            call()
