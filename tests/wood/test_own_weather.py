"""Weather of one's own, as it is kept in the settings: it reads back the same, to what it is written to."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest

from waney.wood.own_weather import as_rows, kept_weather, own_weather
from waney.wood.weather import BadWeather

HOURLY = Path(__file__).parents[1] / "data" / "tmy3_hourly_greensboro_nc.csv.gz"
MONTHS = ["month,temperature_f,humidity_pct", *(f"{month},{30 + 4 * month},{60 + month}" for month in range(1, 13))]


def test_a_year_of_hours_is_kept_in_less_than_a_setting_may_hold() -> None:
    lines = gzip.decompress(HOURLY.read_bytes()).decode("utf-8").splitlines()
    given, year = own_weather(lines, "Greensboro")
    kept = as_rows(lines, "Greensboro")
    climate, back = kept_weather(kept)
    assert len(kept) < 120_000 and climate.place == "Greensboro"  # a text of the book holds 200,000
    assert year is not None and back is not None and len(back.hours) == len(year.hours)
    # written to a tenth of a degree and a per cent: half of that apart at most, and a hair
    assert max(abs(a.temperature_c - b.temperature_c) for a, b in zip(year.hours, back.hours, strict=True)) <= 0.0501
    assert max(abs(a.humidity - b.humidity) for a, b in zip(year.hours, back.hours, strict=True)) <= 0.00501
    assert [air.month for air in climate.months] == [air.month for air in given.months]


def test_twelve_months_are_kept_with_their_place() -> None:
    climate, hours = kept_weather(as_rows(MONTHS, "Cedar  Bottom"))
    assert climate.place == "Cedar Bottom" and hours is None
    assert climate.months[0].temperature_c == pytest.approx((34 - 32) / 1.8, abs=0.05)
    assert as_rows(as_rows(MONTHS, "Cedar Bottom").splitlines(), "Cedar Bottom") == as_rows(MONTHS, "Cedar Bottom")


def test_rows_that_are_none_are_refused() -> None:
    for lines in ([], MONTHS[:8], ["nothing", "of it"]):
        with pytest.raises(BadWeather):
            as_rows(lines, "nowhere")
    with pytest.raises(BadWeather):
        kept_weather("")
