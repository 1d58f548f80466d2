"""Taps drawn to the printed marks nearby: the point where the two black quarters meet, to a fraction of a pixel.

Every edge of a chequer runs through its middle, so the middle is the point that all gradients about it stand square to: least
squares after Förstner (1987, memory), repeated about the new point.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from waney.pieces.photo.fit import FEWEST, FREE_LEVEL_M, Seen, TappedTarget, fitted, placed, seen_by
from waney.pieces.photo.target import MARK_RADIUS_M, marks_m

Array = NDArray[np.float64]

ROUNDS = 12
SETTLED_PX = 0.01
LEAST_WINDOW_PX = 4
BELIEVED = 2.5
"""Marks that were drawn to and stray further from a flat target than this, in their own errors, are looked through (ours)."""
ENOUGH = 6
DRAWN_ERROR_PX = 0.4
"""Standard error of a mark that was drawn to: blur and print, ours, no source."""


def drawn_targets(grey: Array, size_px: tuple[int, int], targets: Sequence[TappedTarget]) -> tuple[TappedTarget, ...]:
    """The targets with their taps drawn to the printed marks; one with too few marks that can be seen stays as it was tapped.

    The camera that fits all taps says first where each mark must be and how large it looks. Raises BadTaps.
    """
    seen = seen_by(size_px, targets)
    drawn = [_drawn(grey, seen, which, target) for which, target in enumerate(targets)]
    return _believed(size_px, targets, drawn)


def _believed(size_px: tuple[int, int], tapped: Sequence[TappedTarget], drawn: list[TappedTarget]) -> tuple[TappedTarget, ...]:
    """Marks that were drawn to, as long as they fit together: the one that is farthest off is left out, and a target with too few
    left goes back to what was tapped. So glare, a shadow or a crease beside a mark spoils no photo."""
    drawn_to = {which for which, target in enumerate(drawn) if target is not tapped[which]}
    while drawn_to:
        seen = fitted(size_px, drawn, FREE_LEVEL_M)
        if seen.strays <= BELIEVED:
            break
        which, mark, _ = max(_strays(seen, drawn, drawn_to), key=lambda one: one[2])
        left = {number: at for number, at in drawn[which].taps_px.items() if number != mark}
        if len(left) >= ENOUGH:
            drawn[which] = replace(drawn[which], taps_px=left)
        else:
            drawn[which] = tapped[which]
            drawn_to.discard(which)
    return tuple(drawn)


def _strays(seen: Seen, targets: Sequence[TappedTarget], drawn_to: Collection[int]) -> Iterator[tuple[int, int, float]]:
    """Target, number and how far off, of each mark that was drawn to."""
    far, at = np.hypot(*seen.off.reshape(-1, 2).T), 0
    for which, target in enumerate(targets):
        for number in target.taps_px:
            if which in drawn_to:
                yield which, number, float(far[at])
            at += 1


def _drawn(grey: Array, seen: Seen, which: int, target: TappedTarget) -> TappedTarget:
    """All twelve marks are looked for, those that nobody tapped too."""
    places = placed(seen.unknowns, which, target.scale * marks_m())
    expected, aside = (seen.camera.seen(places + np.array([right, 0.0, 0.0])) for right in (0.0, MARK_RADIUS_M))
    found = {
        number: at
        for number, (start, beside) in enumerate(zip(expected, aside, strict=True), 1)
        if (at := drawn_to_mark(grey, (float(start[0]), float(start[1])), float(np.hypot(*(beside - start))))) is not None
    }
    return TappedTarget(found, DRAWN_ERROR_PX, target.scale) if len(found) >= FEWEST else target


def drawn_to_mark(grey: Array, tap_px: tuple[float, float], radius_px: float) -> tuple[float, float] | None:
    """The middle of the mark near a tap, or None where none is seen.

    grey: picture (rows, columns), any scale; a pixel's middle lies at its whole number. radius_px: how large the mark looks.
    """
    window = max(LEAST_WINDOW_PX, round(0.6 * radius_px))
    at = np.array(tap_px, dtype=np.float64)
    for _ in range(ROUNDS):
        step = _step(grey, at, window)
        if step is None:
            return None
        at = at + step
        if np.hypot(*(at - tap_px)) > 0.5 * radius_px:
            return None
        if np.hypot(*step) < SETTLED_PX:
            return float(at[0]), float(at[1])
    return None


def _step(grey: Array, at: Array, window: int) -> Array | None:
    column, row = np.rint(at).astype(int)
    top, left = row - window - 1, column - window - 1
    cut = grey[max(top, 0) : row + window + 2, max(left, 0) : column + window + 2].astype(np.float64)
    if cut.shape != (2 * window + 3, 2 * window + 3):
        return None
    down, right = (cut[2:, 1:-1] - cut[:-2, 1:-1]) / 2.0, (cut[1:-1, 2:] - cut[1:-1, :-2]) / 2.0
    v, u = np.mgrid[-window : window + 1, -window : window + 1].astype(np.float64)
    u, v = u + (column - at[0]), v + (row - at[1])
    weight = np.exp(-(u**2 + v**2) / (0.5 * window**2))
    a, b, c = (float(np.sum(weight * one * other)) for one, other in ((right, right), (right, down), (down, down)))
    p = float(np.sum(weight * (right * right * u + right * down * v)))
    q = float(np.sum(weight * (right * down * u + down * down * v)))
    whole = a * c - b * b
    if whole <= 1e-3 * (a + c) ** 2:  # edges of one direction only: a line, not a chequer
        return None
    step: Array = np.array([c * p - b * q, a * q - b * p]) / whole
    return step
