"""Moistures as they were written down: what each tells, and what a whole piece held when it was read last."""

from __future__ import annotations

from datetime import date

import pytest

from waney.drying.meter_sheet import MeterSheet
from waney.drying.moisture_told import How, MoistureTold, Where, as_last_read, last_at, moisture_of
from waney.wood.species import species
from waney.yard.acts.stacks import Depth, ReadBy

OAK, SHEET = species("white oak"), MeterSheet()
MAY, JUNE = date(2026, 5, 1), date(2026, 6, 1)


def told(day: date, mc: float, where: Where = Where.WHOLE, how: How = How.PINS, right: bool = True) -> MoistureTold:
    return MoistureTold(day, mc, how, where, 20.0, right)


def test_what_was_not_said_how_is_the_widest() -> None:
    oven, corrected, pins, said = (
        moisture_of(told(MAY, 0.10, how=how, right=right), OAK, SHEET).mc.width
        for how, right in ((How.OVEN, False), (How.PINS, True), (How.PINS, False), (How.TOLD, False))
    )
    assert oven < corrected < pins < said
    assert moisture_of(told(MAY, 0.45, how=How.TOLD), OAK, SHEET).mc.high > 0.9  # above saturation it only says wetter


def test_the_book_and_the_physics_call_everything_alike() -> None:
    assert [*map(str, How)] == [*map(str, ReadBy)] and [*map(str, Where)] == [*map(str, Depth)]
    assert all(moisture_of(told(MAY, 0.1, how=how), OAK, SHEET).mc.basis.key == how for how in How)


def test_a_piece_held_last_what_shell_and_core_of_one_day_tell_together() -> None:
    both = [told(MAY, 0.3, Where.WHOLE), told(JUNE, 0.15, Where.SHELL), told(JUNE, 0.24, Where.CORE)]
    found = as_last_read(both, OAK, SHEET)
    assert found is not None and found.day == JUNE
    assert found.mc.likely == pytest.approx(0.15 + 2 / 3 * 0.09)  # mean of a parabola
    # and not the shell of one day with the core of another
    apart = as_last_read([told(MAY, 0.24, Where.CORE), told(JUNE, 0.15, Where.SHELL), told(JUNE, 0.2)], OAK, SHEET)
    assert apart is not None and apart.mc.likely == pytest.approx(0.2)


def test_of_a_core_alone_the_whole_piece_is_drier_and_of_a_shell_alone_nothing_is_known() -> None:
    core = told(JUNE, 0.18, Where.CORE)
    found, itself = as_last_read([told(MAY, 0.28), core], OAK, SHEET), moisture_of(core, OAK, SHEET).mc
    assert found is not None and found.mc.likely < 0.18 and found.mc.width > itself.width
    assert found.mc.low == pytest.approx(2 / 3 * itself.low)  # a parabola that is bone dry at the faces
    assert as_last_read([told(JUNE, 0.08, Where.SHELL)], OAK, SHEET) is None
    # a sample of the whole piece on the same day says more, whichever was told first
    for both in ([core, told(JUNE, 0.14, how=How.OVEN)], [told(JUNE, 0.14, how=How.OVEN), core]):
        whole = as_last_read(both, OAK, SHEET)
        assert whole is not None and whole.mc.likely == pytest.approx(0.14) and whole.how == (How.OVEN,)


def test_the_last_of_a_part_is_that_of_its_last_day_whenever_it_was_told() -> None:
    found = last_at([told(JUNE, 0.12, Where.CORE), told(MAY, 0.2, Where.CORE)], Where.CORE, None, SHEET)
    assert found is not None and found.likely == pytest.approx(0.12)
    assert last_at([told(JUNE, 0.12, Where.CORE)], Where.SHELL, None, SHEET) is None
