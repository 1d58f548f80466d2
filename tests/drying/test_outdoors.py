"""Air outdoors: winter slows drying, roofs slow it, fans and chambers speed it; hours and months agree."""

from __future__ import annotations

import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from tests.scripts import TOOLS, load

from waney.drying.air import DAY, AirState, NoAir, air_steps, filmed, part
from waney.drying.board import dry
from waney.drying.outdoors import Exposure, NoPassage, Passage, daily, hourly_air, outdoor_air, turned
from waney.drying.pace import likely_pace
from waney.drying.wood_piece import piece_of
from waney.figures.tables import table
from waney.wood.climate import monthly_means, read_hours, station
from waney.wood.species import species

MAPLE = species("maple_sugar")
ANSWERS = load(TOOLS / "answers_stacks.py")
UPPER_LAKES = [station(row["state"], row["station"]) for row in table("drying_regions") if row["region"] == "upper lakes"]


def days_to_20(start: date, exposure: Exposure = Exposure.OPEN, thickness: float = 0.0254) -> float:
    air = filmed(outdoor_air(UPPER_LAKES[0], start, 1200, exposure), likely_pace().film)
    found = dry(piece_of(MAPLE, thickness), air, stop_at=0.20).days_to(0.20)
    assert found is not None
    return found


def test_likely_packages_of_sugar_maple_in_upper_michigan_span_the_published_days() -> None:
    # FPL Report 2086 (Peck 1957, seen), worked example E1: packages, 40 to 205 days, mean about 90, to 20 %. Not in the fit.
    found = ANSWERS.likely_packages()
    # all months alike, and no package other than the likely: the least is 1.3 times as long, the most as long, the mean 1.3 times
    assert 40 <= found.least <= 55
    assert 195 <= found.most <= 215
    assert 90 <= found.mean <= 120


def test_nine_in_ten_packages_of_sugar_maple_in_upper_michigan_lie_within_the_published_days() -> None:
    # the same: 40 to 205 days are of many packages, so they stand beside the 5 and 95 % points of all of them, within 10 %; as in
    # docs/methods/drying-answers.md, with fewer draws
    found = ANSWERS.packages(32)
    assert found.shape == (60, 32)
    assert ANSWERS.pooled(found) == pytest.approx((40.0, 205.0), rel=0.10)
    # the mean of a mill's year, about 90, lies within what is not known of the wood, the model and the site, in its lower half
    low, likely, high = ANSWERS.of_a_year(found)
    assert low < 90.0 < likely < high


def test_a_stack_put_up_in_autumn_waits_for_spring() -> None:
    spring, autumn = days_to_20(date(2023, 5, 1)), days_to_20(date(2023, 10, 1))
    assert autumn > 2 * spring
    # put up in October it is not dry before the first of April
    assert autumn > 180


def test_a_roof_slows_and_a_fan_speeds() -> None:
    start = date(2023, 6, 1)
    assert days_to_20(start, Exposure.FAN) < days_to_20(start) < days_to_20(start, Exposure.ROOF)


def test_a_wide_pile_dries_slower_than_a_package_and_thick_stickers_help() -> None:
    # packages of 4 ft would presumably dry in shorter periods than piles of 6 to 16 ft: FPL Technical Note 233 (seen)
    def days(passage: Passage) -> float:
        air = filmed(outdoor_air(UPPER_LAKES[0], date(2023, 5, 1), 400, passage=passage), likely_pace().film)
        return dry(piece_of(MAPLE, 0.0254), air, stop_at=0.20).days_to(0.20) or 400.0

    package = days(Passage(1.22))
    assert days(Passage(4.88)) > 1.3 * package and days(Passage(0.3)) < package
    assert days(Passage(1.22, 0.032)) < package < days(Passage(1.22, 0.013))


def test_a_fan_at_a_known_speed_hardly_minds_how_wide_the_stack_is() -> None:
    def days(wide_m: float) -> float:
        air = outdoor_air(UPPER_LAKES[0], date(2023, 5, 1), 400, Exposure.FAN, Passage(wide_m))
        return dry(piece_of(MAPLE, 0.0254), air, stop_at=0.20).days_to(0.20) or 400.0

    assert days(1.22) < days(2.44) < 1.1 * days(1.22)


@pytest.mark.parametrize("passage", [(0.05, 0.022), (12.0, 0.022), (1.2, 0.001), (1.2, 0.2)])
def test_a_width_or_sticker_that_no_stack_has_is_refused(passage: tuple[float, float]) -> None:
    with pytest.raises(NoPassage):
        Passage(*passage)


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
