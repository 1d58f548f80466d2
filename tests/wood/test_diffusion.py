"""Diffusion, sorption backwards, and the film: units, magnitudes and limits that the literature gives."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.problem import OutOfRange
from waney.wood.diffusion import across_grain, along_grain, cavity_diffusion, cell_wall_diffusion, vapour_in_air, warmth
from waney.wood.emc import equilibrium_moisture
from waney.wood.film import heat_film, latent_heat, mean_air_pressure, through_stack, vapour_film
from waney.wood.sorption import humidity_over, saturation_moisture, sorption_slope
from waney.wood.vapour import saturation_pressure, wet_bulb


def one(values: np.ndarray) -> float:
    return float(values.reshape(-1)[0])


def at(mc: float) -> np.ndarray:
    return np.array([mc])


@given(st.floats(0.02, 0.25), st.floats(-30.0, 110.0))
def test_humidity_over_wood_is_the_sorption_equation_backwards(mc: float, t: float) -> None:
    humidity = one(humidity_over(at(mc), t))
    if humidity < 1.0:
        assert equilibrium_moisture(t, humidity) == pytest.approx(mc, abs=2e-5)


def test_saturation_lies_near_the_published_fibre_saturation() -> None:
    # 30 % on average at room temperature, 23 to 33 between woods (Wood Handbook, seen); falls as wood warms
    assert 0.27 < saturation_moisture(20.0) < 0.31
    assert saturation_moisture(80.0) < saturation_moisture(40.0) < saturation_moisture(20.0)


def test_the_slope_of_sorption_is_that_of_its_curve() -> None:
    step = 1e-3
    rise = one(humidity_over(at(0.10 + step), 25.0)) - one(humidity_over(at(0.10 - step), 25.0))
    assert one(sorption_slope(at(0.10), 25.0)) == pytest.approx(rise / (2 * step), rel=5e-3)


def test_vapour_in_cavities_is_ten_thousand_times_slower_than_in_air() -> None:
    # reference note after Siau 1984: about 1e-4 of D_a at 25 °C and 10 %
    ratio = one(cavity_diffusion(at(0.10), 25.0)) / vapour_in_air(25.0)
    assert 0.5e-4 < ratio < 2e-4


def test_the_cell_wall_follows_the_older_form_of_the_same_law() -> None:
    # 0.07 exp(-(9200 - 70 M)/(1.987 T)) cm2/s (Stamm, memory); both forms are rounded, 4 % apart in the exponent's digits
    for mc, t in ((0.05, 20.0), (0.15, 40.0), (0.25, 60.0)):
        older = 0.07e-4 * np.exp(-(9200.0 - 7000.0 * mc) / (1.987 * (t + 273.15)))
        assert one(cell_wall_diffusion(at(mc), t)) == pytest.approx(older, rel=0.08)


def test_across_the_grain_lies_where_measurements_do() -> None:
    # 1e-11 to 1e-9 m2/s from 20 to 60 °C (Siau 1984; Wood Handbook range of lumber, memory)
    for t in (20.0, 40.0, 60.0):
        assert 1e-11 < one(across_grain(at(0.12), t, 0.5)) < 1e-9


def test_aspen_grows_faster_with_moisture_than_the_formula() -> None:
    # Simpson (abstract, seen): 8-fold from 2.5 to 18 % at 110 °F. The formula gives 3.3: too flat, as the methods page says
    d = across_grain(np.array([0.025, 0.18]), 43.3, 0.35)
    assert 3.0 < d[1] / d[0] < 8.0


@given(st.floats(0.25, 0.9), st.floats(0.02, 0.24), st.floats(0.0, 100.0))
def test_denser_colder_and_drier_wood_carries_less(gravity: float, mc: float, t: float) -> None:
    here = one(across_grain(at(mc), t, gravity))
    assert one(across_grain(at(mc), t, gravity + 0.1)) < here
    assert one(across_grain(at(mc), t + 5.0, gravity)) > here
    assert one(along_grain(at(mc), t, gravity)) > here


def test_warmth_is_one_where_it_is_counted_from_and_simpsons_rate_elsewhere() -> None:
    assert warmth(43.3) == 1.0
    assert warmth(60.0) == pytest.approx(np.exp(-5280.0 / 333.15 + 5280.0 / 316.45), rel=1e-12)


def test_latent_heat_follows_the_steam_tables() -> None:
    # IAPWS-IF97 (computed): 2442 at 25 °C, 2406 at 40 °C, 2257 at 100 °C
    for t, printed in ((25.0, 2442.0), (40.0, 2406.0), (100.0, 2257.0)):
        assert latent_heat(t) / 1000 == pytest.approx(printed, rel=4e-3)


def test_a_wet_surface_settles_at_the_wet_bulb() -> None:
    # the analogy of heat and vapour (Chilton and Colburn) against the psychrometer's balance: within half a degree
    for t, h in ((20.0, 0.5), (50.0, 0.3), (70.0, 0.7)):
        film, vapour = heat_film(2.0), h * saturation_pressure(t)
        wet = wet_bulb(t, h)
        k = vapour_film(film, mean_air_pressure(saturation_pressure(wet), vapour, 101_325.0))
        excess = k * latent_heat(wet) * (saturation_pressure(wet) - vapour) - film * (t - wet)
        slope = k * latent_heat(wet) * (saturation_pressure(wet + 0.5) - saturation_pressure(wet - 0.5)) + film
        assert abs(excess / slope) < 0.5


def test_the_film_thins_with_speed_and_vanishes_with_the_air() -> None:
    assert heat_film(4.0) / heat_film(1.0) == pytest.approx(2.0, abs=0.15)  # speed^0.5 to 0.8 (AH-188, memory)
    assert 10.0 < heat_film(2.0) < 25.0  # kilns: 10 to 25 W/(m2 K), common practice
    pressures = [mean_air_pressure(12_000.0, 6_000.0, p) for p in (101_325.0, 50_000.0, 20_000.0, 12_500.0)]
    assert pressures == sorted(pressures, reverse=True)
    assert mean_air_pressure(12_000.0, 6_000.0, 12_000.0) == 0.0
    with pytest.raises(OutOfRange):
        vapour_film(10.0, 0.0)


@given(st.floats(0.05, 3.0), st.floats(0.3, 4.0))
def test_a_stack_dries_slower_than_a_board_alone_and_never_more_than_its_air_can_carry(speed: float, width: float) -> None:
    alone = heat_film(speed)
    mean = through_stack(alone, speed, width, 0.022)
    carried = 1.2 * 1010.0 * speed * 0.022 / (2.0 * width)
    assert mean < alone and mean < carried
    assert through_stack(alone, speed, 1e-6, 0.022) == pytest.approx(alone, rel=1e-3)
