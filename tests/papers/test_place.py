"""Where a piece lay: between its faces as they were sawn, in the same wood that the plan's own walk leaves for it."""

from __future__ import annotations

import re

import pytest

from waney.logs.frames import clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.shape import Zone
from waney.papers.ends import log_end
from waney.papers.ink import SCREEN
from waney.papers.place import AsSawn, piece_area, place_drawing
from waney.papers.subject import Subject
from waney.papers.words import INCHES
from waney.sawing.mill import End

from .conftest import STEP, Case, through_case


def of(case: Case) -> Subject:
    return Subject(case.plan, case.shape, case.mill, INCHES)


def told(case: Case, name: str) -> AsSawn:
    """What the page at the mill tells of a piece that came off as meant."""
    planned = of(case).planned[name]
    end = log_end(case.plan, case.shape, case.mill, End.BUTT)
    cut = next((cut for cut in end.cuts if cut.comes_off == name), None)
    height = cut.height_steps * STEP if cut else None
    return AsSawn(name, cut.number if cut else None, height, planned.piece.thickness_m)


def test_sawn_as_meant_it_is_the_part_of_the_plan(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        end = log_end(case.plan, case.shape, case.mill, End.BUTT)
        parts = {part.name: part.area for part in end.parts}
        for planned in case.plan.pieces:
            name = planned.piece.name
            area = piece_area(of(case), end, told(case, name))
            # the same planes on the same polygons; the lowest is a wedge at this end where the log is tipped
            assert area.symmetric_difference(parts[name]).area == pytest.approx(0.0, abs=1e-6), name


def test_a_blade_that_stood_low_shows_in_the_place(through: Case) -> None:
    end, meant = log_end(through.plan, through.shape, through.mill, End.BUTT), told(through, "W12-4")
    assert meant.height_m is not None
    assert meant.thickness_m is not None
    low = AsSawn("W12-4", meant.cut, meant.height_m - 2 * STEP, meant.thickness_m + 2 * STEP)
    (plane,) = end.planes
    was, now = (piece_area(of(through), end, one) for one in (meant, low))
    assert now.contains(was.buffer(-1e-9))
    more = now.difference(was)
    assert not more.intersection(plane.above(meant.height_m - 2 * STEP)).is_empty
    assert more.intersection(plane.above(meant.height_m + through.mill.kerf_m + 1e-9)).area == pytest.approx(0.0, abs=1e-9)


def test_without_what_was_told_the_plan_holds(through: Case) -> None:
    end = log_end(through.plan, through.shape, through.mill, End.BUTT)
    part = next(part for part in end.parts if part.name == "W12-3")
    cut = next(cut.number for cut in end.cuts if cut.comes_off == "W12-3")
    assert piece_area(of(through), end, AsSawn("W12-3", cut)).equals(part.area)


def test_the_nail_at_3_o_clock_is_right_of_the_pieces_middle() -> None:
    x, y = clock_to_xy(3, 0.25)
    case = through_case(zones=(Zone(Hidden.METAL, 0.8, 0.82, x, y, 0.01),))
    svg = place_drawing(of(case), told(case, "W12-4"), SCREEN, 120.0).text()
    words = {text: float(x) for x, text in re.findall(r'<text x="([\d.]+)"[^>]*>([^<]+)</text>', svg)}
    assert words["metal"] > words["12"] + 20  # mm; 12 stands over the middle of the butt
    assert words["9"] < words["12"]
    assert "W12-4" in words
    assert "Butt end" in words
