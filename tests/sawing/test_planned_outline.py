"""The outline of a piece before it is sawn: in the likely case the plan's own edges, and a range that doubt alone makes."""

from __future__ import annotations

import numpy as np
import pytest

from waney.figures.scenarios import Scenarios
from waney.pieces.outline import BadEdge
from waney.pieces.piece import FACE_A, FACE_B
from waney.sawing.bench import Bench
from waney.sawing.facts.planned_outline import Heights, OutlinePlanned, planned_outline
from waney.sawing.plan import Plan
from waney.sawing.search import plan_cant, plan_half_turn
from waney.sawing.sheets.from_sheets import ready

from .drawn_logs import drawn
from .quick_plan import quickly_planned
from .test_outcome import Search, bench_of

FEW = Scenarios(seed=1, n=24)


def outlined(told: Heights | None = None) -> OutlinePlanned:
    """The first piece off the demo log, over its doubts."""
    plan, sheets = quickly_planned()
    at_hand = ready(sheets)
    return planned_outline(plan, plan.pieces[0], at_hand.bench, at_hand.measured.shapes(FEW), told)


def agree(plan: Plan, bench: Bench) -> None:
    """The plan's pieces come out of the tables of the search, these out of chords cut anew in the lie that its moves give."""
    assert plan.pieces
    for planned in plan.pieces:
        found, piece = planned_outline(plan, planned, bench, [bench.log.shape]), planned.piece
        for face, plane in ((found.under, FACE_B), (found.upper, FACE_A)):
            low, high = piece.low_y_m[plane], piece.high_y_m[plane]
            wood = ~np.isnan(low)
            if wood.sum() < 2:
                assert face is None
                continue
            assert face is not None and face.along_m == pytest.approx(piece.along_m[wood] - piece.along_m[0])
            assert np.allclose(face.high_m - face.low_m, (high - low)[wood], rtol=0.0, atol=2e-9)
            assert np.ptp(face.low_m - low[wood]) < 2e-9, "the line lies along the piece"
            assert face.area_m2.width < 1e-9, "one log, no doubt"


@pytest.mark.parametrize("search", [plan_half_turn, plan_cant])
def test_the_likely_edges_are_those_of_the_plan_to_the_nanometre_in_every_lie(search: Search) -> None:
    bench = bench_of(drawn(3))
    agree(search(bench), bench)


def test_so_are_those_of_a_log_sawn_through_and_through() -> None:
    plan, sheets = quickly_planned()
    agree(plan, ready(sheets).bench)


def test_the_range_holds_the_likely_outline() -> None:
    found = outlined().upper
    assert found is not None
    area, at = found.area_m2, float(found.along_m.mean())
    assert area.low < area.likely < area.high and found.outline.area_m2 == pytest.approx(area.likely)
    across = found.width_at(at)
    assert across.low < across.likely < across.high and across.likely == pytest.approx(sum(found.edges_at(at)))


def test_heights_told_at_the_mill_move_the_faces_towards_the_wider_wood() -> None:
    plan, sheets = quickly_planned()
    mill = ready(sheets).bench.mill
    own = Heights.of(plan.pieces[0], mill.step_m, mill.kerf_m)
    lower, as_planned = outlined(Heights(own.under_m - 0.01, own.upper_m - 0.01)), outlined()
    assert lower.upper is not None and as_planned.upper is not None and as_planned.under is not None
    assert lower.upper.area_m2.likely > as_planned.upper.area_m2.likely, "the first piece off lies above the middle of the log"
    assert as_planned.under.area_m2.likely > as_planned.upper.area_m2.likely
    assert as_planned.thickness_m == pytest.approx(plan.pieces[0].piece.thickness_m)


def test_places_to_read_rise_and_hold_both_ends_of_both_faces() -> None:
    found = outlined()
    places = found.places(0.3)
    assert list(places) == sorted(places) and found.upper is not None and found.under is not None
    assert {found.upper.along_m[0], found.upper.along_m[-1], found.under.along_m[-1]} <= set(places)
    assert max(np.diff(places)) <= 0.36


def test_a_piece_that_would_lie_in_the_air_is_refused() -> None:
    with pytest.raises(BadEdge, match="no wood inside the bark"):
        outlined(Heights(2.0, 2.05))
