"""What middle and face hold: a range that readings move, never narrower than pins are good for, wider over several ways."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from waney.drying.evidence import MoistureRead
from waney.drying.inside import Inside, around_inside, inside_of
from waney.drying.outdoors import Exposure
from waney.drying.particles import Case
from waney.drying.shell_core import SHAPE_ERROR
from waney.drying.stack import Line, Stack, line_dates
from waney.drying.watch import expected
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.scenarios import Scenarios
from waney.wood.climate import station
from waney.wood.species import species

OAK = species("oak_northern_red")
READ = Basis(Ground.READING, "pins")
EVEN = np.full(4, 0.25)


def told(mean: float, core: float) -> Inside:
    found = inside_of(mean, np.full(4, core), np.full(4, 0.1), EVEN)
    assert found is not None
    return found


def test_pieces_that_never_got_there_do_not_count_and_none_is_not_known() -> None:
    cores = np.array([0.3, np.nan, 0.3, np.nan])
    found = inside_of(0.2, cores, cores / 3.0, EVEN)
    assert found is not None and found.core.likely == pytest.approx(0.3)
    assert inside_of(0.2, np.full(4, np.nan), np.full(4, np.nan), EVEN) is None
    assert around_inside([None, None]) is None and around_inside([None, found]) == found


def test_even_where_all_pieces_agree_the_gradient_is_no_surer_than_pins() -> None:
    found = told(0.2, 0.3)
    assert found.core.high - found.core.likely == pytest.approx(1.645 * SHAPE_ERROR * 0.2)
    assert told(0.1, 0.1).core.width == pytest.approx(0.0)


def test_of_several_ways_it_holds_all() -> None:
    both = around_inside([told(0.2, 0.25), told(0.2, 0.35)])
    assert both is not None
    assert (both.core.low, both.core.high) == (told(0.2, 0.25).core.low, told(0.2, 0.35).core.high)


@pytest.fixture(scope="module")
def lines() -> tuple[Inside, Inside, Inside]:
    """Of one line: at the target, and on day 30 read at 35 % and at 50 %."""
    found = []
    for mc in (None, 0.35, 0.50):
        reads = () if mc is None else ((date(2026, 5, 1), MoistureRead(0.0, Estimate(mc, mc - 0.02, mc + 0.02, READ, 0.0))),)
        line = Line("oak", OAK, 0.0286, 1, reads)
        stack = Stack(station("IN", "Indianapolis"), date(2026, 4, 1), Exposure.OPEN, 0.20, (line,))
        dates = line_dates(line, stack, Scenarios(2, 64))
        found.append(dates.forecast.end if mc is None else dates.forecast.now)
        assert bool(dates.core_now) == (mc is not None) and dates.core.endswith(": read the core")
    end, dry, wet = found
    assert end and dry and wet
    return end, dry, wet


def test_at_the_target_the_range_holds_the_likely_piece(lines: tuple[Inside, Inside, Inside]) -> None:
    end = lines[0]
    stack = Stack(station("IN", "Indianapolis"), date(2026, 4, 1), Exposure.OPEN, 0.20, (Line("oak", OAK, 0.0286, 1),))
    course = expected(Case(OAK, 0.0286, stack.airs(stack.lines[0])[0], 0.20))
    assert end.mean == 0.20
    assert end.core.low < float(course.core[-1]) < end.core.high and end.face.low < float(course.surface[-1]) < end.face.high
    assert end.core.likely == pytest.approx(float(course.core[-1]), abs=0.01)


def test_at_the_last_reading_middle_and_face_lie_about_what_was_read(lines: tuple[Inside, Inside, Inside]) -> None:
    _, dry, wet = lines
    for one in (dry, wet):
        assert one.face.likely < one.mean < one.core.likely
    assert dry.mean == pytest.approx(0.35, abs=0.03) and wet.mean > dry.mean
    assert dry.core.likely < wet.core.likely and dry.core.width > 0.03
