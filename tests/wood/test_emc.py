"""Equilibrium moisture against the printed table, a second published model, worked examples of group B, and its own inverse."""

from __future__ import annotations

import csv
from math import log
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import OutOfRange
from waney.units.temperature import celsius
from waney.wood.emc import emc_is_extended, equilibrium_moisture, humidity_for

PUBLISHED = Path(__file__).parents[1] / "published"
CELLS = [
    row for row in csv.DictReader(line for line in (PUBLISHED / "emc.csv").open(encoding="utf-8") if not line.startswith("#"))
]
PRINTED = [row for row in CELLS if row["printed_pct"]]

temperatures = st.floats(-1.0, 130.0)
humidities = st.floats(0.0, 1.0)


def emc_pct(fahrenheit: float, humidity_pct: float) -> float:
    return 100 * equilibrium_moisture(celsius(fahrenheit), humidity_pct / 100)


def glass_2014(temperature_c: float, humidity: float) -> float:
    """The second published sorption model: FPL-GTR-282 Eq 4-6 (Glass and others 2014), coefficients read."""
    t = temperature_c + 273.15
    return float((-0.000612 * t * (1 - t / 647.1) ** 2.43 * log(1 - humidity)) ** (0.0577 * t**0.430))


def test_the_tables_are_whole() -> None:
    assert (len(CELLS), len(PRINTED)) == (427, 76)


@pytest.mark.parametrize("row", PRINTED, ids=lambda r: f"{r['temperature_f']}F-{r['humidity_pct']}")
def test_printed_cells(row: dict[str, str]) -> None:
    """Wood Handbook Table 4-2, 30, 70, 120, 150 °F, from memory. Printed to 0.1; the table was itself computed, in °F: 0.1."""
    assert emc_pct(float(row["temperature_f"]), float(row["humidity_pct"])) == pytest.approx(float(row["printed_pct"]), abs=0.1)


def test_every_cell_computed_by_another_hand() -> None:
    """Same equation, other program; rounded to 0.1."""
    for row in CELLS:
        ours = emc_pct(float(row["temperature_f"]), float(row["humidity_pct"]))
        assert ours == pytest.approx(float(row["computed_pct"]), abs=0.051)


@pytest.mark.parametrize(
    ("fahrenheit", "humidity", "expected", "tolerance"),
    [
        pytest.param(70, 25, 5.4, 0.1, id="B1 memory"),
        pytest.param(70, 60, 11.0, 0.1, id="B2 memory"),
        pytest.param(70, 85, 17.9, 0.1, id="B3 memory"),
        pytest.param(140, 55, 8.4, 0.05, id="B4 seen"),
        pytest.param(30, 50, 9.5, 0.1, id="B5 memory"),
        pytest.param(120, 50, 8.2, 0.1, id="B6 memory"),
        pytest.param(150, 30, 4.8, 0.1, id="B7 memory"),
        pytest.param(70, 65, 12.0, 0.1, id="B8 seen"),
    ],
)
def test_worked_examples(fahrenheit: float, humidity: float, expected: float, tolerance: float) -> None:
    """Wood Handbook Table 4-2 as named in the ids; B4 an encyclopaedia article that cites the equation."""
    assert emc_pct(fahrenheit, humidity) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("humidity", [h / 100 for h in range(30, 81, 5)])
def test_the_second_model_agrees_within_0_7_pct(humidity: float) -> None:
    """FPL-GTR-282 Eq 4-6 at 20 °C, 30 to 80 %: 0.7 % moisture is what the two published models differ by at most there."""
    assert equilibrium_moisture(20.0, humidity) == pytest.approx(glass_2014(20.0, humidity), abs=0.007)


@pytest.mark.parametrize(("humidity", "read"), [(0.30, 6.1), (0.50, 9.5), (0.65, 12.5), (0.80, 16.6)])
def test_the_second_model_is_written_down_rightly_here(humidity: float, read: float) -> None:
    """Reference notes, section 2: values computed there from the equation that was read."""
    assert 100 * glass_2014(20.0, humidity) == pytest.approx(read, abs=0.06)


@given(temperatures, humidities, humidities)
def test_damper_air_means_wetter_wood(temperature: float, one: float, other: float) -> None:
    drier, damper = sorted((one, other))
    assert equilibrium_moisture(temperature, drier) <= equilibrium_moisture(temperature, damper)


@given(st.floats(10.0, 130.0), st.floats(10.0, 130.0), st.floats(0.05, 0.95))
def test_warmer_air_of_one_humidity_means_drier_wood(one: float, other: float, humidity: float) -> None:
    """From 10 °C up; below, the printed table itself is level or turns (30 and 40 °F print the same cells)."""
    colder, warmer = sorted((one, other))
    assert equilibrium_moisture(warmer, humidity) <= equilibrium_moisture(colder, humidity) + 1e-5


@given(temperatures, humidities)
def test_the_inverse_comes_back(temperature: float, humidity: float) -> None:
    mc = equilibrium_moisture(temperature, humidity)
    assert humidity_for(temperature, mc) == pytest.approx(humidity, abs=1e-9)


@given(temperatures)
def test_it_runs_on_to_its_own_value_at_saturation_without_a_step(temperature: float) -> None:
    just_below, just_above = (equilibrium_moisture(temperature, h) for h in (0.95, 0.95 + 1e-9))
    assert just_above == pytest.approx(just_below, abs=1e-7)
    assert equilibrium_moisture(temperature, 1.0) > just_above


def test_what_lies_outside_the_table_is_marked() -> None:
    assert not emc_is_extended(20.0, 0.95)
    assert emc_is_extended(20.0, 0.951)
    assert emc_is_extended(-5.0, 0.60)
    assert not emc_is_extended(celsius(30), 0.60)


@pytest.mark.parametrize(
    ("temperature", "humidity"), [(20.0, 65.0), (20.0, -0.1), (-60.0, 0.5), (200.0, 0.5), (float("nan"), 0.5)]
)
def test_what_no_source_covers_is_refused(temperature: float, humidity: float) -> None:
    with pytest.raises(OutOfRange):
        equilibrium_moisture(temperature, humidity)


@pytest.mark.parametrize("mc", [-0.01, 0.5, float("nan")])
def test_moisture_that_no_air_gives_is_refused(mc: float) -> None:
    with pytest.raises(OutOfRange, match="Equilibrium moisture"):
        humidity_for(20.0, mc)
