"""The judge of drawn photos, whose table stands in docs/methods/pieces.md: by hand, and on three scenes."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.scripts import load

from waney.figures.estimate import Basis, Estimate, Ground

PHOTOS = load(Path(__file__).parents[2] / "benchmarks" / "photos.py")
NONE = Basis(Ground.DEFAULT, "")


def test_four_answers_are_judged_as_by_hand() -> None:
    """Off by 0, 0.8, 2 and -3 %: two within one, mean of squares 3.41, three held; half ranges 1, 2, 2 and 3 %."""
    told = [(1.0, 0.99, 1.01, False), (1.008, 0.98784, 1.02816, False), (1.02, 0.9996, 1.0404, True), (0.97, 0.9312, 0.99, False)]
    some = [PHOTOS.Answer(Estimate(likely, low, high, NONE), 1.0, lay) for likely, low, high, lay in told]
    found = PHOTOS.judged(some)
    assert (found.close, found.held, found.lay) == (0.5, 0.75, 0.25)
    assert found.error == pytest.approx(3.41**0.5 / 100) and found.half == pytest.approx(0.02)
    assert found.cells == ("50 %", "1.8 %", "75 %", "2.0 %", "25 %")


def test_on_three_scenes_marks_that_were_found_beat_taps_and_a_tape_shows_targets_off_the_face() -> None:
    cases = (PHOTOS.CASES[number] for number in (0, 2, 4, 5, 6))
    plain, tapped, one, blind, taped = (
        PHOTOS.judged(PHOTOS.answered(case, seed) for seed in range(3000, 3003)) for case in cases
    )
    assert plain.held == 1.0 and plain.half < tapped.half and plain.error < 0.01
    assert one.half > 3 * plain.half and one.close < 1.0, "one target alone is not good to 1 %, however sharp its marks"
    assert blind.held == 0.0 < taped.held and taped.error < blind.error / 2 and taped.lay > blind.lay


def test_the_page_has_a_line_for_each_case() -> None:
    page = PHOTOS.PAGE.read_text(encoding="utf-8")
    assert all(f"\n| {case.words} | " in page for case in PHOTOS.CASES)
    assert "One of two targets propped by 10, 20, 40, 80 mm" in page
