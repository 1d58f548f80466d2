"""Hourly weather in the format of building simulation is read like the same hours as CSV."""

from __future__ import annotations

import pytest

from waney.wood.climate import monthly_means, read_hours
from waney.wood.epw import read_epw
from waney.wood.weather import BadWeather

HEAD = ["LOCATION,Somewhere,ST,USA,TMY3,1,45.0,-85.0,-5.0,200.0", *(f"HEAD {n}" for n in range(7))]


def hours() -> list[tuple[int, float, float]]:
    return [(month, 2.0 * month - 20.0 + hour % 24, 40.0 + month + hour % 24) for month in range(1, 13) for hour in range(720)]


def row(month: int, t: float, humidity: float) -> str:
    # year, month, day, hour, minute, flags, dry bulb, dew point, humidity, pressure
    return f"2001,{month},1,1,0,?9?9,{t:.1f},0.0,{humidity:.0f},98000,0,0"


def test_an_epw_file_is_read_as_the_same_hours_in_csv() -> None:
    epw = read_epw([*HEAD, *(row(*hour) for hour in hours())])
    csv = read_hours(["month,t_c,rh_pct", *(f"{m},{t:.1f},{h:.0f}" for m, t, h in hours())], "x")
    assert epw.place == "Somewhere, ST, USA"
    assert monthly_means(epw).months == monthly_means(csv).months


def test_what_is_no_epw_file_is_told() -> None:
    with pytest.raises(BadWeather, match="LOCATION"):
        read_epw(["month,t_c,rh_pct", "1,2,3"])
    with pytest.raises(BadWeather, match="LOCATION"):
        read_epw([])


def test_a_row_that_cannot_be_read_is_told_with_its_line() -> None:
    lines = [*HEAD, *(row(*hour) for hour in hours())]
    lines[20] = lines[20].replace(",?9?9,", ",?9?9,warm")
    with pytest.raises(BadWeather, match="line 21"):
        read_epw(lines)
