"""Air outdoors: winter slows drying, roofs slow it, fans and chambers speed it; hours and months agree."""

from __future__ import annotations

import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from waney.drying.air import DAY, AirState, NoAir, air_steps, filmed, part
from waney.drying.board import dry
from waney.drying.outdoors import Exposure, daily, hourly_air, outdoor_air, turned
from waney.drying.pace import likely_pace
from waney.drying.wood_piece import piece_of
from waney.figures.tables import table
from waney.wood.climate import monthly_means, read_hours, station
from waney.wood.species import species

MAPLE = species("maple_sugar")
UPPER_LAKES = [station(row["state"], row["station"]) for row in table("drying_regions") if row["region"] == "upper lakes"]


def days_to_20(start: date, exposure: Exposure = Exposure.OPEN, thickness: float = 0.0254) -> float:
    air = filmed(outdoor_air(UPPER_LAKES[0], start, 1200, exposure), likely_pace().film)
    found = dry(piece_of(MAPLE, thickness), air, stop_at=0.20).days_to(0.20)
    assert found is not None
    return found


def test_sugar_maple_in_the_upper_great_lakes_dries_near_the_published_range_and_slower_than_its_mean() -> None:
    # FPL Report 2086 (Peck 1957, seen), worked example E1: 40 to 205 days, mean about 90, green to 20 %
    days = []
    for place in UPPER_LAKES:
        for month in range(1, 13):
            air = filmed(outdoor_air(place, date(2023, month, 1), 1000), likely_pace().film)
            days.append(dry(piece_of(MAPLE, 0.0254), air, stop_at=0.20).days_to(0.20) or 1000.0)
    # within a factor of 1.75 at the fast end, 1.15 at the slow end, 1.6 in the mean: the model is slower than that mill was
    assert 40 <= min(days) <= 70
    assert 178 <= max(days) <= 236
    assert 90 <= np.mean(days) <= 145


def test_a_stack_put_up_in_autumn_waits_for_spring() -> None:
    spring, autumn = days_to_20(date(2023, 5, 1)), days_to_20(date(2023, 10, 1))
    assert autumn > 2 * spring
    # put up in October it is not dry before the first of April
    assert autumn > 180


def test_a_roof_slows_and_a_fan_speeds() -> None:
    start = date(2023, 6, 1)
    assert days_to_20(start, Exposure.FAN) < days_to_20(start) < days_to_20(start, Exposure.ROOF)


def test_twice_as_thick_takes_more_than_twice_as_long_within_one_season() -> None:
    thin, thick = days_to_20(date(2023, 4, 1), thickness=0.019), days_to_20(date(2023, 4, 1), thickness=0.038)
    assert 1.5 < thick / thin < 4.0  # t ~ thickness^1 to ^2 (notes on AH-188, memory)


def test_days_follow_the_months_and_the_year_comes_round() -> None:
    rows = daily(UPPER_LAKES[0])
    assert rows.shape == (365, 2)
    assert rows[14, 0] == pytest.approx(UPPER_LAKES[0].months[0].temperature_c)
    assert abs(rows[0] - rows[364]).max() < 0.5
    year = outdoor_air(UPPER_LAKES[0], date(2023, 1, 1), 365)
    assert turned(year, 360, 10).source == pytest.approx(np.concatenate((year.source[360:], year.source[:5])))
    assert part(year, 3, 5).seconds.size == 2


def test_no_air_is_refused() -> None:
    with pytest.raises(NoAir):
        air_steps([])
    with pytest.raises(NoAir):
        air_steps([(0.0, AirState(20.0, 0.5, 1.0))])


def test_half_as_long_intervals_change_the_days_by_less_than_two_per_cent() -> None:
    air = filmed(outdoor_air(UPPER_LAKES[0], date(2023, 5, 1), 300), likely_pace().film)
    halved = type(air)(*(np.repeat(column, 4) for column in air))._replace(seconds=np.full(1200, DAY / 4))
    piece = piece_of(MAPLE, 0.0254)
    coarse, fine = (dry(piece, one, stop_at=0.20).days_to(0.20) for one in (air, halved))
    assert coarse == pytest.approx(fine, rel=0.02)


@pytest.mark.outside
@pytest.mark.parametrize("start", [date(2023, 2, 1), date(2023, 6, 1), date(2023, 10, 1)])
def test_hours_and_their_monthly_means_give_days_that_agree(shared: Path, start: date) -> None:
    # TMY3 Greensboro (NREL, public): six hours at a time against the means of its own months
    with gzip.open(shared / "datasets" / "climate" / "tmy3_hourly_greensboro_nc.csv.gz", "rt") as lines:
        year = read_hours([line for line in lines], "Greensboro")
    piece, film = piece_of(MAPLE, 0.0254), likely_pace().film
    by_hour = dry(piece, filmed(hourly_air(year, start, 400), film), stop_at=0.20).days_to(0.20)
    by_month = dry(piece, filmed(outdoor_air(monthly_means(year), start, 400), film), stop_at=0.20).days_to(0.20)
    assert by_hour is not None and by_month is not None
    assert by_hour == pytest.approx(by_month, rel=0.10)
