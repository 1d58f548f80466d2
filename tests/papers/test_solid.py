"""What a page gets to draw a log in three dimensions: the same log, the same cuts, the same pieces, and the nail where it is."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
import shapely

from waney.logs.frames import Placing, butt_view, clock_to_xy
from waney.logs.measured import Hidden
from waney.logs.shape import LogShape, Zone
from waney.papers.solid import Solid, SolidPiece, bare_solid, solid, solid_json
from waney.papers.subject import Subject
from waney.papers.words import INCHES
from waney.pieces.volume import volume_m3
from waney.sawing.facts.walk import walked

from .conftest import Case, a_log, through_case


def of(case: Case) -> Subject:
    return Subject(case.plan, case.shape, case.mill, INCHES)


@pytest.fixture(scope="module")
def nailed() -> Case:
    x, y = clock_to_xy(3, 0.25)
    return through_case(zones=(Zone(Hidden.METAL, 0.8, 0.82, x, y, 0.01),))


def test_a_nail_at_3_o_clock_stays_at_3_o_clock(nailed: Case) -> None:
    (nail,) = json.loads(solid_json(solid(of(nailed))))["spots"]
    assert butt_view(nail["x_m"], nail["y_m"]) == pytest.approx((0.25, 0.0), abs=1e-4)  # right of the middle, seen from the butt
    assert nail["words"] == "metal at 3:00"
    assert (nail["from_m"], nail["to_m"]) == (0.8, 0.82)


def test_what_is_only_suspected_says_so() -> None:
    shape = a_log(zones=(Zone(Hidden.METAL, 0.1, 0.2, 0.0, 0.2, 0.01, chance=0.5), Zone(Hidden.KNOT, 0.1, 0.2, 0.0, 0.1, 0.02)))
    spots = bare_solid("W12", shape).spots
    assert [spot.words for spot in spots] == ["metal at 12:00, suspected"]  # a knot is no spot to keep away from


def volume_of(piece: SolidPiece) -> float:
    """Prismoidal section from the six edges, trapezoids along: worked from the corners alone, in the log frame."""
    low, high = (
        np.array([[point or (np.nan,) * 3 for point in face] for face in edge], dtype=float)
        for edge in (piece.low_m, piece.high_m)
    )
    width = np.nan_to_num(np.linalg.norm(high - low, axis=2))
    thick = np.nanmax(np.linalg.norm(low[2] - low[0] - _along(low[2] - low[0], high[1] - low[1]), axis=1))
    section = thick * (width[0] + 4 * width[1] + width[2]) / 6
    step = np.nanmax(np.linalg.norm(np.diff(_middle(low, high), axis=0), axis=1)) if len(section) else 0.0
    return float(np.sum((section[1:] + section[:-1]) / 2) * step)


def _along(vectors: np.ndarray, across: np.ndarray) -> np.ndarray:
    """The share of vectors that lies along the width."""
    unit = across / np.linalg.norm(across, axis=1, keepdims=True)
    return np.sum(vectors * unit, axis=1, keepdims=True) * unit


def _middle(low: np.ndarray, high: np.ndarray) -> np.ndarray:
    return (low[1] + high[1]) / 2


def test_pieces_have_the_volume_of_the_plans_pieces(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        drawn = {piece.name: piece for piece in solid(of(case)).pieces}
        assert set(drawn) == {planned.piece.name for planned in case.plan.pieces}
        for planned in case.plan.pieces:
            # corners are rounded to 0.1 mm, pieces are 25 mm and thicker; a middle line that leans is longer by less than 1 %
            assert volume_of(drawn[planned.piece.name]) == pytest.approx(volume_m3(planned.piece), rel=0.01)


def kept_by_planes(drawn: Solid, shape: LogShape, station: int) -> list[float]:
    """Areas of the parts at one station, cut by the planes of the drawing alone."""
    left = shapely.Polygon(np.array(drawn.shape.bark_m[station]))
    z, areas = drawn.shape.z_m[station], []
    for cut in drawn.cuts:
        to_saw = drawn.lies[cut.lie]
        areas.append(left.intersection(_higher(to_saw, cut.above_m, z)).area)
        left = left.difference(_higher(to_saw, cut.blade_m, z))
    return [*areas, left.area]


def _higher(to_saw: Placing, height_m: float, z_m: float) -> shapely.Polygon:
    """Where the section at z stands higher than that over the bed."""
    up, level = to_saw.turn[1], height_m - to_saw.shift[1]
    across = np.array(up[:2])
    start = across * (level - up[2] * z_m) / (across @ across)
    out, side = across / np.linalg.norm(across) * 9, np.array([-up[1], up[0]]) * 9
    return shapely.Polygon([start - side, start + side, start + side + out, start - side + out])


def test_the_planes_cut_what_the_walk_through_the_moves_cuts(through: Case, half_turn: Case) -> None:
    for case in (through, half_turn):
        drawn = solid(of(case))
        for station in (0, 4, 8):
            seen = walked(case.plan, case.shape, case.mill, station)
            # outlines are rounded to 0.1 mm on a round of 2 m: at most 1 cm2
            assert kept_by_planes(drawn, case.shape, station) == pytest.approx([p.with_bark.area for p in seen.parts], abs=1e-4)
            assert [part.name for part in drawn.parts] == [part.name for part in seen.parts]


def test_the_saw_kerf_lies_between_what_stays_and_what_comes_off(through: Case) -> None:
    cuts = solid(of(through)).cuts
    assert [cut.above_m - cut.blade_m for cut in cuts] == pytest.approx([through.mill.kerf_m] * len(cuts))
    assert [cut.words for cut in cuts][:2] == ["bed height 25 in", "bed height 23 3/4 in"]


def test_outside_slabs_are_told_from_pieces(through: Case) -> None:
    parts = solid(of(through)).parts
    assert [part.kept for part in parts] == [False] + [True] * (len(parts) - 2) + [False]
    assert parts[1].words == "W12-1, 1 1/8 in"
    assert parts[1].short == "1"


def test_the_text_cannot_end_the_script_it_stands_in(through: Case) -> None:
    named = replace(solid(of(through)), log="</script><b>")
    text = solid_json(named)
    assert "<" not in text
    assert json.loads(text)["log"] == "</script><b>"


def test_a_log_without_a_plan_is_one_part() -> None:
    bare = bare_solid("W12", a_log())
    assert (len(bare.cuts), len(bare.parts), bare.pieces) == (0, 1, ())
    assert np.array(bare.rings.reach_m).shape == (1, 2, 72)
