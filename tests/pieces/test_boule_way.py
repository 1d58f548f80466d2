"""Which end of a row came off first, by a plan: against every way to leave pieces of the plan out."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.pieces.boule_order import A_TAPE_M, boule_order
from waney.pieces.boule_way import MOST_GONE, TOLD_M, Wide, first_off, least_off
from waney.pieces.faces_met import TwoFaces

WIDE = st.tuples(st.floats(0.05, 0.6), st.floats(0.05, 0.6))


def turned(row: list[Wide]) -> list[Wide]:
    return [wide[::-1] for wide in reversed(row)]


@given(st.lists(WIDE, min_size=1, max_size=4), st.lists(WIDE, min_size=4, max_size=6))
@settings(max_examples=60, deadline=None)
def test_no_way_to_leave_pieces_out_is_nearer(row: list[Wide], planned: list[Wide]) -> None:
    ways = (zip(row, some, strict=True) for some in combinations(planned, len(row)))
    least = min(sum(abs(a - b) for pair in way for a, b in zip(*pair, strict=True)) for way in ways)
    assert least_off(row, planned) == pytest.approx(least, abs=1e-12)


@given(st.lists(WIDE, min_size=2, max_size=6), st.lists(WIDE, min_size=2, max_size=8))
@settings(max_examples=60, deadline=None)
def test_a_row_turned_round_is_told_the_other_way(row: list[Wide], planned: list[Wide]) -> None:
    one, other = first_off(row, planned), first_off(turned(row), planned)
    assert (one is None) == (other is None) and (one is None or one is not other)


@given(st.lists(WIDE, min_size=2, max_size=6))
@settings(max_examples=60, deadline=None)
def test_the_plans_own_pieces_came_off_in_its_order_or_nothing_is_told(planned: list[Wide]) -> None:
    assert first_off(planned, planned) in (True, None)
    assert first_off([*planned, *planned[::-1]], planned) is None, "more pieces than the plan has"
    assert first_off(planned, planned + planned[:1] * (MOST_GONE + 1)) is None, "too many gone"


def test_a_plan_that_is_alike_from_both_ends_tells_nothing() -> None:
    alike = [(0.2, 0.3), (0.3, 0.3), (0.3, 0.2)]
    assert first_off(alike, alike) is None
    nearly = [(0.2 + 2.9 * TOLD_M, 0.3), *alike[1:]]
    assert first_off(nearly, nearly) is None
    assert first_off([(0.2 + 3.1 * TOLD_M, 0.3), *alike[1:]], [(0.2 + 3.1 * TOLD_M, 0.3), *alike[1:]]) is True


def test_a_row_from_its_other_end_is_the_same_row() -> None:
    pieces = [TwoFaces("A", (0.3,), (0.4,)), TwoFaces("B", (0.5,), (0.41,)), TwoFaces("C", (0.52,), (0.5,))]
    found = boule_order(pieces, A_TAPE_M)
    other = found.turned_round()
    assert [one.name for one in other.places] == [one.name for one in reversed(found.places)]
    assert [one.apart_m for one in other.places[1:]] == [one.apart_m for one in reversed(found.places[1:])]
    assert other.places[0].apart_m is None and other.turned_round() == found
    wide = [one.wide_m for one in found.places]
    assert wide == [(0.3, 0.4), (0.41, 0.5), (0.5, 0.52)] or wide == [(0.52, 0.5), (0.5, 0.41), (0.4, 0.3)]
