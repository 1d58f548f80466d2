"""Days with a range: it holds the likely case, narrows with what is known, and says when the air is too short."""

from __future__ import annotations

from datetime import date

import pytest

from waney.drying.days_range import NotDryInTime, days_range, doubts
from waney.drying.kiln import kiln_air
from waney.drying.outdoors import outdoor_air
from waney.drying.schedules import schedule
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.wood.climate import station
from waney.wood.species import species

WALNUT = species("walnut_black")
PLACE = station("IN", "Indianapolis")
FEW = Scenarios(7, 64)
AIR = outdoor_air(PLACE, date(2023, 4, 1), 900)


def test_a_thick_piece_takes_longer_and_the_range_holds_the_likely_case() -> None:
    thin, thick = (days_range(WALNUT, thickness, AIR, 0.20, FEW) for thickness in (0.0286, 0.054))
    for found in (thin, thick):
        assert found.days.low < found.days.likely < found.days.high
        assert found.course.days_to(0.20) == found.days.likely
    assert thick.days.likely > 1.5 * thin.days.likely
    # published for one inch: 70 to 200 days over all start months (FPL-GTR-117, memory); spring is the fast end
    assert thin.days.high > 70.0 and thin.days.low < 200.0


def test_knowing_the_moisture_narrows_the_range() -> None:
    weighed = Estimate(0.79, 0.77, 0.81, Basis(Ground.READING, "sections"))
    known, unknown = days_range(WALNUT, 0.0286, AIR, 0.20, FEW, start=weighed), days_range(WALNUT, 0.0286, AIR, 0.20, FEW)
    assert known.days.width < unknown.days.width


def test_the_same_seed_gives_the_same_range() -> None:
    assert days_range(WALNUT, 0.0286, AIR, 0.20, FEW).days == days_range(WALNUT, 0.0286, AIR, 0.20, FEW).days


def test_a_kiln_has_no_film_factor() -> None:
    air = kiln_air(schedule("T6-D4").steps[0], 24.0 * 60, 60)
    inside, outside = (days_range(WALNUT, 0.0286, air, 0.40, FEW, outdoors=flag).days.likely for flag in (False, True))
    assert inside < outside


def test_air_that_ends_too_soon_is_told_and_late_scenarios_are_counted() -> None:
    with pytest.raises(NotDryInTime, match="give it more"):
        days_range(WALNUT, 0.08, outdoor_air(PLACE, date(2023, 10, 1), 60), 0.20, FEW)
    likely_days = days_range(WALNUT, 0.0286, AIR, 0.20, FEW).days.likely
    short = days_range(WALNUT, 0.0286, outdoor_air(PLACE, date(2023, 4, 1), int(likely_days) + 2), 0.20, FEW)
    assert 0 < short.late < short.scenarios


def test_every_doubt_has_its_source() -> None:
    assert all(estimate.basis.key for estimate in doubts(WALNUT).values())
