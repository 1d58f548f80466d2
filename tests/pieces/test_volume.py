"""Volume of slices of a cylinder against the circle segment, and of part of a piece."""

from __future__ import annotations

from collections.abc import Callable
from math import acos, sqrt

import pytest

from waney.pieces.piece import Piece
from waney.pieces.volume import volume_m3
from waney.pieces.windows import Window

Maker = Callable[..., Piece]


def under(h: float, r: float) -> float:
    """Area of a circle of radius r that lies below the height h over its middle."""
    return r * r * (acos(-h / r)) + h * sqrt(r * r - h * h)


@pytest.mark.parametrize("height", [0.0, 0.1, 0.2])
def test_a_slice_of_a_cylinder_has_the_area_between_two_chords(round_log_slice: Maker, height: float) -> None:
    """The prismoidal rule is exact to the third power of the height; the circle's rest is 0.017 % in the outermost slice."""
    exact = under(height + 0.02, 0.25) - under(height - 0.02, 0.25)
    assert volume_m3(round_log_slice(height, 0.04)) / 2.4 == pytest.approx(exact, rel=2e-4)


def test_parts_of_a_piece_sum_to_the_whole(round_log_slice: Maker) -> None:
    piece = round_log_slice(0.1, 0.04, top_radius=0.2)
    parts = volume_m3(piece, Window(0, 13)) + volume_m3(piece, Window(13, 32))
    assert parts == pytest.approx(volume_m3(piece))


def test_planes_without_wood_count_nothing(round_log_slice: Maker) -> None:
    """An outside slab whose upper face is above the wood: lower face and mid-plane remain."""
    piece = round_log_slice(0.24, 0.03)
    lower, middle = 2 * sqrt(0.25**2 - 0.225**2), 2 * sqrt(0.25**2 - 0.24**2)
    assert volume_m3(piece) == pytest.approx(0.03 * (lower + 4 * middle) / 6 * 2.4)
