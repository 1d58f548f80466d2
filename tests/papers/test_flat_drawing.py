"""The drawing of flattening: what comes off is hatched, and nothing else is."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np

from waney.papers.flat_drawing import flat_drawing
from waney.papers.ink import HATCH, SCREEN
from waney.papers.words import INCHES
from waney.pieces.flattening import Heights, flattened

X, Y = np.array([0.0, 0.5, 1.0, 1.5]), np.array([0.0, 0.2, 0.4])


def strokes(upper: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> int:
    heights = Heights(X, Y, np.zeros((4, 3)), upper)
    drawn = ElementTree.fromstring(flat_drawing(heights, flattened(heights), SCREEN, INCHES).drawing)
    return sum(1 for node in drawn.iter() if node.get("stroke-width") == f"{HATCH.width:g}" and "L" in (node.get("d") or ""))


def test_a_piece_that_is_flat_has_nothing_hatched() -> None:
    flat = np.full((4, 3), 0.05)
    bowed = flat + 0.01 * ((X - 0.75) ** 2)[:, None]
    ruled = strokes(flat)  # the two dimension lines
    assert ruled == 2 and strokes(bowed) > ruled + 10


def test_points_without_wood_are_left_out_of_the_sections() -> None:
    upper = np.full((4, 3), 0.05)
    upper[0, 1] = np.nan
    heights = Heights(X, Y, np.zeros((4, 3)), upper)
    assert "nan" not in flat_drawing(heights, flattened(heights), SCREEN, INCHES).drawing
