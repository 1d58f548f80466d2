"""A sum of money parted by weights."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from waney.trade.shares import BadShares, shares

NAMES = st.text("ABCDE12", min_size=1, max_size=4)
WEIGHTS = st.dictionaries(NAMES, st.floats(0.0, 1e9), min_size=1, max_size=12).filter(lambda w: any(w.values()))
CENTS = st.integers(-(10**12), 10**12)


@settings(max_examples=60, deadline=None)
@given(total=CENTS, weights=WEIGHTS)
def test_shares_sum_to_the_cent_and_each_is_within_one_cent_of_exact(total: int, weights: dict[str, float]) -> None:
    parts = shares(total, weights)
    whole = sum(map(Fraction, weights.values()))
    assert sum(parts.values()) == total
    assert all(abs(parts[name] - total * Fraction(weight) / whole) < 1 for name, weight in weights.items())


@settings(max_examples=40, deadline=None)
@given(total=CENTS, weights=WEIGHTS, order=st.randoms(use_true_random=False))
def test_the_order_of_those_who_share_does_not_matter(total: int, weights: dict[str, float], order: Random) -> None:
    names = list(weights)
    order.shuffle(names)
    assert shares(total, {name: weights[name] for name in names}) == shares(total, weights)


def test_cents_left_over_go_by_the_broken_part_then_by_name() -> None:
    assert shares(10, {"c": 4.0, "b": 1.0, "a": 1.0}) == {"a": 2, "b": 2, "c": 6}  # exact 1.67, 1.67, 6.67: two cents left
    assert shares(10, {"a": 1.0, "b": 3.0}) == {"a": 3, "b": 7}  # exact 2.5 and 7.5: by name
    assert shares(-10, {"a": 1.0, "b": 3.0}) == {"a": -3, "b": -7}
    assert shares(8, {"a": 3.0, "b": 7.0}) == {"a": 2, "b": 6}  # exact 2.4 and 5.6


@pytest.mark.parametrize("weights", [{}, {"a": 0.0}, {"a": -1.0, "b": 2.0}, {"a": float("nan")}, {"a": float("inf")}])
def test_what_cannot_be_shared_by_is_a_sentence(weights: dict[str, float]) -> None:
    with pytest.raises(BadShares, match=r"\.$"):
        shares(100, weights)
