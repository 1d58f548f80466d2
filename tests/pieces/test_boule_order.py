"""A jumbled boule is put in order by widths and outlines: against every order tried, and on logs that are known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, permutations, product
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.boule_order import A_TAPE_M, A_TRACE_M, MOST, BouleOrder, NoOrder, boule_order
from waney.pieces.boule_rows import EXACT, best_rows, length, same_order
from waney.pieces.faces_met import TwoFaces

from .drawn_boules import (
    KNOTTY,
    SMOOTH,
    Kind,
    Sawn,
    Told,
    by_outlines,
    by_widths,
    drawn_log,
    jumbled,
    sawn,
    traced,
)

WIDTHS = st.lists(st.tuples(st.floats(0.05, 0.6), st.floats(0.05, 0.6)), min_size=2, max_size=5)


def chord(radius: float, height: float) -> float:
    return 2 * sqrt(max(radius**2 - height**2, 0.0))


def sawn_round(kerf: float, thickness: float, radii: tuple[float, ...], drop: float) -> list[TwoFaces]:
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
    pieces = sawn_round(kerf=0.0024, thickness=0.0508, radii=(0.26, 0.245, 0.235), drop=0.02)
    draw = np.random.default_rng(seed)
    jumbled = [
        TwoFaces(p.name, p.second_m, p.first_m) if draw.random() < 0.5 else p
        for p in (pieces[i] for i in draw.permutation(len(pieces)))
    ]
    found = [place.name for place in boule_order(jumbled, 0.003).places]
    assert found in ([p.name for p in pieces], [p.name for p in pieces][::-1])


def test_faces_that_met_differ_by_no_more_than_the_kerf_explains() -> None:
    pieces = sawn_round(kerf=0.0024, thickness=0.0508, radii=(0.26, 0.245, 0.235), drop=0.02)
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


# outlines


def same(found: BouleOrder, pieces: Sequence[Sawn]) -> bool:
    """Whether a row is the order that was sawn, from either end."""
    names, order = [place.name for place in found.places], [piece.name for piece in pieces]
    return names in (order, order[::-1])


def a_boule(seed: int, kind: Kind = KNOTTY, most: int = 7, thickness: float = 0.028) -> list[Sawn]:
    return sawn(drawn_log(np.random.default_rng(seed), kind), thickness, 0.0024, most)


@pytest.fixture(scope="module")
def heaps() -> list[list[Sawn]]:
    return [a_boule(seed) for seed in range(10)]


@pytest.fixture(scope="module")
def smooth() -> list[list[Sawn]]:
    return [a_boule(seed, SMOOTH) for seed in range(5)]


def found_by(told: Told, heaps: list[list[Sawn]], same_m: float) -> list[tuple[BouleOrder, bool]]:
    rows = [boule_order(jumbled(np.random.default_rng((n, 7)), heap, told), same_m) for n, heap in enumerate(heaps)]
    return [(row, same(row, heap)) for row, heap in zip(rows, heaps, strict=True)]


def test_outlines_of_both_faces_bring_knotty_logs_back_in_order_where_one_width_does_not(heaps: list[list[Sawn]]) -> None:
    by_width, by_edges = (
        sum(right for _, right in found_by(told, heaps, same_m))
        for told, same_m in ((by_widths(1), A_TAPE_M), (by_outlines(both=True), A_TRACE_M))
    )
    assert by_edges >= len(heaps) - 1 and by_width <= by_edges - 3


@pytest.mark.parametrize(("told", "same_m", "some"), [(by_widths(1), A_TAPE_M, False), (by_outlines(both=True), A_TRACE_M, True)])
def test_an_order_that_is_called_sure_is_right(
    heaps: list[list[Sawn]], smooth: list[list[Sawn]], told: Told, same_m: float, some: bool
) -> None:
    rows = found_by(told, [*heaps[:5], *smooth], same_m)
    assert all(right for row, right in rows if row.sure)
    assert any(row.sure for row, _ in rows) == some and not all(row.sure for row, _ in rows)


@pytest.mark.parametrize("seed", range(2))
def test_how_pieces_lay_on_the_bench_when_they_were_traced_changes_nothing(seed: int) -> None:
    """Without noise: pushed, turned over and end for end, their faces fit as they fitted in the log."""
    heap, sums = a_boule(seed, most=5), []
    for turned, end in product((False, True), repeat=2):
        row = boule_order([on_the_bench(one, turned and n % 2 == 1, end and n % 2 == 0) for n, one in enumerate(heap)], A_TRACE_M)
        assert same(row, heap)
        told = {one.name: n for n, one in enumerate(heap)}
        lying = {(one.turned != (turned and told[one.name] % 2 == 1), one.end_for_end != (end and told[one.name] % 2 == 0))
                 for one in row.places}  # fmt: skip
        assert len(lying) == 1, "each is turned back to how it lay"
        sums.append(row.sum_m)
    assert sums == pytest.approx([sums[0]] * 4, rel=0.05)


def on_the_bench(one: Sawn, turned: bool, end_for_end: bool) -> TwoFaces:
    faces = (one.lower, one.upper) if turned else (one.upper, one.lower)
    first, second = (traced(np.random.default_rng(5), one, face, turned, end_for_end, noise=0.0) for face in faces)
    return TwoFaces(one.name, (), (), first, second)


def test_a_piece_whose_ends_were_trimmed_still_finds_its_place() -> None:
    heap = a_boule(3, most=6)
    cut = [replace(one, along_m=one.along_m[8:], upper=one.upper[:, 8:], lower=one.lower[:, 8:]) if one.name == "P3" else one
           for one in heap]  # fmt: skip
    assert same(boule_order(jumbled(np.random.default_rng(1), cut, by_outlines(both=True)), A_TRACE_M), heap)


@pytest.mark.parametrize("seed", range(6))
def test_the_best_row_and_the_best_of_another_order_are_those_that_trying_all_finds(seed: int) -> None:
    draw, sides, count = np.random.default_rng(seed), 2 if seed % 2 else 4, 4 if seed % 2 else 3
    cost = draw.uniform(-1.0, 1.0, (sides * count,) * 2)
    ways = [tuple(piece * sides + side for piece, side in zip(order, lying, strict=True))
            for order in permutations(range(count)) for lying in product(range(sides), repeat=count)]  # fmt: skip
    best, second = best_rows(cost, sides)
    least = min(ways, key=lambda way: length(cost, way))
    assert length(cost, best) == pytest.approx(length(cost, least))
    other = min((way for way in ways if not same_order(way, best, sides)), key=lambda way: length(cost, way))
    assert second is not None and length(cost, second) == pytest.approx(length(cost, other))


def test_more_pieces_than_can_be_weighed_up_for_certain_come_back_too_and_that_is_said() -> None:
    heap = a_boule(2, most=EXACT + 2, thickness=0.02)
    assert len(heap) > EXACT
    row = boule_order(jumbled(np.random.default_rng(0), heap, by_outlines(both=True)), A_TRACE_M)
    assert same(row, heap) and not row.exact and len(row.second) == len(heap)


def test_a_single_traced_face_is_refused_unless_the_widths_of_both_are_taped() -> None:
    heap = a_boule(0, most=4)
    with pytest.raises(NoOrder, match="one face does not show"):
        boule_order(jumbled(np.random.default_rng(0), heap, by_outlines(both=False)), A_TRACE_M)
    mixed = [
        *jumbled(np.random.default_rng(0), heap[:2], by_outlines(False, 3)),
        *jumbled(np.random.default_rng(1), heap[2:], by_widths(3)),
    ]
    assert len(boule_order(mixed, A_TAPE_M).places) == 4
