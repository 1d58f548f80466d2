"""Chambers: warmed by the sun or with a dehumidifier: against what extension services publish, and against the open yard."""

from __future__ import annotations

from datetime import date
from functools import cache

import pytest

from waney.drying.air import filmed
from waney.drying.board import dry
from waney.drying.chamber import SUN_CHAMBERS, BadChamber, Dehumidified, SunChamber, dehumidified, sun_air
from waney.drying.outdoors import Exposure, outdoor_air
from waney.drying.pace import likely_pace
from waney.drying.stack import BadStack, Line, Stack, stack_dates
from waney.drying.wood_piece import piece_of
from waney.figures.estimate import Estimate
from waney.figures.scenarios import Scenarios
from waney.figures.tables import table
from waney.wood.climate import station
from waney.wood.species import species

FEW = Scenarios(1, 12)
MAPLE = species("maple_sugar")
BOARDS = Line("boards", species("red maple"), 0.0286, 40)
LAKE = next(station(row["state"], row["station"]) for row in table("drying_regions") if row["region"] == "upper lakes")
MADISON = station("WI", "Madison")
SPRING, AUTUMN = date(2026, 5, 20), date(2026, 11, 1)


@cache
def days(start: date, target: float, chamber: SunChamber | None = None) -> Estimate:
    return stack_dates(Stack(MADISON, start, Exposure.SUN, target, (BOARDS,), chamber=chamber), FEW).after


def test_one_inch_hardwood_dries_in_good_weather_in_little_more_than_the_weeks_that_are_published() -> None:
    """Wengert and Meyer, solar kiln plans for Wisconsin (wengert-meyer, seen): 6 weeks or less. The fast end is 1.2 times as slow
    (docs/methods/drying-answers.md); a third either way is what the model's fast end outdoors is off (worked example E1)."""
    assert 42 * 0.75 < days(SPRING, 0.08).low < 42 * 1.33
    assert days(SPRING, 0.12).low <= 42 <= days(SPRING, 0.12).high


def test_what_takes_a_month_in_summer_takes_the_whole_winter() -> None:
    """Armstrong and Hall, DR-1 (wvu-dr-1, seen): 30 days or less in summer, an entire winter."""
    summer, winter = days(SPRING, 0.12), days(AUTUMN, 0.12)
    assert winter.likely > 2.5 * summer.likely and winter.low > 90


def test_a_chamber_beats_the_open_yard_and_reaches_what_no_yard_does() -> None:
    """DR-1 (seen): 6 to 10 % in a chamber, in the open hardly much below 20 %."""
    start, film = date(2023, 6, 1), likely_pace().film
    open_yard = dry(piece_of(MAPLE, 0.0254), filmed(outdoor_air(LAKE, start, 400), film), stop_at=0.20).days_to(0.20)
    by_sun = [dry(piece_of(MAPLE, 0.0254), sun_air(LAKE, start, 200, one), stop_at=0.20).days_to(0.20) for one in SUN_CHAMBERS]
    machine = dry(piece_of(MAPLE, 0.0254), dehumidified(Dehumidified(40.0, 0.55), 200), stop_at=0.20).days_to(0.20)
    assert open_yard and machine and all(by_sun)
    assert machine < open_yard and max(found or 0.0 for found in by_sun) < open_yard
    assert by_sun == sorted(by_sun, key=lambda found: -(found or 0.0))
    assert dry(piece_of(MAPLE, 0.0254), outdoor_air(LAKE, start, 400), stop_at=0.08).days_to(0.08) is None


def test_closed_nights_give_nothing_back() -> None:
    """From a dry board on: by day it loses, and by night it keeps what it has, however damp the air outdoors."""
    board = piece_of(MAPLE, 0.0254, 0.09)
    vented, closed = (
        dry(board, sun_air(LAKE, date(2023, 9, 1), 40, SUN_CHAMBERS[0], closed_from=nights)) for nights in (None, 0)
    )
    assert closed.mean[-1] < vented.mean[-1]
    by_night = closed.mean[1::2] - closed.mean[0::2]
    assert max(by_night) < 1e-4


def test_a_chamber_is_never_drier_than_its_outdoor_air_allows() -> None:
    damp = SunChamber(10.0, 0.0, humidity_day=0.05)
    air, outdoor = sun_air(LAKE, date(2023, 7, 1), 2, damp), outdoor_air(LAKE, date(2023, 7, 1), 2)
    assert air.vapour[0] >= outdoor.vapour[0] * (1 - 1e-12)
    with pytest.raises(BadChamber, match="150 %"):
        SunChamber(10.0, 0.0, 1.5)
    with pytest.raises(BadChamber, match="Hours of day"):
        SunChamber(10.0, 0.0, day_hours=24.0)


def test_what_was_read_in_a_chamber_narrows_its_dates() -> None:
    """Inside 35 and outside 25 °C by day is 14 K above the mean of day and night: the usual one."""
    read = SunChamber.read((35.0, 25.0), (22.0, 15.0))
    assert read == SUN_CHAMBERS[1]
    assert days(SPRING, 0.12, read).width < days(SPRING, 0.12).width
    assert days(SPRING, 0.12).low <= days(SPRING, 0.12, read).likely <= days(SPRING, 0.12).high


def test_a_dehumidifier_is_the_same_in_winter_and_needs_what_is_read_in_it() -> None:
    held = Dehumidified(43.0, 0.35)
    summer, winter = (
        stack_dates(Stack(MADISON, start, Exposure.DEHUMIDIFIER, 0.10, (BOARDS,), chamber=held), FEW).after
        for start in (SPRING, AUTUMN)
    )
    assert summer == winter and 10 < summer.likely < 60
    with pytest.raises(BadStack, match="does not go with a stack in a chamber with a dehumidifier"):
        Stack(MADISON, SPRING, Exposure.DEHUMIDIFIER, 0.08, (BOARDS,))
    with pytest.raises(BadStack, match="does not go with a stack under a roof"):
        Stack(MADISON, SPRING, Exposure.ROOF, 0.08, (BOARDS,), chamber=held)
