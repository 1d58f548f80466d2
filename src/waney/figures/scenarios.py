"""Scenarios: one fixed column of draws for every named doubt, so that the same doubt is the same draw everywhere."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import inf
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from waney.figures.estimate import Basis, Estimate

Array = NDArray[np.float64]


@cache
def _deviates(n: int) -> tuple[float, ...]:
    normal = NormalDist()
    return tuple(normal.inv_cdf((i + 0.5) / n) for i in range(n))


@dataclass(frozen=True)
class Scenarios:
    """n equally likely states of the world; each name has its own column, whatever else is asked."""

    seed: int
    n: int = 256

    def column(self, name: str) -> Array:
        """Standard normal draws of one name, shape (n,): midpoints of n equal strata in an order of their own.

        The order comes from sha256(seed, name): it never depends on the machine or on what was asked before.
        """
        digest = hashlib.sha256(f"{self.seed}\x1f{name}".encode()).digest()
        order = np.random.Generator(np.random.PCG64(int.from_bytes(digest[:16], "big"))).permutation(self.n)
        return np.array(_deviates(self.n))[order]

    def values(self, name: str, estimate: Estimate) -> Array:
        """The estimate in every scenario, shape (n,), in its own unit."""
        return np.array([estimate.at(z) for z in self.column(name)])

    def draws(self, doubts: Mapping[str, Estimate]) -> tuple[Mapping[str, float], ...]:
        """One mapping name -> value for each scenario, n of them."""
        columns = {name: self.values(name, estimate) for name, estimate in doubts.items()}
        return tuple({name: float(column[i]) for name, column in columns.items()} for i in range(self.n))


def likely(doubts: Mapping[str, Estimate]) -> Mapping[str, float]:
    """The likely case: every name at its likely value."""
    return {name: estimate.likely for name, estimate in doubts.items()}


def summed_up(results: Array | Sequence[float], likely_value: float, basis: Basis, hard_min: float = -inf) -> Estimate:
    """5, 50 and 95 % of a model run over all scenarios, shape (n,); `likely_value` is kept where it lies between.

    The likely value is the model at the likely inputs, so that a page and its range never contradict each other.
    """
    low, high = (float(np.quantile(results, q)) for q in (0.05, 0.95))
    return Estimate(likely_value, min(low, likely_value), max(high, likely_value), basis, hard_min)
