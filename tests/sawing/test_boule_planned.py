"""The faces of a plan's pieces as they lay upon each other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pytest
from tests.papers.conftest import Case, half_turn_case, through_case

from waney.logs.frames import Placing
from waney.sawing.facts.boule_planned import boule_planned

INCH = 0.0254


@pytest.mark.parametrize("case", [through_case, half_turn_case])
def test_faces_that_meet_in_one_cut_are_alike_also_where_the_log_was_turned_over(case: Callable[[], Case]) -> None:
    plan = case().plan
    wide = boule_planned(plan)
    assert len(wide) == len(plan.pieces)
    assert max(abs(above[1] - below[0]) for above, below in pairwise(wide)) < 0.6 * INCH  # the kerf, 1/8 in, on a slope
    assert max(abs(upper - under) for upper, under in wide) > 2.5 * INCH, "which faces of one piece are not"


def test_pieces_that_stand_square_to_each_other_are_no_boule() -> None:
    plan = through_case().plan
    first, *others = plan.pieces
    assert first.piece.to_log is not None
    square = Placing(((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0)), first.piece.to_log.shift)
    turned = replace(first, piece=replace(first.piece, to_log=square))
    assert boule_planned(replace(plan, pieces=(turned, *others))) == ()
    unknown = replace(first, piece=replace(first.piece, to_log=None))
    assert boule_planned(replace(plan, pieces=(unknown, *others))) == ()
