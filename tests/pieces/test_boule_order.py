"""A jumbled boule is put in order by the widths of its faces: against every order tried, and on logs that are known."""

from __future__ import annotations

from itertools import pairwise, permutations, product
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.boule_order import MOST, NoOrder, TwoFaces, boule_order

WIDTHS = st.lists(st.tuples(st.floats(0.05, 0.6), st.floats(0.05, 0.6)), min_size=2, max_size=5)


def chord(radius: float, height: float) -> float:
    return 2 * sqrt(max(radius**2 - height**2, 0.0))


def sawn(kerf: float, thickness: float, radii: tuple[float, ...], drop: float) -> list[TwoFaces]:
    """A round log, its butt larger than its top, its pith `drop` off the middle at the top, sawn through and through."""
    top = min(radii) - drop
    cuts = np.arange(top - 0.01, -top + thickness, -(thickness + kerf))
    lifts = np.linspace(0.0, drop, len(radii))

    def face(height: float) -> tuple[float, ...]:
        return tuple(chord(radius, height - lift) for radius, lift in zip(radii, lifts, strict=True))

    return [TwoFaces(f"P{n}", face(h), face(h - thickness)) for n, h in enumerate(cuts, 1)]


@given(WIDTHS, st.integers(1, 3))
@settings(max_examples=60, deadline=None)
def test_no_order_and_no_way_to_lie_is_better(faces: list[tuple[float, float]], places: int) -> None:
    pieces = [TwoFaces(f"P{n}", (a,) * places, (b,) * places) for n, (a, b) in enumerate(faces)]
    ways = [[faces[i][::-1] if turned else faces[i] for i, turned in zip(order, sides, strict=True)]
            for order in permutations(range(len(faces))) for sides in product((False, True), repeat=len(faces))]  # fmt: skip
    least = min(sum(abs(one[1] - next_[0]) for one, next_ in pairwise(way)) for way in ways)
    assert boule_order(pieces, 0.0).sum_m == pytest.approx(least, abs=1e-12)


@pytest.mark.parametrize("seed", range(8))
def test_a_tapered_log_with_its_heart_off_the_middle_comes_back_in_order(seed: int) -> None:
    pieces = sawn(kerf=0.0024, thickness=0.0508, radii=(0.26, 0.245, 0.235), drop=0.02)
    draw = np.random.default_rng(seed)
    jumbled = [
        TwoFaces(p.name, p.second_m, p.first_m) if draw.random() < 0.5 else p
        for p in (pieces[i] for i in draw.permutation(len(pieces)))
    ]
    found = [place.name for place in boule_order(jumbled, 0.003).places]
    assert found in ([p.name for p in pieces], [p.name for p in pieces][::-1])


def test_faces_that_met_differ_by_no_more_than_the_kerf_explains() -> None:
    pieces = sawn(kerf=0.0024, thickness=0.0508, radii=(0.26, 0.245, 0.235), drop=0.02)
    order = boule_order(pieces, 0.003)
    # a chord's half changes by height / half per unit of height; at the outermost cut of this log that is under 2.6
    assert max(place.apart_m for place in order.places if place.apart_m is not None) < 2 * 2.6 * 0.0024


def test_pieces_from_above_and_below_the_heart_of_a_straight_log_cannot_be_told_apart() -> None:
    above = [TwoFaces(f"U{n}", (chord(0.25, h + 0.05),), (chord(0.25, h),)) for n, h in enumerate((0.15, 0.10, 0.05), 1)]
    below = [TwoFaces(f"L{n}", (chord(0.25, h),), (chord(0.25, h + 0.05),)) for n, h in enumerate((0.05, 0.10, 0.15), 1)]
    heart = [TwoFaces("H", (chord(0.25, 0.05),), (chord(0.25, 0.05),))]
    alike = {frozenset(pair) for pair in boule_order([*above, *heart, *below], 0.003).alike}
    assert {frozenset((f"U{n}", f"L{4 - n}")) for n in (1, 2, 3)} <= alike


def test_what_cannot_be_put_in_order_is_said() -> None:
    one = TwoFaces("P1", (0.2,), (0.3,))
    with pytest.raises(NoOrder, match="Two to"):
        boule_order([one], 0.003)
    with pytest.raises(NoOrder, match="Two to"):
        boule_order([one] * (MOST + 1), 0.003)
    with pytest.raises(NoOrder, match="same places"):
        boule_order([one, TwoFaces("P2", (0.2, 0.2), (0.3, 0.3))], 0.003)
