"""Shares: one sum of money parted by weights so that the parts add up to it, to the cent.

Largest remainder: everybody gets the whole cents of the exact share; the cents that are left go one each to the largest broken
parts, by name among equals. Weights are counted as exact fractions, so neither their order nor how they add up matters.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import floor, isfinite

from waney.figures.problem import Problem


class BadShares(Problem):
    """Nothing can be parted by these weights."""


def shares(total_cents: int, weights: Mapping[str, float]) -> dict[str, int]:
    """Cents by name, in the order of `weights`: they sum to `total_cents`, each within one cent of its exact share.

    total_cents may be below zero (money that came back). Raises BadShares for a weight below zero or none above it.
    >>> shares(100, {"c": 1.0, "a": 1.0, "b": 1.0})
    {'c': 33, 'a': 34, 'b': 33}
    """
    whole = to_the_cent({name: abs(total_cents) * part for name, part in parts_of(weights).items()})
    return whole if total_cents >= 0 else {name: -cents for name, cents in whole.items()}


def parts_of(weights: Mapping[str, float]) -> dict[str, Fraction]:
    """Each one's exact part of the whole, together 1. Raises BadShares."""
    for name, weight in weights.items():
        if not isfinite(weight) or weight < 0:
            raise BadShares(f"{name} would share by {weight:g}; a share goes by zero or more.")
    counted = {name: Fraction(weight) for name, weight in weights.items()}
    whole = sum(counted.values(), Fraction(0))
    if whole == 0:
        raise BadShares("Nobody is there to share by; give at least one a weight above zero.")
    return {name: weight / whole for name, weight in counted.items()}


def to_the_cent(exact: Mapping[str, Fraction]) -> dict[str, int]:
    """Broken cents made whole, keeping their sum, which is a whole number of cents; each moves by less than one cent."""
    left = sum(exact.values(), Fraction(0))
    assert left.denominator == 1, "what is parted is whole cents"
    whole = {name: floor(share) for name, share in exact.items()}
    left -= sum(whole.values())
    for name in sorted(exact, key=lambda name: (whole[name] - exact[name], name))[: int(left)]:
        whole[name] += 1
    return whole
