"""Sections: the log's polygons at even stations along the bed, in the saw frame.

A section at w joins the m points where the shape's longitudinal lines cross that plane (docs/design/sawing.md).
"""

from __future__ import annotations

import numpy as np

from waney.figures.compiled import compiled
from waney.sawing.kernel.records import Array, Sections

QUARTER_SPACING_M = 0.3
"""Wished length of four gaps between stations; about 1 ft, so that feet fall on stations of whole-foot logs. In fours, so that
the middle and the quarters are stations."""


@compiled
def cut_sections(wood: Array, bark: Array, turn: Array, shift: Array) -> Sections:
    """Sections of outlines (n, m, 3) moved by turn and shift."""
    lying = _moved(wood, turn, shift)
    lying_bark = _moved(bark, turn, shift)
    w0, w1 = lying[0, :, 2].max(), lying[-1, :, 2].min()
    count = 4 * max(1, round((w1 - w0) / QUARTER_SPACING_M)) + 1
    w = w0 + (w1 - w0) * np.arange(count) / (count - 1)
    wood_u, wood_v = _cut(lying, w)
    bark_u, bark_v = _cut(lying_bark, w)
    return Sections(w, wood_u, wood_v, bark_u, bark_v)


@compiled
def _moved(points: Array, turn: Array, shift: Array) -> Array:
    n, m, _ = points.shape
    moved = np.empty((n, m, 3))
    for i in range(n):
        for j in range(m):
            for c in range(3):
                moved[i, j, c] = (
                    turn[c, 0] * points[i, j, 0] + turn[c, 1] * points[i, j, 1] + turn[c, 2] * points[i, j, 2] + shift[c]
                )
    return moved


@compiled
def _cut(lying: Array, w: Array) -> tuple[Array, Array]:
    n, m, _ = lying.shape
    count = len(w)
    u = np.empty((count, m))
    v = np.empty((count, m))
    for j in range(m):
        i = 0
        for s in range(count):
            while i < n - 2 and lying[i + 1, j, 2] < w[s]:
                i += 1
            t = (w[s] - lying[i, j, 2]) / (lying[i + 1, j, 2] - lying[i, j, 2])
            t = min(max(t, 0.0), 1.0)
            u[s, j] = (1.0 - t) * lying[i, j, 0] + t * lying[i + 1, j, 0]
            v[s, j] = (1.0 - t) * lying[i, j, 1] + t * lying[i + 1, j, 1]
    return u, v
