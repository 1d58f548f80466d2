"""Doubts of the model: every one with its source; a draw at the likely figures is the likely piece."""

from __future__ import annotations

import pytest

from waney.drying.doubts import doubts, drawn
from waney.drying.wood_piece import piece_of
from waney.figures.scenarios import likely
from waney.wood.species import species

WALNUT = species("walnut_black")


def test_every_doubt_has_its_source() -> None:
    assert all(estimate.basis.key for estimate in doubts(WALNUT).values())


def test_the_likely_draw_is_the_likely_piece() -> None:
    one, other = drawn(likely(doubts(WALNUT)), 0.0286, 15.0), piece_of(WALNUT, 0.0286)
    assert (one.mean, one.factor) == (pytest.approx(other.mean), pytest.approx(other.factor, rel=0.02))  # gravity to a hundredth
    assert one.law.diffusion == pytest.approx(other.law.diffusion, rel=0.05)
