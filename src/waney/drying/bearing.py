"""Bearing: what a pile weighs on the ground and on each bearer, and what may be laid on top.

NotAsked       a heavy weight on top, before anybody looked at bearers and ground
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from waney.drying.pile_parts import Base, Laid, NoPile, Pile
from waney.figures.estimate import Basis, Estimate, Ground
from waney.figures.problem import Problem
from waney.units.length import FOOT_NM, from_nanometres
from waney.units.mass import POUND

HEAVY_KG_M2 = POUND.in_si(30) / from_nanometres(FOOT_NM) ** 2
"""From here on bearers and ground are asked about first [kg/m2]: 30 lb/ft2 begins to help (common practice, no source)."""
SUMMED = Basis(Ground.DEFAULT, "", "sum of the pieces; the high end is when all are heavy at once")


class NotAsked(Problem):
    """A heavy weight on top without a word on bearers and ground."""


@dataclass(frozen=True)
class Bears:
    """What somebody said after looking: what one bearer bears [kg], and the ground under the bearers [kg/m2]."""

    bearer_kg: float
    ground_kg_m2: float

    def __post_init__(self) -> None:
        if min(self.bearer_kg, self.ground_kg_m2) <= 0.0:
            raise NoPile("A bearer and the ground bear more than nothing: say how much.")


@dataclass(frozen=True)
class PileWeight:
    """total_kg; by_bearer_kg: from the left; under_bearer_kg_m2: on the ground below the bearer with most; floor_kg_m2: over
    the whole place that the pile takes; top_kg: of that, what lies on top."""

    total_kg: Estimate
    by_bearer_kg: tuple[Estimate, ...]
    under_bearer_kg_m2: Estimate
    floor_kg_m2: Estimate
    top_kg: float


def pile_weight(pile: Pile, top_kg_m2: float = 0.0, bears: Bears | None = None) -> PileWeight:
    """Weight of a pile with `top_kg_m2` spread over the wood of its top layer.

    A piece hangs on its stickers by the length nearest to each; stickers stand in line, so their bearer takes it all.
    Raises NoPile for a pile without wood, NotAsked for HEAVY_KG_M2 and more on top when `bears` is None.
    """
    if not pile.layers:
        raise NoPile("Nothing lies in this pile.")
    if top_kg_m2 < 0.0:
        raise NoPile("Weight on top cannot be below zero.")
    if top_kg_m2 >= HEAVY_KG_M2 * (1.0 - 1e-9) and bears is None:
        raise NotAsked(
            f"{top_kg_m2:.0f} kg/m2 on top is heavy: first look at the bearers and the ground, and say what they bear."
        )
    loads = [_Shares(one, pile.base) for layer in pile.layers for one in layer.laid]
    top = [_Shares(one, pile.base) for one in pile.layers[-1].laid]
    area = [one.laid.piece.length_m * one.laid.piece.width_m * top_kg_m2 for one in top]

    def at(bearer: int, end: str) -> float:
        wood = sum(float(getattr(one.laid.piece.mass_kg, end)) * one.of(bearer) for one in loads)
        return wood + sum(kg * one.of(bearer) for one, kg in zip(top, area, strict=True))

    by = tuple(_estimate([at(i, end) for end in ("likely", "low", "high")]) for i in range(len(pile.base.bearers_m)))
    wide = max(one.side_m for layer in pile.layers for one in layer.laid)
    total = _estimate([sum(getattr(one, end) for one in by) for end in ("likely", "low", "high")])
    most = max(by, key=lambda one: one.high)
    return PileWeight(total, by, _over(most, pile.base.bearer_m * wide), _over(total, pile.base.length_m * wide), sum(area))


class _Shares:
    """How a piece's weight divides over its stickers: each takes the length that is nearest to it."""

    def __init__(self, laid: Laid, base: Base) -> None:
        self.laid = laid
        at = [base.bearers_m[i] for i in laid.on]
        ends = [laid.x_m, *(0.5 * (a + b) for a, b in itertools.pairwise(at)), laid.end_m]
        self.shares = {i: (b - a) / laid.piece.length_m for i, a, b in zip(laid.on, ends, ends[1:], strict=False)}

    def of(self, bearer: int) -> float:
        return self.shares.get(bearer, 0.0)


def _estimate(points: Sequence[float]) -> Estimate:
    likely, low, high = points
    return Estimate(likely, low, high, SUMMED, hard_min=0.0)


def _over(load: Estimate, area_m2: float) -> Estimate:
    return _estimate([load.likely / area_m2, load.low / area_m2, load.high / area_m2])
