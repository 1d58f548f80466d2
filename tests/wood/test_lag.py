"""One lag for a piece that follows the air: limits that are known, what finishes kept out, a year that comes round."""

from __future__ import annotations

from math import exp, inf

import numpy as np
import pytest

from waney.figures.tables import table
from waney.wood.lag import (
    DAY_S,
    PANEL_C,
    PANEL_GRAVITY,
    PANEL_M,
    PANEL_MC,
    NoFinish,
    air_conductance_m_s,
    diffusion_m2_s,
    finish_conductance,
    finishes,
    followed,
    lag_s,
)


def test_the_lag_of_an_open_plate_is_a_third_of_its_diffusion_time() -> None:
    # Crank: the mean of a plate after a step is 1 - sum of 8/((2n+1)² pi²) exp(-(2n+1)² pi² t/(4T)); its area is T/3
    t_long = sum(8 / ((2 * n + 1) ** 2 * np.pi**2) * 4 / ((2 * n + 1) ** 2 * np.pi**2) for n in range(2000))
    assert lag_s(0.05, 2e-10, inf) == pytest.approx(t_long * 0.025**2 / 2e-10, rel=1e-6)


def test_thicker_and_sealed_pieces_follow_more_slowly() -> None:
    assert lag_s(0.05, 1e-10, 1e-8) > lag_s(0.025, 1e-10, 1e-8) > lag_s(0.025, 1e-10, 1e-7) > lag_s(0.025, 1e-10, inf)


@pytest.mark.parametrize("row", [row for row in table("finishes") if float(row["day_14"]) > 0], ids=lambda row: row["finish"])
def test_finishes_kept_out_what_the_tables_print(row: dict[str, str]) -> None:
    """Both printed days from one conductance; a first-order piece cannot follow a panel to better than 0.08."""
    conductance = finish_conductance(f"{row['finish']}, {row['coats']} coats")
    assert conductance is not None
    diffusion, air = diffusion_m2_s(PANEL_GRAVITY, PANEL_MC, PANEL_C), air_conductance_m_s(PANEL_GRAVITY, PANEL_MC, PANEL_C)
    bare = lag_s(PANEL_M, diffusion, air)
    coated = bare + PANEL_M / 2 / conductance.likely
    for days in (7, 14):
        taken = (1 - exp(-days * DAY_S / coated)) / (1 - exp(-days * DAY_S / bare))
        assert 1 - taken == pytest.approx(float(row[f"day_{days}"]) / 100, abs=0.08)


def test_oil_holds_nothing_back_and_epoxy_most() -> None:
    assert finish_conductance("none") is None and finish_conductance("linseed oil, 3 coats") is None
    likely = {name: found.likely for name in finishes() if (found := finish_conductance(name)) is not None}
    assert min(likely, key=lambda name: likely[name]) == "two-part epoxy, 2 coats"
    assert likely["urethane varnish, 3 coats"] < likely["urethane varnish, 2 coats"]


def test_a_finish_nobody_knows_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(NoFinish, match="shellac, 2 coats"):
        finish_conductance("varnish")


def test_a_year_followed_keeps_its_mean_and_loses_swing_as_a_first_order_lag_does() -> None:
    months = 0.09 + 0.03 * np.cos(2 * np.pi * (np.arange(12) + 0.5) / 12)
    lags = np.array([1.0, 30.0, 120.0])
    year = followed(np.tile(months, (3, 1)), lags)
    assert year.mean(axis=1) == pytest.approx(np.full(3, 0.09), abs=1e-4)
    wave = np.exp(-2j * np.pi * (np.arange(365) + 0.5) / 365)
    swing = 2 * np.abs(year @ wave) / 365
    # straight lines between months keep (sin(pi/12)/(pi/12))² of a cosine, the lag 1/sqrt(1 + (2 pi lag/year)²) of that
    kept = (np.sin(np.pi / 12) / (np.pi / 12)) ** 2
    assert swing == pytest.approx(0.03 * kept / np.sqrt(1 + (2 * np.pi * lags / 365) ** 2), rel=2e-3)
