"""Heat capacity and conductivity against published figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from waney.figures.estimate import Ground
from waney.figures.problem import OutOfRange
from waney.wood.heat import conductivity, diffusivity, dry_heat_capacity, heat_capacity


def test_g1_heat_capacity_at_340_k_and_12_pct() -> None:
    """1.91 kJ/(kg K): an open library's example of Wood Handbook Eq 4-16 to 4-18, read."""
    assert heat_capacity(340.0 - 273.15, 0.12) == pytest.approx(1910.0, abs=10.0)


@given(st.floats(8.0, 146.0), st.floats(0.3, 2.0))
def test_above_fibre_saturation_wood_and_water_share_the_heat(celsius: float, mc: float) -> None:
    """Energy balance: a kg of dry wood with its water takes what the two take apart."""
    apart = dry_heat_capacity(celsius) + mc * 4180.0
    assert heat_capacity(celsius, mc) * (1 + mc) == pytest.approx(apart)


def test_wood_conducts_about_an_eighth_of_a_watt() -> None:
    """Wood Handbook Table 4-7 (memory): white oak, G 0.66 at 12 %: 0.18 W/(m K); eastern white pine, G 0.35: 0.10. To 0.01."""
    assert conductivity(0.66, 0.12).likely == pytest.approx(0.18, abs=0.01)
    assert conductivity(0.35, 0.12).likely == pytest.approx(0.10, abs=0.01)


def test_diffusivity_is_that_of_the_heating_tables() -> None:
    """1.6e-7 m2/s reproduces the heating times of Table 20-4 (reference notes); red oak green, G 0.56, 80 %, within 20 %."""
    across = diffusivity(conductivity(0.56, 0.80).likely, 560 * 1.8, heat_capacity(40.0, 0.80))
    assert across == pytest.approx(1.6e-7, rel=0.2)


@given(st.floats(0.3, 1.2), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_wetter_wood_conducts_no_less(gravity: float, one: float, other: float) -> None:
    drier, wetter = sorted((one, other))
    assert conductivity(gravity, drier).likely <= conductivity(gravity, wetter).likely


def test_the_line_between_the_two_ranges_is_called_a_guess() -> None:
    assert conductivity(0.5, 0.20).basis.ground is Ground.SOURCE
    assert conductivity(0.5, 0.30).basis.ground is Ground.DEFAULT
    assert "memory" in conductivity(0.5, 0.60).basis.note


def test_ranges_are_kept() -> None:
    for call in (
        lambda: heat_capacity(0.0, 0.1),
        lambda: heat_capacity(200.0, 0.1),
        lambda: heat_capacity(20.0, -0.1),
        lambda: conductivity(0.1, 0.1),
        lambda: conductivity(0.5, -0.1),
    ):
        with pytest.raises(OutOfRange):
            call()
