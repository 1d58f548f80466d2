"""Winter and summer width of a piece in a room: the law between two moistures, and what makes it move more or less."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.pieces.seasons import C2_OF_GRAIN, Seasons, Standing, Wide, seasons
from waney.wood.climate import station
from waney.wood.movement import movement
from waney.wood.room import Indoor, by_season
from waney.wood.species import species

ONE = Scenarios(1, 64)
DENVER = Standing(station("CO", "Denver"), Indoor(by_season(20.0, 21.0, 24.0, 21.0)))
MINNEAPOLIS = Standing(station("MN", "Minneapolis-St.Paul"), Indoor(by_season(20.0, 21.0, 24.0, 21.0)))
FLAT = Estimate.known(1.0, Basis(Ground.READING, "its rings"))
TOP = Wide(0.9, 0.08, 0.038, FLAT)


def year(wide: Wide = TOP, standing: Standing = MINNEAPOLIS, wood: str = "white oak") -> Seasons:
    return seasons(species(wood), wide, standing, ONE)


def test_the_move_is_that_of_the_law_between_its_driest_and_dampest() -> None:
    found, maple = year(wood="sugar maple"), species("sugar maple")
    moved = movement(maple, found.narrowest.likely, pi / 2, found.driest.likely, found.dampest.likely, ONE)
    assert moved.change_m.likely == pytest.approx(found.moves.likely, rel=1e-6)
    # Wood Handbook Table 13-5, from 6 to 14 %: 0.00353 a per cent of moisture (worked example C3)
    assert found.driest.likely > 0.06 and found.dampest.likely < 0.14
    assert moved.by_coefficient_m == pytest.approx(found.moves.likely, rel=0.02)


def test_a_width_is_what_was_measured_when_the_piece_is_as_moist_as_then() -> None:
    found = year()
    as_in_winter = year(replace(TOP, mc=found.driest.likely))
    assert as_in_winter.narrowest.likely == pytest.approx(TOP.width_m, rel=1e-9)


def test_heated_rooms_are_driest_in_the_cold_months_and_thick_wood_is_late() -> None:
    thin = year(replace(TOP, thickness_m=0.01))
    assert thin.narrowest_month in (1, 2, 3, 12) and thin.widest_month in (7, 8, 9)
    assert thin.narrowest.likely == pytest.approx(min(m.likely for m in thin.months), rel=2e-3)
    assert year().narrowest_month > thin.narrowest_month and year().widest_month > thin.widest_month


def test_quarter_grain_thick_wood_and_finish_move_less() -> None:
    base = year().moves.likely
    assert year(replace(TOP, c2=C2_OF_GRAIN["quarter"])).moves.likely < 0.7 * base
    assert year(replace(TOP, thickness_m=0.10)).moves.likely < base
    sealed = year(standing=replace(MINNEAPOLIS, finish="two-part epoxy, 2 coats"))
    assert sealed.moves.likely < base and sealed.lag_days.likely > 2 * year().lag_days.likely
    oiled = year(standing=replace(MINNEAPOLIS, finish="linseed oil, 3 coats"))
    assert oiled.moves.likely == pytest.approx(base)


def test_grain_that_nobody_looked_at_widens_the_answer() -> None:
    known, unknown = year(), year(replace(TOP, c2=C2_OF_GRAIN[""]))
    assert unknown.moves.width / unknown.moves.likely > known.moves.width / known.moves.likely


def test_a_dry_place_is_drier() -> None:
    assert year(standing=DENVER).dampest.likely < year().dampest.likely
